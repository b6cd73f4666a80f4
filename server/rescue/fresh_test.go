package rescue

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/sync"
)

// told adds to a file what a phone says of itself.
func told(text, letter, role, proof string) string {
	return strings.Replace(text, `"letter":"A","role":"owner"`, `"letter":"`+letter+`","proof":"`+proof+`","role":"`+role+`"`, 1)
}

func proofOf(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// F20: the home store's disk is lost and there is no backup. The phones' files become a book: the longest copy with its
// numbers, what the others have beside it, what was not sent; the phones that say who they were are on the list.
func TestABookOfPhonesFilesAlone(t *testing.T) {
	dir := t.TempDir()
	f := opened(t, filepath.Join(dir, "lost"))
	a, tokenA, _ := f.Devices.Add(book.Owner)
	b, tokenB, _ := f.Devices.Add(book.Maker)
	c, _, _ := f.Devices.Add(book.Maker)
	add(t, f, a.ID, 0, entries(1, 10, "of a "))
	add(t, f, c.ID, 0, entries(1, 3, "of c, which is lost "))
	ofB := told(saved(t, f, b.ID, entries(1, 2, "b had not sent "), nil), "B", book.Maker, proofOf(tokenB))
	add(t, f, a.ID, 10, entries(11, 15, "of a "))
	ofA := told(saved(t, f, a.ID, nil, nil), "A", book.Owner, proofOf(tokenA))
	head := f.Store.Head(book.Workshop)
	var files []string
	for name, text := range map[string]string{"a": ofA, "b": ofB} {
		files = append(files, filepath.Join(dir, name))
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	made, err := Begin(ctx, filepath.Join(dir, "new"), files, "", time.Now(), folder.Options{Now: time.Now})
	if err != nil || len(made.Left) > 0 {
		t.Fatalf("%+v, %v", made, err)
	}
	if made.Phones != 2 || len(made.List) != 2 || made.Entries != 20 || made.Shared != 13 || made.Sent != 2 || made.Held != 0 {
		t.Errorf("%+v", made)
	}
	again := opened(t, filepath.Join(dir, "new"))
	if hash, ok := again.Store.HashAt(book.Workshop, head.Seq); !ok || hash != head.Hash {
		t.Error("the longest copy did not keep its numbers and hashes")
	}
	if again.Store.Epoch() == f.Store.Epoch() || string(again.Store.Key()) == string(f.Store.Key()) {
		t.Error("it is not a new life with a new key")
	}
	for token, want := range map[string]sync.DeviceID{tokenA: a.ID, tokenB: b.ID} {
		if d, ok := again.Devices.ByToken(token); !ok || d.ID != want {
			t.Errorf("device %s is not known by its token", want)
		}
	}
	// Three devices wrote, so three letters were given.
	if d, _, err := again.Devices.Add(book.Owner); err != nil || d.Letter != "D" {
		t.Errorf("the next device has the letter %s, %v", d.Letter, err)
	}
	if _, err := Begin(ctx, filepath.Join(dir, "new"), files, "", time.Now(), folder.Options{Now: time.Now}); !errors.As(err, new(*folder.There)) {
		t.Errorf("over a book: %v", err)
	}
}

// Two files of one phone, the newer named first: its rows go on from those that are in the older alone, and what it says of itself
// is what it said last.
func TestAPhonesOlderFileGoesFirst(t *testing.T) {
	dir := t.TempDir()
	f := opened(t, filepath.Join(dir, "lost"))
	b, token, _ := f.Devices.Add(book.Maker)
	older := saved(t, f, b.ID, entries(1, 2, "b had not sent "), nil)
	newer := told(saved(t, f, b.ID, entries(3, 4, "b had not sent "), nil), "A", book.Maker, proofOf(token))
	stamp := regexp.MustCompile(`"saved":"[^"]*"`)
	var files []string
	for _, one := range []struct{ name, text, day string }{{"newer", newer, "27"}, {"older", told(older, "A", book.Owner, proofOf("another")), "26"}} {
		if !stamp.MatchString(one.text) {
			t.Fatal(one.text)
		}
		files = append(files, filepath.Join(dir, one.name))
		if err := os.WriteFile(filepath.Join(dir, one.name), []byte(stamp.ReplaceAllString(one.text, `"saved":"2026-11-`+one.day+`T08:00:00Z"`)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	made, err := Begin(ctx, filepath.Join(dir, "new"), files, "", time.Now(), folder.Options{Now: time.Now})
	if err != nil || len(made.Left) > 0 || made.Sent != 4 || made.Phones != 1 || len(made.List) != 1 || made.List[0].Role != book.Maker {
		t.Errorf("%+v, %v", made, err)
	}
	if d, ok := opened(t, filepath.Join(dir, "new")).Devices.ByToken(token); !ok || d.ID != b.ID {
		t.Error("it is not known by its token")
	}
}

// What does not fit is told and stays in the file; everything before it is taken. A file that is none makes no book.
func TestWhatDoesNotFitABookOfFiles(t *testing.T) {
	dir := t.TempDir()
	f, other := opened(t, filepath.Join(dir, "one")), opened(t, filepath.Join(dir, "other"))
	a, _, _ := f.Devices.Add(book.Owner)
	add(t, f, a.ID, 0, entries(1, 6, "of one life "))
	add(t, other, a.ID, 0, entries(1, 4, "of another "))
	for name, test := range map[string]struct {
		files   []string
		entries uint64
		left    string
	}{
		"a hash that does not fit": {[]string{saved(t, f, a.ID, nil, func(c map[string]any) { c["hash"] = strings.Repeat("0", 64) })}, 0, "does not match the hashes"},
		"a copy that is cut":       {[]string{saved(t, f, a.ID, nil, func(c map[string]any) { c["to"] = 9 })}, 0, "has a hole"},
		"two histories":            {[]string{saved(t, other, a.ID, nil, nil), saved(t, f, a.ID, nil, nil)}, 6, "does not fit the longest one after entry 0"},
		"the same phone twice":     {[]string{saved(t, f, a.ID, nil, nil), saved(t, f, a.ID, nil, nil)}, 6, ""},
	} {
		dir := t.TempDir()
		var files []string
		for _, text := range test.files {
			path := filepath.Join(dir, string(rune('a'+len(files))))
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			files = append(files, path)
		}
		made, err := Begin(ctx, filepath.Join(dir, "new"), files, "", time.Now(), folder.Options{Now: time.Now})
		left := strings.Join(made.Left, " ")
		if err != nil || made.Entries != test.entries || made.Shared != 0 || len(made.List) != 0 || !strings.Contains(left, test.left) || (test.left == "") != (left == "") {
			t.Errorf("%s: %+v, %v", name, made, err)
		}
	}
	page := filepath.Join(dir, "page")
	if err := os.WriteFile(page, []byte("<html>\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Begin(ctx, filepath.Join(dir, "new"), []string{page}, "", time.Now(), folder.Options{Now: time.Now}); !errors.As(err, new(*Bad)) || !strings.Contains(err.Error(), "page") {
		t.Errorf("a web page: %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "new")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a book was made: %v", err)
	}
}

// A folder whose journal is lost still says who was on the list, also who was taken off it, and holds photos: they are taken
// over. Where its list is spoiled as well, the files say who they were.
func TestWhatAFolderWithoutAJournalStillHolds(t *testing.T) {
	dir := t.TempDir()
	lost := filepath.Join(dir, "lost")
	f := opened(t, lost)
	a, tokenA, _ := f.Devices.Add(book.Owner)
	b, tokenB, _ := f.Devices.Add(book.Maker)
	if err := f.Devices.Revoke(b.ID); err != nil {
		t.Fatal(err)
	}
	photo, spoiled := []byte("a photo"), []byte("another photo")
	for _, data := range [][]byte{photo, spoiled} {
		name := proofOf(string(data))
		if _, err := f.Photos.Append(name, 0, int64(len(data)), bytes.NewReader(data)); err != nil {
			t.Fatal(err)
		}
	}
	add(t, f, a.ID, 0, entries(1, 4, "of a "))
	var files []string
	for name, text := range map[string]string{"a": told(saved(t, f, a.ID, nil, nil), "A", book.Owner, proofOf(tokenA)),
		"b": told(saved(t, f, b.ID, entries(1, 1, "of b, taken off "), nil), "B", book.Owner, proofOf(tokenB))} {
		files = append(files, filepath.Join(dir, name))
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(f.Close(), os.RemoveAll(filepath.Join(lost, "journal")), os.WriteFile(filepath.Join(lost, "photos", proofOf(string(spoiled))[:2], proofOf(string(spoiled))), []byte("x"), 0o600)); err != nil {
		t.Fatal(err)
	}
	made, err := Begin(ctx, filepath.Join(dir, "new"), files, lost, time.Now(), folder.Options{Now: time.Now})
	if err != nil || made.Entries != 5 || made.Held != 1 || made.Photos != 1 || len(made.Left) != 1 || !strings.Contains(made.Left[0], "cannot be read: 1.") {
		t.Fatalf("%+v, %v", made, err)
	}
	again := opened(t, filepath.Join(dir, "new"))
	if d, ok := again.Devices.ByToken(tokenB); !ok || d.Revoked == "" || d.Role != book.Maker {
		t.Errorf("who was taken off the list is %+v", d)
	}
	if d, _, err := again.Devices.Add(book.Maker); err != nil || d.Letter != "C" {
		t.Errorf("the next device has the letter %s, %v", d.Letter, err)
	}
	if err := os.WriteFile(filepath.Join(lost, "devices.json"), []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	made, err = Begin(ctx, filepath.Join(dir, "third"), files, lost, time.Now(), folder.Options{Now: time.Now})
	if err != nil || len(made.List) != 2 || made.Held != 0 || made.Photos != 1 || len(made.Left) != 2 || !strings.Contains(made.Left[0], "The list of devices") {
		t.Errorf("%+v, %v", made, err)
	}
	if _, err := Begin(ctx, filepath.Join(dir, "fourth"), files, filepath.Join(dir, "nowhere"), time.Now(), folder.Options{Now: time.Now}); !errors.As(err, new(*folder.NotABook)) {
		t.Errorf("no such folder: %v", err)
	}
}
