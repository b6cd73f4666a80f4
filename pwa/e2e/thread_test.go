package e2e

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
	"stillroom/server/label"
)

// One batch through the whole house: a formula is written, weighed, slipped and corrected, filled, labelled, and found
// again by its code and by its lot, with the home store there.
func TestOneBatchThroughTheWholeHouse(t *testing.T) {
	atBothSizes(t, func(t *testing.T, engine string, o webdriver.Options) {
		store := startStore(t, false)
		profile := t.TempDir()
		o.Profile = profile
		size := fmt.Sprint(engine, "-", max(o.Width, 390))
		p := openPhone(t, engine, store, o, "/", "today")
		p.See("An empty book.")
		p.InTheBook()

		p.ReceiveLot("glycerin", "glycerin", "G-17", "1000")
		p.WriteScrub(scrub.name)
		p.See("100.00")
		p.Shot("formula-" + size)
		p.Tap("Save")
		p.See("revision 1")
		batch := p.StartBatch()

		p.DoUntil("weigh", "glycerin")
		p.SeeIn(`[data-part="lots"]`, "G-17")
		p.DoUntil("weigh", "sodium cocoyl")
		p.SeeIn(".weighing", "300.0")
		p.Shot("bench-" + size)
		p.Weigh("310.0")
		p.DoUntil("weigh", "stearic")
		p.CorrectWeight("sodium cocoyl", "299,8", "read 310 off the wrong line")
		p.DoAll()

		p.SeeIn(`[data-struck="true"] s`, "310")
		p.See("read 310 off the wrong line")
		p.See("299.8")
		codes := p.JarCodes()
		if len(codes) != 23 {
			t.Fatalf("%d jars were minted, want 23", len(codes))
		}
		p.InTheBook()
		p.Gone("on this phone")
		p.Shot("record-" + size)

		pages := printed(t, store, batch, 2)
		readByAnother(t, pages, codes)

		p.FindByTyping(strings.ToLower(codes[4]))
		p.See(scrub.name)
		p.See("jar 5 of 23")

		p.Go("/shelf", "shelf")
		p.Tap("glycerin G-17")
		p.At("lot")
		p.SeeIn(`[data-part="trace-batches"]`, scrub.name)
		if n := p.JarCodes(); len(n) != 23 {
			t.Errorf("the lot is traced to %d jars, want 23", len(n))
		}
		if engine == "chromium" && o.Width == 0 {
			p.Close()
			scanned(t, store, profile, pages[0], codes[4])
		}
	})
}

// scanned holds the fifth printed label before the camera of the same phone.
func scanned(t *testing.T, store *homeStore, profile string, sheet image.Image, code string) {
	t.Helper()
	s, err := label.Find("a4-21")
	must(t, err)
	x, y := s.Left+float64(4%s.Columns)*s.PitchX, s.Top+float64(4/s.Columns)*s.PitchY
	camera := film(t, cut(sheet, dpi, x, y, s.Width, s.Height))
	p := openPhone(t, "chromium", store, webdriver.Options{Profile: profile, Camera: camera}, "/scan", "scan")
	p.At("jar")
	url, err := p.URL()
	must(t, err)
	if !strings.HasSuffix(url, "/j/"+code) {
		t.Errorf("the camera led to %s, want the jar %s", url, code)
	}
	p.See("jar 5 of 23")
}

const dpi = 300

// printed gets the labels of a batch as a phone does and gives each page as a picture.
func printed(t *testing.T, store *homeStore, batch string, pages int) []image.Image {
	t.Helper()
	status, pdf := labelsOf(t, store, batch)
	if status != http.StatusOK || !strings.HasPrefix(pdf, "%PDF") {
		t.Fatalf("labels: %d, %.200q", status, pdf)
	}
	var pictures []image.Image
	for n := range pages {
		pictures = append(pictures, page(t, []byte(pdf), n+1, dpi))
	}
	return pictures
}

// readByAnother reads every QR code of the printed pages by a program that we did not write.
func readByAnother(t *testing.T, pages []image.Image, codes []string) {
	t.Helper()
	needProgram(t, "zbarimg")
	var read []string
	for i, p := range pages {
		path := filepath.Join(t.TempDir(), fmt.Sprintf("page%d.png", i))
		var b bytes.Buffer
		must(t, png.Encode(&b, p))
		must(t, os.WriteFile(path, b.Bytes(), 0o644))
		out, err := exec.Command("zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", path).Output()
		if err != nil {
			t.Fatalf("zbarimg: %v", err)
		}
		for _, line := range strings.Fields(string(out)) {
			read = append(read, line[strings.LastIndex(line, "/")+1:])
		}
	}
	want := slices.Sorted(slices.Values(codes))
	slices.Sort(read)
	if !slices.Equal(read, want) {
		t.Errorf("another reader finds on the printed sheet\n%v, want\n%v", read, want)
	}
}

// All of it again with the home store's process stopped; when it runs again everything is in the book and on a second
// device, once each.
func TestABatchWithTheHomeStoreSwitchedOff(t *testing.T) {
	inBoth(t, func(t *testing.T, engine string) {
		store := startStore(t, false)
		p := openPhone(t, engine, store, webdriver.Options{Profile: t.TempDir()}, "/", "today")
		p.InTheBook()
		p.ReadyForOffline()
		store.Stop()

		must(t, p.Reload())
		p.At("today")
		p.ReceiveLot("glycerin", "glycerin", "G-17", "1000")
		p.WriteScrub(scrub.name)
		p.Tap("Save")
		p.See("on this phone")
		batch := p.StartBatch()
		p.DoUntil("weigh", "sodium cocoyl")
		p.Pad("123.4")
		p.SeeIn(`[data-part="pad-text"]`, "123.4")
		must(t, p.Reload())
		p.At("bench")
		p.SeeIn("h1", "sodium cocoyl")
		p.SeeIn(`[data-part="pad-text"]`, "123.4")
		for range 5 {
			dry()
			p.TapAt(`[data-key="back"]`)
		}
		p.DoAll()
		codes := p.JarCodes()
		if len(codes) != 23 {
			t.Fatalf("%d jars were minted, want 23", len(codes))
		}
		p.FindByTyping(codes[22])
		p.See("jar 23 of 23")
		p.Go("/batches/"+batch, "batch")
		p.See("on this phone")
		unsent := p.Unsent()
		if unsent < 12 {
			t.Errorf("only %d rows are said to be on this phone alone, and at least 12 were written", unsent)
		}

		store.Start()
		p.InTheBook()
		p.Gone("on this phone")

		second := openPhone(t, engine, store, webdriver.Options{}, "/batches/"+batch, "batch")
		second.See(scrub.name)
		if got := second.JarCodes(); !slices.Equal(got, codes) {
			t.Errorf("the second device shows %v, want %v", got, codes)
		}
		weighed := second.Count(`[data-what="weighed"]`)
		if want := len(scrub.lines); weighed != want {
			t.Errorf("the second device shows %d weighings, want %d", weighed, want)
		}
		second.Close()
		p.Close()
		store.Stop()
		onceEach(t, store.Export(), unsent)
	})
}

// onceEach looks at the exported book: each identity stands in it once, and nothing that was written is missing.
func onceEach(t *testing.T, lines []string, least int) {
	t.Helper()
	seen := map[string]bool{}
	for _, line := range lines {
		var e struct {
			Stream string
			Device string
			Seq    uint64
		}
		if err := json.Unmarshal([]byte(line), &e); err != nil {
			t.Fatalf("export: %v in %q", err, line)
		}
		if e.Device == "" || e.Seq == 0 {
			continue // a line about the book itself
		}
		id := fmt.Sprint(e.Stream, " ", e.Device, ".", e.Seq)
		if seen[id] {
			t.Errorf("%s stands in the book twice", id)
		}
		seen[id] = true
	}
	if len(seen) < least {
		t.Errorf("the book has %d entries, and %d were written on the phone", len(seen), least)
	}
}
