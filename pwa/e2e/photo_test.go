package e2e

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// A photo that is taken while the home store is away stays over a reload, comes to the store by itself when that is back,
// small and under the name of its bytes, is among what is exported, and comes
// again to a home store that was brought back from before it.
func TestAPhotoIsKeptHereAndComesToTheHomeStore(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, true)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/formulas", "formulas")
		p.ReadyForOffline()
		kept := t.TempDir()
		ran(t, "backup", "-book", store.book, "-to", kept)
		p.Tap("Marsh hand cream")
		p.At("formula")
		store.Stop()
		p.Has(`input[name="photo"]`)
		e, err := p.Find(`input[name="photo"]`)
		must(t, err)
		must(t, e.Type(pageOfNotes(t, 2400, 1800)))
		p.Has(`[data-part="photos"] img`)
		p.See("1 row on this phone")
		must(t, p.Reload())
		p.At("formula")
		p.Has(`[data-part="photos"] img`)
		store.Start()
		p.InTheBook()
		var name string
		must(t, p.Run(`return document.querySelector('[data-photo]').dataset.photo`, &name))
		var data []byte
		p.until("the photo at the home store", func() (bool, error) {
			data, err = os.ReadFile(filepath.Join(store.book, "photos", name[:2], name))
			if errors.Is(err, fs.ErrNotExist) {
				return false, nil
			}
			return true, err
		})
		if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != name {
			t.Error("the file at the home store is not what its name says")
		}
		var size []int
		must(t, p.Await(`const i = document.querySelector('[data-part="photos"] img'); await i.decode(); return [i.naturalWidth, i.naturalHeight]`, &size))
		if len(size) != 2 || size[0] != 1600 || size[1] != 1200 {
			t.Errorf("kept at %v pixels, want 1600 by 1200", size)
		}
		store.Stop()
		out := t.TempDir()
		if said, err := exec.Command(program(), "export", "-book", store.book, "-photos", out).CombinedOutput(); err != nil {
			t.Fatalf("export: %v\n%s", err, said)
		}
		if got, err := os.ReadFile(filepath.Join(out, "Marsh hand cream-"+name[:8]+".jpg")); err != nil || !bytes.Equal(got, data) {
			t.Errorf("the exported photo: %d bytes, %v", len(got), err)
		}

		// The home store comes back as it was before the photo: the phone brings it once more.
		made, err := filepath.Glob(filepath.Join(kept, "*.backup"))
		must(t, err)
		store.book, store.demo = filepath.Join(t.TempDir(), "again"), false
		ran(t, "restore", "-from", made[0], "-book", store.book)
		store.Start()
		p.InTheBook()
		p.until("the photo at the restored home store", func() (bool, error) {
			got, err := os.ReadFile(filepath.Join(store.book, "photos", name[:2], name))
			return err == nil && bytes.Equal(got, data), nil
		})
	})
}

// pageOfNotes is a picture file that stands for one of a camera.
func pageOfNotes(t *testing.T, width, height int) string {
	t.Helper()
	page := image.NewGray(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			if y%120 > 8 {
				page.SetGray(x, y, color.Gray{Y: 235})
			}
		}
	}
	path := filepath.Join(t.TempDir(), "page.png")
	f, err := os.Create(path)
	must(t, err)
	must(t, png.Encode(f, page))
	must(t, f.Close())
	return path
}
