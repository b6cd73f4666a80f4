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
		{"a newer layout", "a newer Stillroom", func(dir string) error {
			return os.WriteFile(filepath.Join(dir, bookFile), []byte(`{"format":2}`), 0o600)
		}, false},
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
	defer func(f func(string, string) (*os.File, error)) { createTemp = f }(createTemp)
	createTemp = func(dir, _ string) (*os.File, error) {
		return nil, &fs.PathError{Op: "open", Path: dir, Err: fs.ErrPermission}
	}
	var readOnly *store.ReadOnly
	if _, err := Open(dir, options()); !errors.As(err, &readOnly) || readOnly.Dir != dir {
		t.Errorf("got %v", err)
	}
	o := options()
	o.ReadOnly = true
	mustOpen(t, dir, o)
}

// Every step of a durable write fails in its turn: what was there stays whole, and no half file is left.
func TestFailedWriteKeepsTheOldFile(t *testing.T) {
	broken := errors.New("the disk says no")
	steps := map[string]func() (restore func()){
		"temporary file": func() func() {
			old := createTemp
			createTemp = func(string, string) (*os.File, error) { return nil, broken }
			return func() { createTemp = old }
		},
		"write": func() func() {
			old := writeAll
			writeAll = func(f *os.File, data []byte) error { f.Write(data[:len(data)/2]); return broken }
			return func() { writeAll = old }
		},
		"sync": func() func() {
			old := syncFile
			syncFile = func(*os.File) error { return broken }
			return func() { syncFile = old }
		},
		"rename": func() func() {
			old := rename
			rename = func(string, string) error { return broken }
			return func() { rename = old }
		},
	}
	for name, fail := range steps {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "file")
			if err := writeFile(path, []byte("old")); err != nil {
				t.Fatal(err)
			}
			restore := fail()
			err := writeFile(path, []byte("new and longer"))
			restore()
			if !errors.Is(err, broken) {
				t.Fatalf("got %v", err)
			}
			left, _ := os.ReadDir(dir)
			if got, _ := os.ReadFile(path); string(got) != "old" || len(left) != 1 {
				t.Errorf("holds %q and %d files", got, len(left))
			}
		})
	}
	t.Run("sync of the folder", func(t *testing.T) {
		old := syncFolder
		syncFolder = func(string) error { return broken }
		defer func() { syncFolder = old }()
		if err := writeFile(filepath.Join(t.TempDir(), "file"), []byte("new")); !errors.Is(err, broken) {
			t.Errorf("said to be on disk: %v", err)
		}
	})
}
