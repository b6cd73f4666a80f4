package backup

import (
	"bytes"
	"context"
	"errors"
	"fmt"
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

func write(t *testing.T, dir, to string, now time.Time) Info {
	t.Helper()
	f, err := folder.Open(dir, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	info, err := Write(context.Background(), f, to, Options{Now: func() time.Time { return now }})
	if err := errors.Join(err, f.Close()); err != nil {
		t.Fatal(err)
	}
	return info
}

// restored are the photos of the book that a backup gives.
func restored(t *testing.T, path string) (photos []string, info Info) {
	t.Helper()
	to := filepath.Join(t.TempDir(), "new")
	info, err := Restore(context.Background(), path, to, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	f, err := folder.Open(to, folder.Options{ReadOnly: true, Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.Photos.Each(func(name string) error { photos = append(photos, name); return nil }); err != nil {
		t.Fatal(err)
	}
	return photos, info
}

// Two books are backed up into one folder. Each gets its own photos back, also those that came after the backup, and not
// the other's; of the folder that books once shared, what their entries name.
func TestABackupBringsItsOwnPhotosBack(t *testing.T) {
	dir, now := t.TempDir(), time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC)
	one, other, kept := filepath.Join(dir, "one"), filepath.Join(dir, "other"), filepath.Join(dir, "kept")
	first, late, theirs := []byte("a photo"), []byte("a later photo"), []byte("a photo of the other book")
	written(t, one, first)
	written(t, other, theirs)
	older := write(t, one, kept, now)
	addPhoto(t, one, late)
	write(t, one, kept, now.Add(time.Hour))
	write(t, other, kept, now)
	shared := filepath.Join(kept, sharedPhotos)
	named := []byte("named by an entry")
	if err := os.Mkdir(shared, 0o700); err != nil {
		t.Fatal(err)
	}
	for _, photo := range [][]byte{named, []byte("named by none")} {
		if err := os.WriteFile(filepath.Join(shared, nameOf(photo)), photo, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got, _ := restored(t, older.Path)
	want := []string{nameOf(first), nameOf(late)}
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("the photos %v, want %v", got, want)
	}
	f, err := folder.Open(one, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	body := fmt.Sprintf("\x01b\x00\x40%s\x02\x02\x02", nameOf(named)) // batch, formula, photo, bytes, width, height
	entry := sync.Entry{Seq: 1, Kind: book.KindPhotoKept, V: 1, Body: []byte(body)}
	if _, err := f.Store.Append(context.Background(), book.Workshop, sync.DeviceID{9}, 0, [][]byte{entry.Append(nil)}, store.Meta{}); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	got, _ = restored(t, write(t, one, kept, now.Add(2*time.Hour)).Path)
	if want = append(want, nameOf(named)); len(got) != 3 || !slices.Contains(got, nameOf(named)) {
		t.Errorf("the photos %v, want %v", got, want)
	}
}

func addPhoto(t *testing.T, dir string, photo []byte) {
	t.Helper()
	f, err := folder.Open(dir, folder.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.Photos.Append(nameOf(photo), 0, int64(len(photo)), bytes.NewReader(photo))
	if err := errors.Join(err, f.Close()); err != nil {
		t.Fatal(err)
	}
}

// A copy that changed on the disk and kept its size is found when its day comes, at the latest on the last of the round,
// copied again and told; until then a restore leaves it out and says so.
func TestACopyThatChangedIsFound(t *testing.T) {
	dir, day := t.TempDir(), time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC)
	book, kept, photo := filepath.Join(dir, "book"), filepath.Join(dir, "kept"), []byte("a photo")
	written(t, book, photo)
	for !itsDay(nameOf(photo), day.Add(24*time.Hour)) {
		day = day.Add(24 * time.Hour)
	}
	if info := write(t, book, kept, day); info.Photos != (Photos{}) {
		t.Fatalf("%+v", info.Photos)
	}
	copies, err := filepath.Glob(filepath.Join(kept, sharedPhotos+"-*", nameOf(photo)))
	if err != nil || len(copies) != 1 {
		t.Fatal(copies, err)
	}
	if err := os.WriteFile(copies[0], []byte("a phota"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got, info := restored(t, write(t, book, kept, day.Add(time.Hour)).Path); len(got) != 0 || info.LeftOut != 1 {
		t.Errorf("restored %v, left out %d", got, info.LeftOut)
	}
	info := write(t, book, kept, day.Add(24*time.Hour))
	if info.Photos.Again != 1 || !strings.Contains(info.Photos.Say(), "had changed on the disk") {
		t.Errorf("%+v", info.Photos)
	}
	if got, _ := restored(t, info.Path); len(got) != 1 {
		t.Errorf("restored %v", got)
	}
}

// Each photo has its day in every round of backups, also where they are made every second day or once a week.
func TestEachCopyHasItsDay(t *testing.T) {
	for _, every := range []int{1, 2, 7} {
		for n := range 256 {
			name, days := fmt.Sprintf("%02x", n)+strings.Repeat("0", 62), 0
			for round := range rounds {
				if itsDay(name, time.Unix(int64(round*every)*24*60*60, 0)) {
					days++
				}
			}
			if days != 1 {
				t.Errorf("every %d days: %s… has %d days", every, name[:2], days)
			}
		}
	}
}

// A backup that was killed at any step leaves nothing behind that the next one does not take away.
func TestWhatAKilledBackupLeftIsSwept(t *testing.T) {
	dir := t.TempDir()
	book, kept := filepath.Join(dir, "book"), filepath.Join(dir, "kept")
	written(t, book, []byte("a photo"))
	now := time.Date(2026, 11, 27, 8, 0, 0, 0, time.UTC)
	mark, _, _ := parseName(filepath.Base(write(t, book, kept, now).Path))
	for _, path := range []string{".write-123", trialOf(mark) + "9/" + ".write-4", trialOf(mark) + "9/held", photosOf(mark) + "/.write-5"} {
		path = filepath.Join(kept, path)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, []byte("the book's key"), 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	write(t, book, kept, now.Add(time.Hour))
	var hidden []string
	filepath.WalkDir(kept, func(path string, _ os.DirEntry, err error) error {
		if strings.HasPrefix(filepath.Base(path), ".") {
			hidden = append(hidden, path)
		}
		return err
	})
	if len(hidden) > 0 {
		t.Errorf("left are %v", hidden)
	}
}
