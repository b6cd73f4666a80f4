package backup

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

var update = flag.Bool("update", false, "record the files of a format that has none yet; what is there is never written over")

// formats holds, for every layout that a program wrote: a full backup, a small one on it, and a book's folder as it was closed and
// as it was killed. Files of a folder are in a zip file without the zeros at their ends; the comment of each is its size.
const formats = "../../testdata/formats"

// recorded is what all of a layout's files hold.
type recorded struct {
	Full, Added, Killed []Line
	Key, Devices        []byte
}

// A book's folder and a backup of every layout there ever was open in this program and hold what they held.
func TestRecordedFormatsOpen(t *testing.T) {
	dir := filepath.Join(formats, "1")
	if *update {
		record(t, dir)
	}
	data, err := os.ReadFile(filepath.Join(dir, "holds.json"))
	var want recorded
	if err := errors.Join(err, json.Unmarshal(data, &want)); err != nil {
		t.Fatal(err)
	}
	all, err := List(dir)
	if err != nil || len(all) != 2 {
		t.Fatal(all, err)
	}
	compare := func(what, from string, ends []Line) {
		t.Helper()
		f, err := folder.Open(from, folder.Options{Now: time.Now})
		if err != nil {
			t.Errorf("%s: %v", what, err)
			return
		}
		defer f.Close()
		table, err := f.Devices.Table()
		if err != nil || f.Store.Damage() != nil || !bytes.Equal(table, want.Devices) || !bytes.Equal(f.Store.Key(), want.Key) {
			t.Errorf("%s: %v, %v, devices %s", what, err, f.Store.Damage(), table)
		}
		if got := endsOf(f); !reflect.DeepEqual(got, ends) {
			t.Errorf("%s ends at %v, want %v", what, got, ends)
		}
		if photos, err := f.PhotosMissing(context.Background()); err != nil || photos > 0 {
			t.Errorf("%s: %d photos are missing, %v", what, photos, err)
		}
	}
	for n, ends := range [][]Line{want.Full, want.Added} {
		to := filepath.Join(t.TempDir(), "new")
		if _, err := Verify(all[n].Path); err != nil {
			t.Error(err)
		}
		if _, err := Restore(context.Background(), all[n].Path, to, folder.Options{Now: time.Now}); err != nil {
			t.Error(err)
			continue
		}
		compare(filepath.Base(all[n].Path), to, ends)
	}
	for name, ends := range map[string][]Line{"closed": want.Added, "killed": want.Killed} {
		to := filepath.Join(t.TempDir(), "book")
		unpack(t, filepath.Join(dir, name+".zip"), to)
		compare(name, to, ends)
	}
}

func endsOf(f *folder.Folder) (ends []Line) {
	for _, name := range f.Store.Streams() {
		head := f.Store.Head(name)
		ends = append(ends, Line{name, head.Seq, head.Hash[:]})
	}
	return ends
}

// record writes the files of today's layout.
func record(t *testing.T, to string) {
	if _, err := os.Stat(to); !errors.Is(err, fs.ErrNotExist) {
		t.Fatalf("%s is there and is never written over: %v", to, err)
	}
	dir, holds := filepath.Join(t.TempDir(), "book"), recorded{}
	f, err := folder.Open(dir, folder.Options{Now: func() time.Time { return morning }})
	if err != nil {
		t.Fatal(err)
	}
	device, _, err := f.Devices.Add(book.Owner)
	if err != nil {
		t.Fatal(err)
	}
	write := func(stream string, kind uint32, seq uint64) {
		raw := sync.Entry{Seq: seq, Kind: kind, V: 1, At: int64(seq), Body: []byte{byte(seq)}}.Append(nil)
		if _, err := f.Store.Append(context.Background(), stream, device.ID, seq-1, [][]byte{raw}, store.Meta{At: 5}); err != nil {
			t.Fatal(err)
		}
	}
	save := func(after time.Duration) {
		if _, err := Write(context.Background(), f, to, Options{Now: func() time.Time { return morning.Add(after) }}); err != nil {
			t.Fatal(err)
		}
	}
	write(book.Workshop, book.KindBatchNoted, 1)
	write(book.Shelf, book.KindPlaceNamed, 1)
	save(0)
	holds.Full, holds.Key = endsOf(f), f.Store.Key()
	write(book.Workshop, book.KindBatchNoted, 2)
	save(24 * time.Hour)
	holds.Added = endsOf(f)
	if holds.Devices, err = f.Devices.Table(); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	pack(t, dir, filepath.Join(to, "closed.zip"))
	if f, err = folder.Open(dir, folder.Options{Now: time.Now}); err != nil {
		t.Fatal(err)
	}
	write(book.Workshop, book.KindBatchNoted, 3)
	holds.Killed = endsOf(f)
	pack(t, dir, filepath.Join(to, "killed.zip"))
	data, err := json.MarshalIndent(holds, "", "  ")
	if err := errors.Join(err, os.WriteFile(filepath.Join(to, "holds.json"), append(data, '\n'), 0o600), f.Close()); err != nil {
		t.Fatal(err)
	}
}

func pack(t *testing.T, dir, to string) {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || e.Name() == "LOCK" {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Comment: strconv.Itoa(len(data))})
		if err != nil {
			return err
		}
		_, err = w.Write(bytes.TrimRight(data, "\x00"))
		return err
	})
	if err := errors.Join(err, z.Close(), os.WriteFile(to, out.Bytes(), 0o600)); err != nil {
		t.Fatal(err)
	}
}

func unpack(t *testing.T, from, dir string) {
	t.Helper()
	z, err := zip.OpenReader(from)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	for _, packed := range z.File {
		path := filepath.Join(dir, filepath.FromSlash(packed.Name))
		size, err := strconv.ParseInt(packed.Comment, 10, 64)
		if err := errors.Join(err, os.MkdirAll(filepath.Dir(path), 0o700)); err != nil {
			t.Fatal(err)
		}
		r, err := packed.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r)
		if err := errors.Join(err, r.Close(), os.WriteFile(path, data, 0o600), os.Truncate(path, size)); err != nil {
			t.Fatal(err)
		}
	}
}

// F26: what a program does not know is named: a small backup, whose first line a program of before there were any does not know
// as a backup's, and a layout of a later program, which is not called altered.
func TestALaterLayoutIsNamed(t *testing.T) {
	dir := t.TempDir()
	for first, says := range map[string]string{
		"stillroom backup 2\n":        "a newer Stillroom wrote it",
		"stillroom added 2\n":         "a newer Stillroom wrote it",
		"stillroom whatever 1\n":      "a newer Stillroom wrote it",
		"stillroom backup 1\n":        "cut off",
		"stillroom added 1\n":         "cut off",
		"stillroom is a fine book.\n": "does not begin as one",
	} {
		path := filepath.Join(dir, "stillroom-0123abcd-2026-11-27-080000-000.backup")
		if err := os.WriteFile(path, []byte(first+strings.Repeat("later", 40)), 0o600); err != nil {
			t.Fatal(err)
		}
		for what, err := range map[string]error{
			"verify": func() error { _, err := Verify(path); return err }(),
			"restore": func() error {
				_, err := Restore(context.Background(), path, filepath.Join(dir, "new"), folder.Options{Now: time.Now})
				return err
			}(),
		} {
			var bad *Bad
			if !errors.As(err, &bad) || !strings.Contains(bad.Error(), says) && !strings.Contains(says, "cut off") || strings.Contains(bad.Hint(), "update") != strings.Contains(says, "newer") {
				t.Errorf("%s of %q: %v", what, first, err)
			}
		}
	}
}

// A folder of backups is no backup; which file in it to name is said, for each book that is in it.
func TestAFolderOfBackupsNamesTheFile(t *testing.T) {
	dir := t.TempDir()
	kept := filepath.Join(dir, "kept")
	written(t, filepath.Join(dir, "one"), []byte("a photo"))
	made, _ := days(t, filepath.Join(dir, "one"), kept, 0, 2)
	written(t, filepath.Join(dir, "two"), []byte("a photo"))
	other, _ := days(t, filepath.Join(dir, "two"), kept, 0, 1)
	if err := os.WriteFile(made[1].Path, []byte("spoiled"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, verified := Verify(kept)
	_, restored := Restore(context.Background(), kept, filepath.Join(dir, "new"), folder.Options{Now: time.Now})
	for _, err := range []error{verified, restored} {
		var bad *Bad
		if !errors.As(err, &bad) || !strings.Contains(bad.Hint(), made[0].Path) || !strings.Contains(bad.Hint(), other[0].Path) {
			t.Errorf("%v; %+v", err, bad)
		}
	}
}

// A folder of photos that cannot be read keeps nobody from the entries.
func TestPhotosThatCannotBeListedLeaveTheEntries(t *testing.T) {
	dir := t.TempDir()
	kept := filepath.Join(dir, "kept")
	written(t, filepath.Join(dir, "book"), []byte("a photo"))
	made, _ := days(t, filepath.Join(dir, "book"), kept, 0, 1)
	mark, _, _ := parseName(filepath.Base(made[0].Path))
	photos := filepath.Join(kept, photosOf(mark))
	if err := errors.Join(os.RemoveAll(photos), os.WriteFile(photos, []byte("no folder"), 0o600)); err != nil {
		t.Fatal(err)
	}
	info, err := Restore(context.Background(), made[0].Path, filepath.Join(dir, "new"), folder.Options{Now: time.Now})
	if err != nil || info.NoPhotos == nil || info.Entries() != 8 {
		t.Errorf("%+v, %v", info, err)
	}
}
