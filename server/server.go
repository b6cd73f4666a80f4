package server

import (
	"context"
	"errors"
	"net"
	"net/http"
	"os"
	"path/filepath"
	gosync "sync"
	"time"

	"stillroom/server/folder"
)

// Server is a home store that is open. A test starts one in its own process.
type Server struct {
	o       Options
	folder  *folder.Folder
	shelf   *shelf
	hub     *hub
	backups *backups
	running Running
	handing handing
	listen  net.Listener
	http    *http.Server
	// working guards the book from being closed under a request.
	working working

	closing gosync.Once
	closed  error
}

// Open opens the book and the address; nothing is served before Run. Errors carry a Hint: *NotHere, *InUse and those of
// folder.Open. A damaged book opens for reading; Trouble says what is wrong.
func Open(o Options) (*Server, error) {
	o = o.filled()
	if err := loopback(o.Addr); err != nil {
		return nil, err
	}
	f, err := folder.Open(o.Dir, folder.Options{Now: o.Now, Rand: o.Rand, Check: o.Check, Ballast: o.Ballast})
	if err != nil {
		return nil, err
	}
	s := &Server{o: o, folder: f, shelf: newShelf(f.Store)}
	if err := s.begin(); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	s.hub = newHub(s)
	if err := s.begun(); err != nil {
		return nil, errors.Join(err, s.listen.Close(), f.Close())
	}
	s.http = &http.Server{Handler: s.working.count(s.routes()), ReadHeaderTimeout: 10 * time.Second}
	return s, nil
}

func (s *Server) begin() error {
	if s.o.Demo && s.folder.Store.Damage() == nil {
		if err := s.writeDemo(context.Background()); err != nil {
			return err
		}
	}
	l, err := net.Listen("tcp", s.o.Addr)
	if err != nil {
		return &InUse{Addr: s.o.Addr, Err: err}
	}
	s.listen = l
	return nil
}

// URL is where a browser on this computer finds the app.
func (s *Server) URL() string { return "http://" + s.listen.Addr().String() + "/" }

// Run serves until the context ends or Close is called, then closes everything. It gives nil after a clean end.
func (s *Server) Run(ctx context.Context) error {
	stop := context.AfterFunc(ctx, func() { s.Close() })
	defer stop()
	s.backups.run()
	folding, done := context.WithCancel(context.Background())
	s.readBook(folding)
	err := s.http.Serve(s.listen)
	done()
	if errors.Is(err, http.ErrServerClosed) {
		err = nil
	}
	return errors.Join(err, s.Close())
}

// readBook folds the book for cards and labels beside everything else: phones need not wait for it, and whoever asks for
// a card meanwhile waits for the rest.
func (s *Server) readBook(ctx context.Context) {
	if !s.working.begin() {
		return
	}
	go func() {
		defer s.working.done()
		if err := s.shelf.catchUp(ctx); err != nil && ctx.Err() == nil {
			s.o.Log.Error("the book cannot be read", "error", err)
		}
	}()
}

// Close ends every connection, waits for what was being written and answered, and closes the book. A second Close waits
// for the first and gives the same.
func (s *Server) Close() error {
	s.closing.Do(func() {
		s.hub.close()
		s.backups.close()
		os.Remove(filepath.Join(s.o.Dir, runningFile))
		s.closed = errors.Join(s.working.close(s.http), s.folder.Close())
	})
	return s.closed
}
