package server

import (
	"encoding/hex"
	"encoding/json"
	"net/http"
)

// health is GET /api/health: that the store runs, its epoch, and how far each stream reaches.
func (s *Server) health(w http.ResponseWriter, _ *http.Request) {
	type stream struct {
		Name string `json:"name"`
		Seq  uint64 `json:"seq"`
	}
	epoch := s.folder.Store.Epoch()
	answer := struct {
		OK      bool     `json:"ok"`
		Epoch   string   `json:"epoch"`
		Streams []stream `json:"streams"`
		Devices int      `json:"devices"`
	}{OK: true, Epoch: hex.EncodeToString(epoch[:]), Streams: []stream{}, Devices: len(s.folder.Devices.All())}
	for _, name := range s.folder.Store.Streams() {
		answer.Streams = append(answer.Streams, stream{name, s.folder.Store.Head(name).Seq})
	}
	writeJSON(w, http.StatusOK, answer)
}

func writeJSON(w http.ResponseWriter, status int, answer any) {
	data, err := json.Marshal(answer)
	if err != nil {
		http.Error(w, "The answer could not be written.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	w.Write(append(data, '\n'))
}
