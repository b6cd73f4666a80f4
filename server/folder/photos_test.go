package folder

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"stillroom/server/store/durable"
)

// Whichever step of keeping a photo the disk fails at, what stands under its name afterwards is the whole photo or
// nothing, and sending on brings it in.
func TestAPhotoIsWholeOrNotThereWhereverTheDiskFails(t *testing.T) {
	data := bytes.Repeat([]byte("not really a picture "), 100)
	sum := sha256.Sum256(data)
	name := hex.EncodeToString(sum[:])
	for fail := 1; ; fail++ {
		step := 0
		disk := &durable.Disk{Step: func(what, path string) error {
			if step++; step == fail {
				return errors.New("the disk fails at " + what)
			}
			return nil
		}}
		p := &Photos{dir: t.TempDir(), disk: disk}
		_, err := p.Append(name, 0, int64(len(data)), bytes.NewReader(data))
		if step < fail && err == nil {
			if fail < 4 {
				t.Fatalf("only %d steps could fail", fail-1)
			}
			return
		}
		have, whole, held := p.Held(name)
		if held != nil {
			t.Fatal(held)
		}
		if !whole {
			if n, err := p.Append(name, have, int64(len(data)), bytes.NewReader(data[have:])); err != nil || n != int64(len(data)) {
				t.Fatalf("step %d: sending on from %d: %d, %v", fail, have, n, err)
			}
		}
		f, err := p.Open(name)
		if err != nil {
			t.Fatalf("step %d: %v", fail, err)
		}
		got, err := io.ReadAll(f)
		if f.Close(); err != nil || !bytes.Equal(got, data) {
			t.Fatalf("step %d: what stands under the name is not the photo (%v)", fail, err)
		}
	}
}

// What is no name of a photo reads and writes nothing, in the folder or out of it.
func TestOnlyAPhotosNameIsTaken(t *testing.T) {
	p := &Photos{dir: t.TempDir()}
	for _, name := range []string{"", "a", "../../x", strings.Repeat("A", 64), strings.Repeat("a", 63) + "/"} {
		var no *NotAPhoto
		if _, _, err := p.Held(name); !errors.As(err, &no) {
			t.Errorf("Held(%q): %v", name, err)
		}
		if _, err := p.Append(name, 0, 1, strings.NewReader("x")); !errors.As(err, &no) {
			t.Errorf("Append(%q): %v", name, err)
		}
		if _, err := p.Open(name); !errors.As(err, &no) {
			t.Errorf("Open(%q): %v", name, err)
		}
	}
	if left, err := os.ReadDir(p.dir); err != nil || len(left) > 0 {
		t.Errorf("%v, %v", left, err)
	}
}

// A length below what came already takes nothing in uncompared: what is here is the photo, or it is let go.
func TestAShorterLengthIsCompared(t *testing.T) {
	f := mustOpen(t, t.TempDir(), options())
	photo, spoiled := []byte("all the bytes of a photo"), []byte("other bytes, and more of them")
	sum := sha256.Sum256(photo)
	name := hex.EncodeToString(sum[:])
	for _, test := range []struct {
		part  []byte
		fails error
		whole bool
	}{{spoiled, ErrAltered, false}, {photo, nil, true}} {
		if _, err := f.Photos.Append(name, 0, 100, bytes.NewReader(test.part)); err != nil {
			t.Fatal(err)
		}
		if _, err := f.Photos.Append(name, int64(len(test.part)), 5, bytes.NewReader(nil)); !errors.Is(err, test.fails) {
			t.Errorf("%q: %v", test.part, err)
		}
		if _, whole, err := f.Photos.Held(name); whole != test.whole || err != nil {
			t.Errorf("%q: whole %v, %v", test.part, whole, err)
		}
	}
}
