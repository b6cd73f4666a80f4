package rescue

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/calc/book"
	"stillroom/server/folder"
)

// withPhotos adds to what a rescue page saved rows of photos, by name.
func withPhotos(t *testing.T, text string, photos map[string][]byte) string {
	t.Helper()
	var out bytes.Buffer
	out.WriteString(text)
	lines := json.NewEncoder(&out)
	for name, data := range photos {
		if err := lines.Encode(map[string]any{"kept": "photos", "key": name, "value": base64.StdEncoding.EncodeToString(data)}); err != nil {
			t.Fatal(err)
		}
	}
	return out.String()
}

func nameOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// A photo of which the store holds a part, a spoiled one too, comes in whole, and so do all others when the disk fails
// at one; that one is named, and the entries are in.
func TestHalfSentPhotosComeInWhole(t *testing.T) {
	photo := []byte("not really a picture, but long enough for two pieces")
	for name, test := range map[string]struct {
		part  string // what the store holds of it
		fails bool   // the disk fails at another photo
	}{
		"nothing of it is there":        {"", false},
		"a half is there":               {string(photo[:20]), false},
		"a spoiled half":                {"something else", false},
		"more than all of it":           {string(photo) + " and more", false},
		"all of it, not yet compared":   {string(photo), false},
		"the disk fails at another one": {string(photo[:20]), true},
	} {
		dir := t.TempDir()
		f := opened(t, dir)
		d, _, err := f.Devices.Add(book.Owner)
		if err != nil {
			t.Fatal(err)
		}
		if test.part != "" {
			if _, err := f.Photos.Append(nameOf(photo), 0, 1<<20, strings.NewReader(test.part)); err != nil {
				t.Fatal(err)
			}
		}
		photos := map[string][]byte{nameOf(photo): photo}
		var lost string
		if test.fails {
			for n := byte(0); lost == "" || lost > nameOf(photo) || lost[:2] == nameOf(photo)[:2]; n++ { // one that comes first
				other := []byte{n}
				lost = nameOf(other)
				if lost < nameOf(photo) {
					photos = map[string][]byte{nameOf(photo): photo, lost: other}
				}
			}
			if err := errors.Join(os.MkdirAll(filepath.Join(dir, "photos"), 0o700), os.WriteFile(filepath.Join(dir, "photos", lost[:2]), nil, 0o600)); err != nil {
				t.Fatal(err)
			}
		}
		got, err := Into(ctx, f, strings.NewReader(withPhotos(t, saved(t, f, d.ID, entries(1, 2, "not sent "), nil), photos)), 9)
		if (err != nil) != test.fails || test.fails && !strings.Contains(err.Error(), lost[:8]) {
			t.Errorf("%s: %v", name, err)
		}
		if got.Sent != 2 || got.Photos != 1 || len(got.Left) != 0 {
			t.Errorf("%s: %+v", name, got)
		}
		in, err := f.Photos.Open(nameOf(photo))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		data, err := io.ReadAll(in)
		if in.Close(); err != nil || !bytes.Equal(data, photo) {
			t.Errorf("%s: %q, %v", name, data, err)
		}
	}
}

// A file in which what is called a photo has no photo's name is refused before anything of it is taken in.
func TestAPhotoOfAnotherNameIsRefused(t *testing.T) {
	dir := t.TempDir()
	f := opened(t, filepath.Join(dir, "a", "book"))
	d, _, err := f.Devices.Add(book.Owner)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"", "x", "../../x", strings.Repeat("A", 64)} {
		text := withPhotos(t, saved(t, f, d.ID, entries(1, 2, "not sent "), nil), map[string][]byte{name: []byte("x")})
		var bad *Bad
		if _, err := Into(ctx, f, strings.NewReader(text), 9); !errors.As(err, &bad) || f.Store.Head(book.Workshop).Seq != 0 {
			t.Errorf("%q: %v", name, err)
		}
	}
	if _, _, err := f.Photos.Held("../../x"); !errors.As(err, new(*folder.NotAPhoto)) {
		t.Error(err)
	}
}
