package server

import (
	"context"
	"net/http"
	gosync "sync"
	"time"
)

// patience is how long Close lets requests that are being answered go on before it cuts their connections.
const patience = 5 * time.Second

// working counts the requests that are being answered, so that the book is not closed under one of them. The zero value
// is ready.
type working struct {
	mu    gosync.Mutex
	ended bool
	all   gosync.WaitGroup
	n     int
}

// count lets a handler run while the store is open, and refuses it once it is closing.
func (w *working) count(next http.Handler) http.Handler {
	return http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		if !w.begin() {
			http.Error(rw, "The home store is being stopped. Start it again.", http.StatusServiceUnavailable)
			return
		}
		defer w.done()
		next.ServeHTTP(rw, r)
	})
}

func (w *working) begin() bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.ended {
		return false
	}
	w.n++
	w.all.Add(1)
	return true
}

func (w *working) done() {
	w.mu.Lock()
	w.n--
	w.mu.Unlock()
	w.all.Done()
}

// close refuses what comes from now on and waits for what is being answered; what takes longer than patience loses its
// connection and so its context, and is waited for as well.
func (w *working) close(s *http.Server) error {
	w.mu.Lock()
	w.ended = true
	w.mu.Unlock()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	var err error
	if s.Shutdown(ctx) != nil {
		err = s.Close()
	}
	w.all.Wait()
	return err
}
