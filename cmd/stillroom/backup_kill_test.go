package main

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/backup"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

// F16, F24: the real program is killed at random moments while it makes a backup, and while it makes a book of one. What has a
// name is whole each time, and what was left goes at the next.
func TestKilledWhileBackingUpAndRestoring(t *testing.T) {
	rounds := 5
	if *long {
		rounds = 60
	}
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	device, written := sync.DeviceID{7}, uint64(0)
	writeOn := func(n uint64) {
		t.Helper()
		f, err := folder.Open(in("book"), folder.Options{Now: time.Now})
		if err != nil {
			t.Fatal(err)
		}
		for range n / 100 {
			var entries [][]byte
			for range 100 {
				written++
				entries = append(entries, sync.Entry{Seq: written, Kind: book.KindBatchNoted, V: 1, At: 1, Body: make([]byte, 60)}.Append(nil))
			}
			if _, err := f.Store.Append(t.Context(), book.Workshop, device, written-100, entries, store.Meta{}); err != nil {
				t.Fatal(err)
			}
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
	writeOn(5000)
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 1))
	took := map[string]time.Duration{}
	// killed runs a command, to its end the first time and then until a moment of the time that this took.
	killed := func(args ...string) {
		t.Helper()
		self, err := os.Executable()
		if err != nil {
			t.Fatal(err)
		}
		c := exec.Command(self, args...)
		c.Env = append(os.Environ(), asProgram+"=1")
		began := time.Now()
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		all := took[args[0]]
		if all > 0 {
			defer time.AfterFunc(time.Duration(random.Int64N(int64(all))), func() { c.Process.Kill() }).Stop()
		}
		if err := c.Wait(); all == 0 {
			if took[args[0]] = time.Since(began); err != nil {
				t.Fatalf("%s: %v", args, err)
			}
		}
	}
	for round := range rounds {
		killed("backup", "-book", in("book"), "-to", in("kept"))
		all, err := backup.List(in("kept"))
		if err != nil || len(all) == 0 {
			t.Fatal(all, err)
		}
		for _, k := range all {
			if _, err := backup.Verify(k.Path); err != nil {
				t.Errorf("round %d: %v", round, err)
			}
		}
		killed("restore", "-from", all[len(all)-1].Path, "-book", in("again"))
		if _, err := os.Stat(in("again")); !errors.Is(err, fs.ErrNotExist) {
			if out, code := asked(t, "verify", "-book", in("again")); code != exitOK {
				t.Errorf("round %d: %s", round, out)
			}
			if err := os.RemoveAll(in("again")); err != nil {
				t.Fatal(err)
			}
		}
		writeOn(100)
	}
	if out, code := asked(t, "backup", "-book", in("book"), "-to", in("kept")); code != exitOK {
		t.Fatal(out)
	}
	all, _ := backup.List(in("kept"))
	if out, code := asked(t, "restore", "-from", all[len(all)-1].Path, "-book", in("again")); code != exitOK {
		t.Fatal(out)
	}
	for _, pattern := range []string{"kept/.*", ".*"} {
		if left, err := filepath.Glob(in(pattern)); err != nil || len(left) > 0 {
			t.Errorf("left are %v, %v", left, err)
		}
	}
}
