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
	// A README is fetched more often than looked at closely: one pixel for each of the screen's own.
	must(t, p.DevTools("Emulation.setDeviceMetricsOverride", map[string]any{"width": 390, "height": 844, "deviceScaleFactor": 1, "mobile": true}))
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

	p.WriteScrub(scrub.name)
	p.Tap("Save")
	p.See("revision 1")
	p.Tap("Make a batch")
	p.At("start")
	p.Tap("sale")
	p.Plan("24", "120", "4")
	p.Tap("Start")
	p.At("bench")
	batch := p.key()
	p.DoUntil("weigh", "sodium cocoyl")
	p.keep("bench")

	// What the demo invented is never sold, so a stall needs a batch of one's own.
	p.DoAll()
	p.Go("/batches/"+batch+"/look", "look")
	p.Tap("firmer")
	p.Tap("Looked at")
	p.Fill("Released by", "Ida Fenn")
	p.TapIn(`[data-part="release"]`, "Release")
	p.Has(`[data-part="labels"]`)
	p.Go("/stall/out", "stall-out")
	p.FillAt(`.count-row input`, "18")
	p.TapAt(`[data-part="move"]`)
	p.At("stall")
	p.TapAt(".sale-name")
	p.FillAt(`input[name="price"]`, "9,50")
	p.Tap("Keep the price")
	p.SeeIn(`[data-part="tiles"]`, "9.50")
	p.TapAt(`[data-part="sell"]`)
	p.SeeIn(`[data-part="taken"]`, "9.50")
	dry()
	p.keep("stall")
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
