package server

import (
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"stillroom/server/folder"
)

// A request that is being answered when the store is closed gets its answer, and what it wrote is in the book.
func TestCloseWaitsForWhatIsBeingAnswered(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: dir})
	body, slow := io.Pipe()
	r, err := http.NewRequest("POST", s.URL()+"api/devices", body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", strings.TrimSuffix(s.URL(), "/"))
	answered := make(chan error, 1)
	status := 0
	go func() {
		answer, err := http.DefaultTransport.RoundTrip(r)
		if err == nil {
			status = answer.StatusCode
			err = answer.Body.Close()
		}
		answered <- err
	}()
	until := func(is func() bool) {
		for ok := false; !ok; time.Sleep(time.Millisecond) {
			s.working.mu.Lock()
			ok = is()
			s.working.mu.Unlock()
		}
	}
	until(func() bool { return s.working.n == 1 })
	closed := make(chan error, 1)
	go func() { closed <- s.Close() }()
	until(func() bool { return s.working.ended })
	slow.Write([]byte("{}"))
	slow.Close()
	if err := <-answered; err != nil || status != http.StatusCreated {
		t.Errorf("answered %d, %v", status, err)
	}
	if err := <-closed; err != nil {
		t.Error(err)
	}
	f, err := folder.Open(dir, folder.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if n := len(f.Devices.All()); n != 1 {
		t.Errorf("%d devices in the book", n)
	}
}
