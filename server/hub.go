package server

import (
	gosync "sync"

	"stillroom/sync"
)

// hub holds the connections that are open.
type hub struct {
	s     *Server
	mu    gosync.Mutex
	ended bool
	conns map[*conn]struct{}
	all   gosync.WaitGroup
}

func newHub(s *Server) *hub { return &hub{s: s, conns: map[*conn]struct{}{}} }

// add takes in a connection; false when the store is closing.
func (h *hub) add(c *conn) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.ended {
		return false
	}
	h.conns[c] = struct{}{}
	h.all.Add(1)
	return true
}

func (h *hub) remove(c *conn) {
	h.mu.Lock()
	delete(h.conns, c)
	h.mu.Unlock()
	h.all.Done()
}

// drop ends the connections of a device that was revoked.
func (h *hub) drop(d sync.DeviceID) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for c := range h.conns {
		if c.is(d) {
			c.leave(revoked)
		}
	}
}

// close ends every connection and waits until what they were writing is written or refused.
func (h *hub) close() {
	h.mu.Lock()
	h.ended = true
	for c := range h.conns {
		c.leave(reason{sync.CodeClosing, "The home store is being stopped.", "Go on working; it goes on by itself when the home store runs again."})
	}
	h.mu.Unlock()
	h.all.Wait()
}
