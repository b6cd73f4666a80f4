package folder

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stillroom/server/store"
	"stillroom/server/store/badger"
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

// F17: a photo is whole only when its name is on disk, in every folder above it: one of which that is not sure yet is not
// shown as kept, or a phone would let go of it.
func TestAPhotoIsKeptWhenItsNameIsOnDisk(t *testing.T) {
	data := []byte("not really a picture")
	sum := sha256.Sum256(data)
	name := hex.EncodeToString(sum[:])
	var synced []string
	bad := ""
	dir := t.TempDir()
	o := options()
	o.Disk = &durable.Disk{Step: func(step, path string) error {
		if step != durable.StepFolder {
			return nil
		}
		if bad != "" && path == bad {
			return errors.New("the folder was not written")
		}
		synced = append(synced, path)
		return nil
	}}
	f := mustOpen(t, dir, o)
	for _, bad = range []string{dir, filepath.Join(dir, photosDir), filepath.Join(dir, photosDir, name[:2])} {
		if _, err := f.Photos.Append(name, 0, int64(len(data)), bytes.NewReader(data)); err == nil {
			t.Errorf("kept, although %s was not written", bad)
		}
		have, whole, err := f.Photos.Held(name)
		if whole || err != nil {
			t.Errorf("%s was not written, and the photo is called whole (%v)", bad, err)
		}
		bad, synced = "", nil
		if n, err := f.Photos.Append(name, have, int64(len(data)), bytes.NewReader(data[have:])); err != nil || n != int64(len(data)) {
			t.Fatalf("sent on from %d: %d, %v", have, n, err)
		}
		for _, folder := range []string{dir, filepath.Join(dir, photosDir), filepath.Join(dir, photosDir, name[:2])} {
			if !slices.Contains(synced, folder) {
				t.Errorf("kept before %s was on disk", folder)
			}
		}
		if err := os.RemoveAll(filepath.Join(dir, photosDir)); err != nil {
			t.Fatal(err)
		}
	}
}

// F18: photos leave the room that the journal needs: its mapped pages have no other place to go to.
func TestPhotosLeaveRoomForTheJournal(t *testing.T) {
	room := uint64(1 << 40)
	o := options()
	o.Free = func(string) (uint64, error) { return room, nil }
	f := mustOpen(t, t.TempDir(), o)
	data := []byte("not really a picture")
	sum := sha256.Sum256(data)
	name := hex.EncodeToString(sum[:])
	room = badger.KeepFree - 1
	var full *store.Full
	if n, err := f.Photos.Append(name, 0, int64(len(data)), bytes.NewReader(data)); n != 0 || !errors.As(err, &full) {
		t.Errorf("%d bytes were taken, %v", n, err)
	}
	room = badger.KeepFree
	if n, err := f.Photos.Append(name, 0, int64(len(data)), bytes.NewReader(data)); n != int64(len(data)) || err != nil {
		t.Errorf("with room again: %d, %v", n, err)
	}
}
