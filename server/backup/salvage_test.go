package backup

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/server/store/badger"
	"stillroom/sync"
)

// written is a book of a few entries that is closed again, with a photo of its own.
func written(t *testing.T, dir string, photo []byte) {
	t.Helper()
	f, err := folder.Open(dir, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	d, _, err := f.Devices.Add(book.Owner)
	if err != nil {
		t.Fatal(err)
	}
	for n := uint64(1); n <= 5; n++ {
		raw := sync.Entry{Seq: n, Kind: book.KindBatchNoted, V: 1, At: int64(n), Body: []byte{byte(n)}}.Append(nil)
		if _, err := f.Store.Append(context.Background(), book.Workshop, d.ID, n-1, [][]byte{raw}, store.Meta{At: 5}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := f.Photos.Append(nameOf(photo), 0, int64(len(photo)), bytes.NewReader(photo)); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

func nameOf(photo []byte) string {
	sum := sha256.Sum256(photo)
	return hex.EncodeToString(sum[:])
}

// F19: what is left without the key by which phones know their book is refused in words, whatever took the key, and nothing is
// made; a book that has it becomes one.
func TestABookWithoutItsKeyIsNotMadeOne(t *testing.T) {
	for name, test := range map[string]struct {
		spoil   func(dir string) error
		keyless bool
	}{
		"the journal is gone and the witness is there": {func(dir string) error { return os.RemoveAll(filepath.Join(dir, "journal")) }, true},
		"no table can be read": {func(dir string) error {
			tables, err := filepath.Glob(filepath.Join(dir, "journal", "*.sst"))
			for _, table := range tables {
				err = errors.Join(err, os.WriteFile(table, make([]byte, 4096), 0o600))
			}
			return errors.Join(err, os.WriteFile(filepath.Join(dir, "journal", "MANIFEST"), []byte("no list of tables"), 0o600))
		}, true},
		"the journal does not open, and its tables can be read": {func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "journal", "MANIFEST"), []byte("no list of tables"), 0o600)
		}, false},
		"the key is there": {func(string) error { return nil }, false},
	} {
		dir := t.TempDir()
		from, to := filepath.Join(dir, "book"), filepath.Join(dir, "new")
		written(t, from, []byte("a photo"))
		if err := test.spoil(from); err != nil {
			t.Fatal(err)
		}
		_, err := Restore(context.Background(), from, to, folder.Options{Now: time.Now})
		if !test.keyless {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		var no *Keyless
		var why *store.Damaged
		if !errors.As(err, &no) || !errors.As(err, &why) || !strings.Contains(no.Hint(), "Only a backup") {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := os.Stat(to); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: a book was made (%v)", name, err)
		}
	}
}

// F19: a small file beside a whole journal that is lost or altered keeps nobody from the entries: the folder becomes a book, with its
// list of devices where that is whole, and no letter is given again where it is not.
func TestSmallFilesLostLeaveTheJournal(t *testing.T) {
	for name, test := range map[string]struct {
		spoil  func(dir string) error
		listed int
	}{
		"stillroom.json is gone": {func(dir string) error { return os.Remove(filepath.Join(dir, "stillroom.json")) }, 1},
		"stillroom.json is altered": {func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "stillroom.json"), []byte(`{"form`), 0o600)
		}, 1},
		"devices.json is gone":    {func(dir string) error { return os.Remove(filepath.Join(dir, "devices.json")) }, 0},
		"devices.json is altered": {func(dir string) error { return os.WriteFile(filepath.Join(dir, "devices.json"), []byte("{}{"), 0o600) }, 0},
		"both are gone": {func(dir string) error {
			return errors.Join(os.Remove(filepath.Join(dir, "devices.json")), os.Remove(filepath.Join(dir, "stillroom.json")))
		}, 0},
	} {
		dir := t.TempDir()
		from, to := filepath.Join(dir, "book"), filepath.Join(dir, "new")
		written(t, from, []byte("a photo"))
		if err := test.spoil(from); err != nil {
			t.Fatal(err)
		}
		var altered *folder.Altered
		if _, err := folder.Open(from, folder.Options{Now: time.Now}); !errors.As(err, &altered) || !strings.Contains(altered.Hint(), "of what this folder still holds") {
			t.Errorf("%s: opened to write: %v", name, err)
		}
		info, err := Restore(context.Background(), from, to, folder.Options{Now: time.Now})
		if err != nil || info.Entries() != 5 || (info.NoList == nil) != (test.listed == 1) || info.LeftOut+info.Missing > 0 {
			t.Errorf("%s: %+v, %v", name, info, err)
			continue
		}
		f, err := folder.Open(to, folder.Options{Now: time.Now})
		if err != nil {
			t.Fatal(err)
		}
		if got := len(f.Devices.All()); got != test.listed {
			t.Errorf("%s: %d devices are listed", name, got)
		}
		if next, _, err := f.Devices.Add(book.Owner); err != nil || next.Letter != "B" {
			t.Errorf("%s: the next device is %q, %v", name, next.Letter, err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// A damaged book's folder brings its own photos; a folder of photos that lies beside it belongs to something else.
func TestAFoldersPhotosAreItsOwn(t *testing.T) {
	dir := t.TempDir()
	own, other := []byte("a photo of the book"), []byte("a photo of somebody else")
	written(t, filepath.Join(dir, "book"), own)
	for _, beside := range []string{filepath.Join(dir, sharedPhotos), filepath.Join(dir, "photos-0123abcd")} {
		if err := errors.Join(os.Mkdir(beside, 0o700), os.WriteFile(filepath.Join(beside, nameOf(other)), other, 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := Restore(context.Background(), filepath.Join(dir, "book"), filepath.Join(dir, "new"), folder.Options{Now: time.Now}); err != nil {
		t.Fatal(err)
	}
	f, err := folder.Open(filepath.Join(dir, "new"), folder.Options{ReadOnly: true, Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var got []string
	if err := f.Photos.Each(func(name string) error { got = append(got, name); return nil }); err != nil {
		t.Fatal(err)
	}
	if len(got) != 1 || got[0] != nameOf(own) {
		t.Errorf("the new book has the photos %v", got)
	}
}

// A reading that was ended before it was through says nothing of a book: neither that it is damaged nor that its key is
// lost, and nothing is left of what was begun.
func TestAStoppedRestoreCallsNothingDamaged(t *testing.T) {
	dir := t.TempDir()
	from, to := filepath.Join(dir, "book"), filepath.Join(dir, "new")
	written(t, from, []byte("a photo"))
	for name, why := range map[string]error{"the person stops it": context.Canceled, "its process is ended": badger.ErrStopped} {
		_, err := Restore(context.Background(), from, to, folder.Options{Now: time.Now, Check: func(string, string, string) (bool, error) { return false, why }})
		var damaged *store.Damaged
		if !errors.Is(err, why) || errors.As(err, new(*Keyless)) || errors.As(err, &damaged) {
			t.Errorf("%s: %v", name, err)
		}
		left, err := os.ReadDir(dir)
		if err != nil || len(left) != 1 {
			t.Errorf("%s: left are %v, %v", name, left, err)
		}
	}
}
