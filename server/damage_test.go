package server

import (
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/server/servertest"
	"stillroom/sync"
)

// F19, F20: the journal lost its end. The store opens for reading and names it in the same words to a phone, on the health
// page and to whoever asks; phones keep what they have, and nothing new is written or printed.
func TestDamagedBookIsForReading(t *testing.T) {
	dir, old := t.TempDir(), filepath.Join(t.TempDir(), "old")
	s := start(t, Options{Dir: dir})
	a := servertest.New(t, s.URL())
	a.Connect()
	a.Write("workshop", kind, 120)
	a.UntilAcked("workshop", 120)
	a.UntilHas("workshop", 120)
	a.Cut()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	journal := filepath.Join(dir, "journal")
	if err := os.CopyFS(old, os.DirFS(journal)); err != nil {
		t.Fatal(err)
	}
	s = start(t, Options{Dir: dir})
	a.URL = s.URL()
	a.Connect()
	a.Write("workshop", kind, 80)
	a.UntilAcked("workshop", 200)
	a.Cut()
	if err := errors.Join(s.Close(), os.RemoveAll(journal), os.Rename(old, journal)); err != nil {
		t.Fatal(err)
	}
	s = start(t, Options{Dir: dir, Demo: true})
	const says = "ntries 121 to 200 of the workshop's book are missing"
	a.URL = s.URL()
	a.Write("workshop", kind, 5)
	a.Connect()
	if stop := a.UntilStopped(sync.CodeDamaged); !stop.Fatal || !strings.Contains(stop.Says, says) || !strings.Contains(stop.Says, "keeps everything") {
		t.Errorf("a phone is told %+v", stop)
	}
	if a.Own("workshop") != 205 {
		t.Errorf("the phone kept %d", a.Own("workshop"))
	}
	if answer, body := get(t, s, "/api/health"); answer.StatusCode != http.StatusOK || !strings.Contains(body, `"ok":false`) || !strings.Contains(body, says) {
		t.Errorf("health: %s %s", answer.Status, body)
	}
	if _, body := get(t, s, "/health"); !strings.Contains(body, "E"+strings.ReplaceAll(says, "'", "&#39;")) || !strings.Contains(body, "copy the whole folder") {
		t.Errorf("the health page: %s", body)
	}
	if says := strings.Join(s.Trouble(), " "); !strings.Contains(says, "120") && !strings.Contains(says, "121") {
		t.Errorf("trouble: %s", says)
	}
	answer, body := do(t, s, "POST", "/api/devices", strings.NewReader("{}"), "Content-Type", "application/json", "Origin", strings.TrimSuffix(s.URL(), "/"))
	if answer.StatusCode != http.StatusServiceUnavailable || !strings.Contains(body, says) {
		t.Errorf("a new device: %s %s", answer.Status, body)
	}
	if got := s.folder.Store.Head("workshop").Seq; got != 120 {
		t.Errorf("%d can be read", got)
	}
}

func TestHealthPageOfAWholeBook(t *testing.T) {
	s := start(t, Options{})
	if _, body := get(t, s, "/health"); !strings.Contains(body, "The home store is well") {
		t.Errorf("%s", body)
	}
	if _, body := get(t, s, "/api/health"); !strings.Contains(body, `"ok":true`) {
		t.Errorf("%s", body)
	}
}
