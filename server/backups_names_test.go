package server

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/server/backup"
)

func backedUp(t *testing.T, to string, now *time.Time) *Server {
	t.Helper()
	s, err := Open(Options{Dir: filepath.Join(t.TempDir(), "book"), Addr: "127.0.0.1:0", Now: func() time.Time { return *now },
		Backups: Backups{To: to, Every: 24 * time.Hour, Keep: 2}})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// Names later than now, of no backup, without a mark and of another book are never removed nor taken for this book's last
// one, and none of them has a backup made again and again; also in a folder whose name reads as a pattern.
func TestBackupsAmongOtherFiles(t *testing.T) {
	now := time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC)
	to := filepath.Join(t.TempDir(), "kept [old]")
	s, other := backedUp(t, to, &now), backedUp(t, to, &now)
	mark := s.backups.mark
	if err := os.Mkdir(to, 0o700); err != nil {
		t.Fatal(err)
	}
	foreign := []string{"stillroom-" + mark + "-2031-01-01-080000-000.backup", "stillroom-before-move.backup", "stillroom-2026-11-20-080000-000.backup"}
	for _, name := range foreign {
		if err := os.WriteFile(filepath.Join(to, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for day := range 4 {
		for _, b := range []*backups{s.backups, other.backups} {
			if !b.due() {
				t.Fatalf("day %d: not due", day)
			}
			if _, err := b.make(context.Background(), to, false); err != nil {
				t.Fatal(err)
			}
			if now = now.Add(time.Minute); b.due() {
				t.Fatalf("day %d: due again at once", day)
			}
		}
		now = now.Add(24 * time.Hour)
	}
	for _, name := range foreign {
		if _, err := os.Stat(filepath.Join(to, name)); err != nil {
			t.Error(err)
		}
	}
	for _, b := range []*backups{s.backups, other.backups} {
		if made, _, err := backup.Of(to, b.mark, now); err != nil || len(made) != 3 || made[0].Added { // two, and the full one on which they stand
			t.Errorf("kept of one book: %v, %v", made, err)
		}
	}
	if says := s.backups.state(); !says.Warn || !strings.Contains(says.Says, "dated later than now") {
		t.Errorf("%+v", says)
	}
	if says := other.backups.state(); says.Warn {
		t.Errorf("the other book: %+v", says)
	}
}

// A backup into another folder says nothing of those by the clock.
func TestBackupElsewhereIsNotTheDailyOne(t *testing.T) {
	now, dir := time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC), t.TempDir()
	b := backedUp(t, filepath.Join(dir, "kept"), &now).backups
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := b.make(context.Background(), file, false); err == nil {
		t.Fatal("written into a file")
	}
	if _, err := b.make(context.Background(), filepath.Join(dir, "elsewhere"), false); err != nil {
		t.Fatal(err)
	}
	if b.went != (went{}) || !b.due() {
		t.Errorf("%+v", b.went)
	}
}

// A photo that is not as it was taken is told, and the entries are backed up.
func TestUnreadablePhotoDoesNotStopABackup(t *testing.T) {
	now, to := time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC), filepath.Join(t.TempDir(), "kept")
	s := backedUp(t, to, &now)
	bad := filepath.Join(s.o.Dir, "photos", "cd", strings.Repeat("cd", 32))
	if err := os.MkdirAll(filepath.Dir(bad), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(bad, []byte("altered"), 0o600); err != nil {
		t.Fatal(err)
	}
	info, err := s.backups.make(context.Background(), to, false)
	if err != nil || info.Photos.NotCopied != 1 {
		t.Fatalf("%+v, %v", info, err)
	}
	if _, err := os.Stat(info.Path); err != nil {
		t.Error(err)
	}
	if says := s.backups.state(); !says.Warn || !strings.Contains(says.Says, "1 photo could not be copied") {
		t.Errorf("%+v", says)
	}
}

// A store that is stopped as it starts makes no backup of a book that is closed.
func TestCloseBeforeRun(t *testing.T) {
	now, to := time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC), filepath.Join(t.TempDir(), "kept")
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if err := backedUp(t, to, &now).Run(ctx); err != nil {
		t.Error(err)
	}
	s := backedUp(t, to+" late", &now)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s.backups.run()
	s.backups.close()
	if _, err := os.Stat(to + " late"); err == nil {
		t.Error("a backup was begun after the end")
	}
}

// Small backups whose full one was taken away do not count: it is said that there is none, and a full one is made.
func TestSmallBackupsWithoutTheirFullOneDoNotCount(t *testing.T) {
	now, to := time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC), filepath.Join(t.TempDir(), "kept")
	b := backedUp(t, to, &now).backups
	var first string
	for day := range 2 {
		info, err := b.make(context.Background(), to, false)
		if err != nil || (info.Base == "") != (day == 0) {
			t.Fatalf("%+v, %v", info, err)
		}
		if day == 0 {
			first = info.Path
		}
		now = now.Add(2 * time.Hour)
	}
	if says := b.state(); says.Warn || b.due() {
		t.Errorf("%+v", says)
	}
	if err := os.Remove(first); err != nil {
		t.Fatal(err)
	}
	if says := b.state(); !says.Warn || !strings.Contains(says.Says, "can be restored") || !b.due() {
		t.Errorf("%+v", says)
	}
	if info, err := b.make(context.Background(), to, false); err != nil || info.Base != "" {
		t.Errorf("%+v, %v", info, err)
	}
	if says := b.state(); says.Warn {
		t.Errorf("%+v", says)
	}
}
