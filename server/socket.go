package server

import (
	"net/http"

	"github.com/gorilla/websocket"

	"stillroom/sync"
)

// socket is GET /ws: one device's connection, in binary messages as sync/PROTOCOL.md says. A page from elsewhere is
// refused by its Origin; the device proves itself in its hello.
func (s *Server) socket(w http.ResponseWriter, r *http.Request) {
	up := websocket.Upgrader{
		CheckOrigin:     sameOrigin,
		ReadBufferSize:  16 << 10,
		WriteBufferSize: 16 << 10,
		// Entries are short and alike; but what is worth packing is packed by the phone, and a store of its own is near.
		EnableCompression: false,
	}
	ws, err := up.Upgrade(w, r, nil)
	if err != nil {
		return // Upgrade has answered
	}
	ws.SetReadLimit(sync.MaxMessageBytes)
	c := newConn(s, ws)
	if !s.hub.add(c) {
		ws.Close()
		return
	}
	defer s.hub.remove(c)
	c.run()
}
