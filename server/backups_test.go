package server

import (
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/server/backup"
)

// Backups by the clock: the newest n are kept, a person is told when one fails, when there is none and when the last is
// old, and what failed is tried again within the hour.
func TestBackupsByTheClock(t *testing.T) {
	dir, now := t.TempDir(), time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC)
	to := filepath.Join(dir, "kept")
	s, err := Open(Options{Dir: filepath.Join(dir, "book"), Addr: "127.0.0.1:0", Demo: true, Now: func() time.Time { return now },
		Backups: Backups{To: to, Every: 24 * time.Hour, Keep: 3}})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	b := s.backups
	says := func(want string, warn bool) {
		t.Helper()
		if got := b.state(); !strings.Contains(got.Says, want) || got.Warn != warn {
			t.Errorf("%+v, want %q, %v", got, want, warn)
		}
	}
	says("No backup was made yet", true)
	for day := range 5 {
		if !b.due() {
			t.Fatalf("day %d: not due", day)
		}
		if _, err := b.make(context.Background(), to); err != nil {
			t.Fatal(err)
		}
		if b.due() {
			t.Fatalf("day %d: due again at once", day)
		}
		says("The newest 3 are kept", false)
		now = now.Add(24 * time.Hour)
	}
	if all, err := backup.List(to); err != nil || len(all) != 3 || !strings.Contains(all[0].Path, "2026-11-29") {
		t.Errorf("kept: %v, %v", all, err)
	}
	now = now.Add(48 * time.Hour)
	says("3 days old", true)
	// A disk that is gone: the older ones stay, and it is tried again within the hour.
	if err := os.Rename(to, to+" away"); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, []byte("not a folder"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := b.make(context.Background(), to); err == nil {
		t.Fatal("written into a file")
	}
	says("failed", true)
	if b.due() {
		t.Error("tried again at once")
	}
	if now = now.Add(time.Hour); !b.due() {
		t.Error("not tried again")
	}
}

func TestWhoMayAskForABackup(t *testing.T) {
	dir := t.TempDir()
	s, err := Open(Options{Dir: filepath.Join(dir, "book"), Addr: "127.0.0.1:0"})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	_, owner, err := s.folder.Devices.Add("owner")
	if err != nil {
		t.Fatal(err)
	}
	_, stall, err := s.folder.Devices.Add("stall")
	if err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(dir, "kept")
	for name, test := range map[string]struct {
		token, body string
		want        int
	}{
		"nobody":                       {"", "{}", http.StatusForbidden},
		"who reads the book's folder":  {s.running.Secret, `{"to":"` + to + `"}`, http.StatusCreated},
		"the same, to no fixed place":  {s.running.Secret, `{"to":"kept"}`, http.StatusForbidden},
		"an owner's phone, to a place": {owner, `{"to":"` + to + `"}`, http.StatusForbidden},
		"an owner's phone, none set":   {owner, "{}", http.StatusForbidden},
		"a stall's phone":              {stall, "{}", http.StatusForbidden},
	} {
		r := httptest.NewRequest("POST", s.URL()+"api/backup", strings.NewReader(test.body))
		r.Header.Set("Authorization", "Bearer "+test.token)
		w := httptest.NewRecorder()
		s.http.Handler.ServeHTTP(w, r)
		if w.Code != test.want {
			t.Errorf("%s: %d %s", name, w.Code, w.Body)
		}
	}
	if all, err := backup.List(to); err != nil || len(all) != 1 {
		t.Errorf("backups: %v, %v", all, err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := FindRunning(filepath.Join(dir, "book")); err == nil {
		t.Error("a store that is closed says that it runs")
	}
}
