package e2e

import (
	"bufio"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"stillroom/pwa/e2e/webdriver"
)

// homeStore is the real program, serving a book in a folder of the test's own. Its address stays the same over stops and
// starts, since the address is where a phone's data lives.
type homeStore struct {
	t    *testing.T
	book string
	addr string
	demo bool

	cmd  *exec.Cmd
	done chan struct{}

	mu   sync.Mutex
	said []string
}

// startStore serves a new book, with the demo workshop in it or empty. It is stopped when the test ends.
func startStore(t *testing.T, demo bool) *homeStore {
	t.Helper()
	port, err := webdriver.FreePort()
	must(t, err)
	s := &homeStore{t: t, book: filepath.Join(t.TempDir(), "book"), addr: fmt.Sprintf("127.0.0.1:%d", port), demo: demo}
	s.Start()
	t.Cleanup(func() {
		s.Stop()
		if t.Failed() {
			t.Logf("the home store said:\n%s", strings.Join(s.Said(), "\n"))
		}
	})
	return s
}

// URL of a path at the store.
func (s *homeStore) URL(path string) string { return "http://" + s.addr + path }

// program is what `go run ./cmd/build` made.
func program() string { return filepath.Join(root, ".build", "stillroom") }

// Start runs the program and waits until it says where it is and answers there.
func (s *homeStore) Start() {
	s.t.Helper()
	if _, err := os.Stat(program()); err != nil {
		s.t.Skip("SKIPPED ALOUD: there is no .build/stillroom; run go run ./cmd/build first")
	}
	args := []string{"serve", "-book", s.book, "-addr", s.addr}
	if s.demo {
		args = append(args, "-demo")
	}
	s.cmd, s.done = exec.Command(program(), args...), make(chan struct{})
	out, err := s.cmd.StdoutPipe()
	must(s.t, err)
	s.cmd.Stderr = s.cmd.Stdout
	must(s.t, s.cmd.Start())
	ready := make(chan struct{}, 1)
	go func(cmd *exec.Cmd, done chan struct{}) {
		for lines := bufio.NewScanner(out); lines.Scan(); {
			s.mu.Lock()
			s.said = append(s.said, lines.Text())
			s.mu.Unlock()
			if strings.HasPrefix(lines.Text(), "Stillroom is at ") {
				ready <- struct{}{}
			}
		}
		_ = cmd.Wait() // it is ended by a signal, on purpose
		close(done)
	}(s.cmd, s.done)
	select {
	case <-ready:
	case <-s.done:
		s.t.Fatalf("the home store ended at once:\n%s", strings.Join(s.Said(), "\n"))
	case <-time.After(20 * time.Second):
		s.t.Fatalf("the home store was not ready within 20 s:\n%s", strings.Join(s.Said(), "\n"))
	}
	res, err := http.Get(s.URL("/api/health"))
	must(s.t, err)
	must(s.t, res.Body.Close())
	if res.StatusCode != http.StatusOK {
		s.t.Fatalf("the home store says it is there and answers %s", res.Status)
	}
}

// Stop asks the program to end, as Ctrl-C does, and waits.
func (s *homeStore) Stop() { s.end(syscall.SIGTERM) }

// Kill ends it at once.
func (s *homeStore) Kill() { s.end(syscall.SIGKILL) }

func (s *homeStore) end(signal syscall.Signal) {
	s.t.Helper()
	select {
	case <-s.done:
		return
	default:
	}
	if err := s.cmd.Process.Signal(signal); err != nil {
		s.t.Log("ending the home store:", err)
	}
	select {
	case <-s.done:
	case <-time.After(15 * time.Second):
		_ = s.cmd.Process.Kill()
		s.t.Errorf("the home store did not end within 15 s of %v", signal)
	}
}

// Said is what the program printed.
func (s *homeStore) Said() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.said...)
}

// Export is the whole book as the program tells it, a line of JSON for each entry. The store must be stopped.
func (s *homeStore) Export() []string {
	s.t.Helper()
	out, err := exec.Command(program(), "export", "-book", s.book, "-demo").Output()
	must(s.t, err)
	return strings.Split(strings.TrimSpace(string(out)), "\n")
}
