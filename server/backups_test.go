package server

import (
	"context"
	"errors"
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
		if _, err := b.make(context.Background(), to, false); err != nil {
			t.Fatal(err)
		}
		if b.due() {
			t.Fatalf("day %d: due again at once", day)
		}
		says("The newest 3 are kept. They lie on the same disk as the book", false)
		now = now.Add(24 * time.Hour)
	}
	// The full one of the first day stays, since the three newest stand on it.
	if all, err := backup.List(to); err != nil || len(all) != 4 || all[0].Added || !strings.Contains(all[1].Path, "2026-11-29") {
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
	if _, err := b.make(context.Background(), to, false); err == nil {
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

// A folder whose disk is unplugged is not made anew on another disk: a mount point that is gone or empty. A person is told, the
// backup is made as soon as the disk is back, and a folder that somebody emptied is begun anew when a person names it.
func TestBackupsWaitForTheirDisk(t *testing.T) {
	for name, unplug := range map[string]func(to string) error{
		"the folder is gone":  func(to string) error { return os.Rename(to, to+" away") },
		"the folder is empty": func(to string) error { return errors.Join(os.Rename(to, to+" away"), os.Mkdir(to, 0o700)) },
	} {
		t.Run(name, func(t *testing.T) {
			dir, now := t.TempDir(), time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC)
			to := filepath.Join(dir, "kept")
			open := func() (*Server, *backups) {
				s, err := Open(Options{Dir: filepath.Join(dir, "book"), Addr: "127.0.0.1:0", Now: func() time.Time { return now }, Backups: Backups{To: to}})
				if err != nil {
					t.Fatal(err)
				}
				t.Cleanup(func() { s.Close() })
				return s, s.backups
			}
			s, b := open()
			if _, err := b.make(t.Context(), to, false); err != nil {
				t.Fatal(err)
			}
			if err := unplug(to); err != nil {
				t.Fatal(err)
			}
			now = now.Add(time.Hour)
			if got := b.state(); b.due() || got.Warn || !strings.Contains(got.Says, "plug its disk in") {
				t.Errorf("before the next is due: %v, %+v", b.due(), got)
			}
			if now = now.Add(23 * time.Hour); !b.due() {
				t.Fatal("not due after a day")
			}
			if _, err := b.make(t.Context(), to, false); err == nil {
				t.Fatal("made where its disk is not")
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			s, b = open()
			if got := b.state(); b.due() || !got.Warn || !strings.Contains(got.Says, "not plugged in") || !strings.Contains(got.Says, "The last one is of 27 November 2026") {
				t.Errorf("while it is away: %v, %+v", b.due(), got)
			}
			if there, err := os.ReadDir(to); len(there) > 0 {
				t.Errorf("something was written all the same: %v, %v", there, err)
			}
			if err := errors.Join(os.RemoveAll(to), os.Rename(to+" away", to)); err != nil {
				t.Fatal(err)
			}
			if now = now.Add(time.Minute); !b.due() {
				t.Error("not due when it is back")
			}
			if info, err := b.make(t.Context(), to, false); err != nil || info.Base == "" {
				t.Errorf("%+v, %v", info, err)
			}
			if got := b.state(); b.due() || got.Warn {
				t.Errorf("after that: %v, %+v", b.due(), got)
			}
			if err := os.RemoveAll(to); err != nil {
				t.Fatal(err)
			}
			r := httptest.NewRequest("POST", s.URL()+"api/backup", strings.NewReader(`{"to":"`+to+`"}`))
			r.Header.Set("Authorization", "Bearer "+s.running.Secret)
			w := httptest.NewRecorder()
			if s.http.Handler.ServeHTTP(w, r); w.Code != http.StatusCreated || b.due() {
				t.Errorf("named by a person: %d %s", w.Code, w.Body)
			}
		})
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

// What went wrong with the last backup is still said after the home store was started again, also on its page of health, and
// no longer when the next one went well or goes elsewhere.
func TestAFailedBackupIsSaidAfterARestart(t *testing.T) {
	dir, now := t.TempDir(), time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC)
	book, to := filepath.Join(dir, "book"), filepath.Join(dir, "kept")
	open := func(to string) *Server {
		t.Helper()
		s, err := Open(Options{Dir: book, Addr: "127.0.0.1:0", Now: func() time.Time { return now }, Backups: Backups{To: to}})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { s.Close() })
		return s
	}
	says := func(s *Server, want string, warn bool) {
		t.Helper()
		if got := s.backups.state(); got.Warn != warn || !strings.Contains(got.Says, want) {
			t.Errorf("%+v, want %q, %v", got, want, warn)
		}
		for _, path := range []string{"api/health", "health"} {
			w := httptest.NewRecorder()
			s.http.Handler.ServeHTTP(w, httptest.NewRequest("GET", s.URL()+path, nil))
			if !strings.Contains(w.Body.String(), want) {
				t.Errorf("%s does not say %q: %s", path, want, w.Body)
			}
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	s := open(to)
	if _, err := s.backups.make(t.Context(), to, false); err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(book, "photos", "cd", strings.Repeat("cd", 32))
	if err := errors.Join(os.MkdirAll(filepath.Dir(bad), 0o700), os.WriteFile(bad, []byte("altered"), 0o600)); err != nil {
		t.Fatal(err)
	}
	if _, err := s.backups.make(t.Context(), to, false); err != nil {
		t.Fatal(err)
	}
	says(s, "1 photo could not be copied", true)
	s = open(to)
	if err := os.Rename(to, to+" away"); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if s.backups.make(t.Context(), to, false); s.backups.due() {
		t.Error("due at once")
	}
	says(s, "The backup of "+now.Local().Format("2 January, 15:04")+" failed", true)
	if s = open(to); s.backups.due() {
		t.Error("due at once after a restart")
	}
	says(s, "failed", true)
	says(open(to+" elsewhere"), "No backup was made yet", true)
	if err := errors.Join(os.Remove(to), os.Remove(bad), os.Rename(to+" away", to)); err != nil {
		t.Fatal(err)
	}
	s = open(to)
	if _, err := s.backups.make(t.Context(), to, false); err != nil {
		t.Fatal(err)
	}
	says(s, "The newest 14 are kept", false)
	says(open(to), "The newest 14 are kept", false)
}
