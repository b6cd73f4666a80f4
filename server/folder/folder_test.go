package folder

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/server/store"
	"stillroom/server/store/badger"
	"stillroom/server/store/durable"
)

func options() Options {
	return Options{Now: func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }}
}

func mustOpen(t *testing.T, dir string, o Options) *Folder {
	t.Helper()
	f, err := Open(dir, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func TestDevicesAreKept(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "book")
	f := mustOpen(t, dir, options())
	a, tokenA, err := f.Devices.Add("owner")
	if err != nil {
		t.Fatal(err)
	}
	b, tokenB, err := f.Devices.Add("stall")
	if err != nil {
		t.Fatal(err)
	}
	if a.Letter != "A" || b.Letter != "B" || a.ID == b.ID || tokenA == tokenB {
		t.Errorf("devices %+v and %+v", a, b)
	}
	table, _ := os.ReadFile(filepath.Join(dir, devicesFile))
	if bytes.Contains(table, []byte(tokenA)) || !bytes.Contains(table, []byte(a.ID.String())) {
		t.Errorf("the table on disk holds a token or lacks the device:\n%s", table)
	}
	f.Close()
	f = mustOpen(t, dir, options())
	if got, ok := f.Devices.ByToken(tokenB); !ok || got != b {
		t.Errorf("after opening again: %+v, %v", got, ok)
	}
	if _, ok := f.Devices.ByToken(tokenB + "x"); ok {
		t.Errorf("a wrong token was taken")
	}
	if got, _, _ := f.Devices.Add("owner"); got.Letter != "C" {
		t.Errorf("third letter %s", got.Letter)
	}
}

func TestLetters(t *testing.T) {
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letter(n); got != want {
			t.Errorf("letter(%d) = %s, want %s", n, got, want)
		}
	}
}

func TestWhatIsNotABookIsLeftAlone(t *testing.T) {
	tests := []struct {
		name, says string
		prepare    func(dir string) error
		readOnly   bool
	}{
		{"other files", "it holds diary.txt", func(dir string) error { return os.WriteFile(filepath.Join(dir, "diary.txt"), nil, 0o600) }, false},
		{"a broken mark", "cannot be read", func(dir string) error { return os.WriteFile(filepath.Join(dir, bookFile), []byte("{"), 0o600) }, false},
		{"empty, to be read", "it is empty", func(string) error { return nil }, true},
		{"missing, to be read", "no such folder", os.Remove, true},
		{"a file", "it is a file", func(dir string) error { return errors.Join(os.Remove(dir), os.WriteFile(dir, nil, 0o600)) }, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			dir := t.TempDir()
			if err := test.prepare(dir); err != nil {
				t.Fatal(err)
			}
			o := options()
			o.ReadOnly = test.readOnly
			_, err := Open(dir, o)
			var not *NotABook
			if !errors.As(err, &not) || !strings.Contains(not.Error(), test.says) {
				t.Fatalf("got %v, want %q", err, test.says)
			}
			if _, err := os.Stat(filepath.Join(dir, journalDir)); err == nil {
				t.Errorf("a journal was begun")
			}
		})
	}
}

// F26: each file that has a number of its layout, in a layout that is not this program's: it is named, what to do is said, and
// nothing is changed.
func TestALayoutThatIsNotKnownIsNamed(t *testing.T) {
	for _, file := range []string{bookFile, devicesFile} {
		for layout, says := range map[string]string{"0": "layout 0", "2": "a newer Stillroom wrote it"} {
			dir := t.TempDir()
			if err := mustOpen(t, dir, options()).Close(); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(dir, file)
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			changed := strings.Replace(string(data), `"format": 1`, `"format": `+layout, 1)
			if err := os.WriteFile(path, []byte(changed), 0o600); changed == string(data) || err != nil {
				t.Fatal(changed, err)
			}
			_, err = Open(dir, options())
			hinted, ok := err.(interface{ Hint() string })
			if !ok || !strings.Contains(err.Error(), says) || !strings.Contains(hinted.Hint(), "nothing was changed") {
				t.Errorf("%s of layout %s: %v", file, layout, err)
			}
			if after, err := os.ReadFile(path); err != nil || string(after) != changed {
				t.Errorf("%s was changed: %v", file, err)
			}
		}
	}
}

// F22.
func TestSecondProcessIsTold(t *testing.T) {
	dir := t.TempDir()
	mustOpen(t, dir, options())
	var busy *store.Busy
	if _, err := Open(dir, options()); !errors.As(err, &busy) || busy.Dir != dir {
		t.Errorf("got %v", err)
	}
}

func TestReadOnlyFolderIsTold(t *testing.T) {
	dir := t.TempDir()
	mustOpen(t, dir, options()).Close()
	o := options()
	o.Disk = &durable.Disk{Step: func(_, path string) error { return &fs.PathError{Op: "open", Path: path, Err: fs.ErrPermission} }}
	var readOnly *store.ReadOnly
	if _, err := Open(dir, o); !errors.As(err, &readOnly) || readOnly.Dir != dir {
		t.Errorf("got %v", err)
	}
	o.ReadOnly = true
	mustOpen(t, dir, o)
}

// F18: the ballast is made where there is room, stays away where there is little, and is named while it is there.
func TestBallast(t *testing.T) {
	dir, o := t.TempDir(), options()
	room := uint64(roomForBallast - 1)
	o.Ballast, o.Free = true, func(string) (uint64, error) { return room, nil }
	path := filepath.Join(dir, ballastFile)
	mustOpen(t, dir, o).Close()
	if _, err := os.Stat(path); err == nil {
		t.Error("it was made where there is little room")
	}
	room++
	f := mustOpen(t, dir, o)
	if info, err := os.Stat(path); err != nil || info.Size() != ballastBytes {
		t.Fatalf("%v, %v", info, err)
	}
	room = badger.KeepFree - 1
	var full *store.Full
	if _, err := f.Store.Space(); !errors.As(err, &full) || !strings.Contains(full.Hint(), "delete the file ballast") {
		t.Errorf("with little room: %v", err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if _, err := f.Store.Space(); !errors.As(err, &full) || strings.Contains(full.Hint(), "ballast") {
		t.Errorf("after it was deleted: %v", full.Hint())
	}
	f.Close()
	room = badger.KeepToOpen - 1
	if _, err := Open(dir, o); !errors.As(err, &full) {
		t.Errorf("with less than opening needs: %v", err)
	}
}
