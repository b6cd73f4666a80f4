package backup

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

var morning = time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC)

// days writes a book on and a backup of it on as many days, and gives what each holds.
func days(t *testing.T, dir, to string, from, n int) (made []Info, heads []store.Head) {
	t.Helper()
	f, err := folder.Open(dir, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	for day := from; day < from+n; day++ {
		device := sync.DeviceID{byte(200 + day)}
		for seq := uint64(1); seq <= 3; seq++ {
			raw := sync.Entry{Seq: seq, Kind: book.KindBatchNoted, V: 1, At: int64(day), Body: []byte{byte(seq)}}.Append(nil)
			if _, err := f.Store.Append(context.Background(), book.Workshop, device, seq-1, [][]byte{raw}, store.Meta{At: 5}); err != nil {
				t.Fatal(err)
			}
		}
		if _, _, err := f.Devices.Add(book.Maker); err != nil {
			t.Fatal(err)
		}
		info, err := Write(context.Background(), f, to, Options{Now: func() time.Time { return morning.Add(time.Duration(day) * 24 * time.Hour) }})
		if err != nil {
			t.Fatal(err)
		}
		made, heads = append(made, info), append(heads, f.Store.Head(book.Workshop))
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return made, heads
}

// restoredHead makes a book of a backup and gives where it ends and how many devices it lists.
func restoredHead(t *testing.T, path string) (head store.Head, devices int, err error) {
	t.Helper()
	to := filepath.Join(t.TempDir(), "new")
	if _, err := Restore(context.Background(), path, to, folder.Options{Now: time.Now}); err != nil {
		if _, there := os.Stat(to); !errors.Is(there, fs.ErrNotExist) {
			t.Errorf("a book was made all the same: %v", there)
		}
		return head, 0, err
	}
	f, err := folder.Open(to, folder.Options{ReadOnly: true, Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	return f.Store.Head(book.Workshop), len(f.Devices.All()), nil
}

// After a full backup come small ones that hold what came since, a full one again after six of them; each gives the book
// as it was then.
func TestSmallBackupsStandOnAFullOne(t *testing.T) {
	dir := t.TempDir()
	written(t, filepath.Join(dir, "book"), []byte("a photo"))
	made, heads := days(t, filepath.Join(dir, "book"), filepath.Join(dir, "kept"), 0, 9)
	for day, info := range made {
		if full := day == 0 || day == 7; full != (info.Base == "") || full != strings.HasSuffix(info.Path, suffix) {
			t.Errorf("day %d: %s stands on %q", day, filepath.Base(info.Path), info.Base)
		}
		if day > 0 && day < 7 && (info.Added != uint64(3*day) || info.Base != filepath.Base(made[0].Path)) {
			t.Errorf("day %d: %d entries on %s", day, info.Added, info.Base)
		}
		if info.Entries() != heads[day].Seq {
			t.Errorf("day %d: %d entries of %d", day, info.Entries(), heads[day].Seq)
		}
		if head, devices, err := restoredHead(t, info.Path); err != nil || head != heads[day] || devices != day+2 {
			t.Errorf("day %d: ends at %d with %d devices, %v", day, head.Seq, devices, err)
		}
	}
}

// What a small backup stands on is proved by its sum: missing, altered or another one under its name, it is named, with the
// newest backup that can be restored instead. Under another name it is found. The next backup is then a full one.
func TestWhatABackupStandsOnIsProved(t *testing.T) {
	once := t.TempDir()
	written(t, filepath.Join(once, "book"), []byte("a photo"))
	before, heads := days(t, filepath.Join(once, "book"), filepath.Join(once, "kept"), 0, 3)
	written(t, filepath.Join(once, "other"), []byte("a photo"))
	other, _ := days(t, filepath.Join(once, "other"), filepath.Join(once, "spare"), 0, 1)
	for name, test := range map[string]struct {
		spoil func(base, other string) error
		says  string // "" when it can be restored all the same
	}{
		"it is there":        {func(base, _ string) error { return nil }, ""},
		"it is gone":         {func(base, _ string) error { return os.Remove(base) }, "is not in"},
		"it is cut off":      {func(base, _ string) error { return os.Truncate(base, 200) }, "was cut off or altered"},
		"one bit is flipped": {func(base, _ string) error { return flip(base, 300) }, "was cut off or altered"},
		"it has been renamed": {func(base, _ string) error {
			return os.Rename(base, filepath.Join(filepath.Dir(base), "the full one.backup"))
		}, ""},
		"another has its name": {func(base, other string) error { return os.Rename(other, base) }, "is another one than it was then"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			if err := os.CopyFS(dir, os.DirFS(once)); err != nil {
				t.Fatal(err)
			}
			in, kept := filepath.Join(dir, "book"), filepath.Join(dir, "kept")
			made := slices.Clone(before)
			for i := range made {
				made[i].Path = filepath.Join(kept, filepath.Base(made[i].Path))
			}
			spare := filepath.Join(kept, "a copy")
			whole, err := os.ReadFile(made[0].Path)
			if err != nil {
				t.Fatal(err)
			}
			if err := test.spoil(made[0].Path, filepath.Join(dir, "spare", filepath.Base(other[0].Path))); err != nil {
				t.Fatal(err)
			}
			head, _, err := restoredHead(t, made[2].Path)
			if test.says == "" {
				if err != nil || head != heads[2] {
					t.Errorf("%d, %v", head.Seq, err)
				}
				return
			}
			var bad *Bad
			if !errors.As(err, &bad) || !strings.Contains(bad.Error(), test.says) || !strings.Contains(bad.Error(), filepath.Base(made[0].Path)) || !strings.Contains(bad.Hint(), "no other backup") {
				t.Errorf("%v; %s", err, bad.Hint())
			}
			if err := os.WriteFile(spare, whole, 0o600); err != nil {
				t.Fatal(err)
			}
			if head, _, err := restoredHead(t, made[2].Path); err != nil || head != heads[2] {
				t.Errorf("with a copy of it: %d, %v", head.Seq, err)
			}
			if err := os.Remove(spare); err != nil {
				t.Fatal(err)
			}
			more, _ := days(t, in, kept, 3, 2)
			if more[0].Base != "" || more[1].Base != filepath.Base(more[0].Path) {
				t.Errorf("the next stand on %q and %q", more[0].Base, more[1].Base)
			}
			if _, _, err := restoredHead(t, made[2].Path); !errors.As(err, &bad) || !strings.Contains(bad.Hint(), filepath.Base(more[1].Path)) {
				t.Errorf("%v; %s", err, bad.Hint())
			}
		})
	}
}

func flip(path string, at int64) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	data[at] ^= 1
	return os.WriteFile(path, data, 0o600)
}

// The newest n are kept, and with them the full ones on which they stand; the clock's wrong names count for that as well.
func TestNoFullOneIsTakenFromUnderAKeptOne(t *testing.T) {
	dir := t.TempDir()
	in, kept := filepath.Join(dir, "book"), filepath.Join(dir, "kept")
	written(t, in, []byte("a photo"))
	made, _ := days(t, in, kept, 0, 9) // full ones are 0 and 7
	mark, _, _ := parseName(filepath.Base(made[0].Path))
	left := func() (days string) {
		for day, info := range made {
			if _, err := os.Stat(info.Path); err == nil {
				days += string(rune('0' + day))
			}
		}
		return days
	}
	for _, step := range []struct {
		keep int
		now  int
		want string
	}{{8, 9, "012345678"}, {4, 9, "05678"}, {2, 5, "05678"}, {2, 9, "78"}, {1, 9, "78"}} {
		if err := Prune(kept, mark, step.keep, morning.Add(time.Duration(step.now)*24*time.Hour)); err != nil || left() != step.want {
			t.Errorf("keep %d until day %d: left are the days %s, %v", step.keep, step.now, left(), err)
		}
	}
	// A kept one that no longer says on what it stands takes no full one away.
	made, _ = days(t, in, kept, 9, 3)
	if err := os.WriteFile(made[2].Path, []byte("nothing"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := Prune(kept, mark, 1, morning.Add(20*24*time.Hour)); err != nil || left() != "2" {
		t.Errorf("left are %s, %v", left(), err)
	}
	if all, err := List(kept); err != nil || len(all) != 2 || all[0].Added {
		t.Errorf("%v, %v", all, err)
	}
}

// A restored book is another life, and one that was copied may hold another history: what they write stands on no file of
// the first.
func TestAnotherLifeBeginsWithAFullOne(t *testing.T) {
	dir := t.TempDir()
	in, kept, again := filepath.Join(dir, "book"), filepath.Join(dir, "kept"), filepath.Join(dir, "again")
	written(t, in, []byte("a photo"))
	days(t, in, kept, 0, 1)
	if err := os.CopyFS(filepath.Join(dir, "copy"), os.DirFS(in)); err != nil {
		t.Fatal(err)
	}
	made, _ := days(t, in, kept, 1, 1)
	if _, err := Restore(context.Background(), made[0].Path, again, folder.Options{Now: time.Now}); err != nil {
		t.Fatal(err)
	}
	if more, _ := days(t, again, kept, 2, 2); more[0].Base != "" || more[1].Base != filepath.Base(more[0].Path) {
		t.Errorf("of the other life: on %q and %q", more[0].Base, more[1].Base)
	}
	full := write(t, in, filepath.Join(dir, "apart"), morning)
	if more, _ := days(t, filepath.Join(dir, "copy"), filepath.Join(dir, "apart"), 4, 1); more[0].Base != "" {
		t.Errorf("of the other history: on %q, and %s was there", more[0].Base, filepath.Base(full.Path))
	}
}
