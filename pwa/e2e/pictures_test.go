package e2e

import (
	"bytes"
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

var takePictures = flag.Bool("pictures", false, "take the README's pictures anew")

// The README shows the real app with the demo workshop; `go run ./cmd/build pictures` takes the pictures anew.
func TestPicturesOfTheReadme(t *testing.T) {
	if !*takePictures {
		t.Skip("only by go run ./cmd/build pictures: it writes into the sources")
	}
	need(t, "chromium")
	store := startStore(t, true)
	p := openPhone(t, "chromium", store, webdriver.Options{Profile: t.TempDir()}, "/formulas", "formulas")
	p.InTheBook()
	p.Tap("Marsh hand cream")
	p.At("formula")
	p.Has("[data-line]")
	p.keep("formula")

	p.Go("/make", "make")
	p.Tap("Marsh hand cream")
	p.At("batch")
	p.Has(`[data-what="weighed"]`)
	p.keep("record")

	// The morning of a market: the demo's last one is over, and an empty table shows little.
	p.Go("/stall/out", "stall-out")
	must(t, p.Run(`for (const all of document.querySelectorAll('[data-part="standings"] button')) all.click()`, nil))
	p.TapAt(`[data-part="move"]`)
	p.At("stall")
	p.Has("[data-product]")
	p.keep("stall")

	p.WriteScrub(scrub.name)
	p.Tap("Save")
	p.See("revision 1")
	p.StartBatch()
	p.DoUntil("weigh", "sodium cocoyl")
	p.keep("bench")
}

// keep writes the screen as a picture of the README, pressed as small as it goes.
func (p phone) keep(name string) {
	p.t.Helper()
	must(p.t, p.Run(`scrollTo(0, 0); document.activeElement?.blur()`, nil))
	raw, err := p.Picture()
	must(p.t, err)
	picture, err := png.Decode(bytes.NewReader(raw))
	must(p.t, err)
	var out bytes.Buffer
	must(p.t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, picture))
	dir := filepath.Join(root, ".readme")
	must(p.t, os.MkdirAll(dir, 0o755))
	must(p.t, os.WriteFile(filepath.Join(dir, name+".png"), out.Bytes(), 0o644))
	if size := out.Len(); size > 120_000 {
		p.t.Errorf("%s.png has %d bytes, more than a README should ask for", name, size)
	}
}
