package backup

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/server/store/durable"
)

// F17, F18: every step of writing a backup fails in its turn, of a full one and of a small one, until a run needs no more. What
// is there afterwards can be restored, nothing is half there, and the next backup is made as ever.
func TestADiskThatFailsAtAnyStepLeavesWholeBackups(t *testing.T) {
	for _, kind := range []string{"a full one", "a small one"} {
		t.Run(kind, func(t *testing.T) {
			dir := t.TempDir()
			in, kept := filepath.Join(dir, "book"), filepath.Join(dir, "kept")
			written(t, in, []byte("a photo"))
			at := morning
			again := func(f *folder.Folder, disk *durable.Disk) error {
				at = at.Add(time.Minute)
				_, err := Write(context.Background(), f, kept, Options{Now: func() time.Time { return at }, Disk: disk, Full: kind == "a full one"})
				return err
			}
			f, err := folder.Open(in, folder.Options{Now: time.Now})
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if kind == "a small one" {
				if err := again(f, nil); err != nil {
					t.Fatal(err)
				}
			}
			broken := errors.New("the disk says no")
			for n := 1; ; n++ {
				left, failed := n, ""
				err := again(f, &durable.Disk{Step: func(step, path string) error {
					if left--; left == 0 {
						failed = step
						return broken
					}
					return nil
				}})
				if failed == "" {
					if err != nil || n < 6 {
						t.Errorf("a run in which %d steps went well: %v", n-1, err)
					}
					break
				}
				// A failed copy of a photo is told beside the backup, which stands.
				if err != nil && !errors.Is(err, broken) {
					t.Errorf("step %d, %s: %v", n, failed, err)
				}
				all, err := List(kept)
				if err != nil {
					t.Fatal(err)
				}
				for _, k := range all {
					if _, err := Verify(k.Path); err != nil {
						t.Errorf("step %d, %s: %v", n, failed, err)
					}
				}
				hidden, err := filepath.Glob(filepath.Join(kept, ".*"))
				if more, _ := filepath.Glob(filepath.Join(kept, "photos-*", ".*")); err != nil || len(hidden)+len(more) > 0 {
					t.Errorf("step %d, %s: left are %v %v", n, failed, hidden, more)
				}
			}
			if err := again(f, nil); err != nil {
				t.Error(err)
			}
			all, err := List(kept)
			if err != nil || len(all) == 0 || all[len(all)-1].Added != (kind == "a small one") {
				t.Fatalf("%v, %v", all, err)
			}
			if photos, _ := restored(t, all[len(all)-1].Path); len(photos) != 1 {
				t.Errorf("%d photos", len(photos))
			}
		})
	}
}

// Why a backup does not count is said of what failed: the disk that has no room is the backups' own, and only a book that came
// out otherwise calls the backup into question.
func TestWhyABackupDoesNotCount(t *testing.T) {
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for name, test := range map[string]struct {
		ctx  context.Context
		err  error
		says string
		not  string
	}{
		"no room":            {context.Background(), &store.Full{Need: 64 << 20}, "the disk of /kept is nearly full: 0 MB are free, and 64 MB are needed", "home store"},
		"stopped":            {stopped, errors.New("closed"), "no backup was made: context canceled", "not the same"},
		"came out otherwise": {context.Background(), &differs{errors.New("it has 3 entries")}, "is not the same, so it does not count: it has 3 entries", "no backup was made"},
		"the disk's":         {context.Background(), os.ErrPermission, "no backup was made: it could not be tried out: permission denied", "not the same"},
	} {
		err := untried(test.ctx, "/kept", test.err)
		hinted, ok := err.(interface{ Hint() string })
		if !strings.Contains(err.Error(), test.says) || strings.Contains(err.Error(), test.not) || ok && strings.Contains(hinted.Hint(), "phones") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A backup in the book's own folder would be lost with it.
func TestNoBackupInTheBooksOwnFolder(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "book")
	written(t, in, []byte("a photo"))
	f, err := folder.Open(in, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for to, made := range map[string]bool{in: false, filepath.Join(in, "kept"): false, filepath.Join(in, "..", "book", "kept"): false, in + "-kept": true, filepath.Join(dir, "..kept"): true} {
		_, err := Write(context.Background(), f, to, Options{})
		if (err == nil) != made || err != nil && !strings.Contains(err.Error(), "own folder") {
			t.Errorf("%s: %v", to, err)
		}
	}
}
