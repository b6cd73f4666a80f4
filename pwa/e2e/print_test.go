package e2e

import (
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"stillroom/pwa/e2e/webdriver"
)

// What is given away on paper, as the browser prints it, is read back by programs that we did not write: it says what must be said, nothing of what is the
// maker's own, and nothing is cut off. Only Chromium's driver prints; the style sheet that WebKit prints by is the same.
func TestWhatIsPrintedReadsBack(t *testing.T) {
	need(t, "chromium")
	for _, program := range []string{"pdftotext", "pdftoppm"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skipf("SKIPPED ALOUD: no %s here, so no print was read back", program)
		}
	}
	p := openPhone(t, "chromium", startStore(t, true), webdriver.Options{Profile: t.TempDir()}, "/formulas", "formulas")
	p.Tap("Osier cleansing bar")
	p.At("formula")
	p.Tap("Share")
	p.At("share")
	p.Tap("Formula card")
	p.At("card")
	p.SeeIn(`[data-part="counts"]`, "not checked")
	for _, sheet := range []paper{{"A4", 21, 29.7}, {"Letter", 21.59, 27.94}} {
		card := p.printed("card-"+sheet.name, sheet)
		card.says("Osier cleansing bar", "80 °C", "37.8", "Respirator (FFP2, N95 or better)", "goggles", "Cautions", "out of the eyes", "not checked", "Not checked", "does not find a product safe or legal", "together", "100.00 %")
		card.counts(p.TextAt(`[data-part="counts"] small`))
		card.keepsToItself()
		card.isWhole(sheet)
		if page := card.scanned(); !strings.HasPrefix(page, "Formula: Osier cleansing bar\nA: heat 80 C, 20 min\n") || !strings.Contains(page, "water, distilled q.s.") && !strings.Contains(page, "water, distilled 9.6%") {
			t.Errorf("the code of %s opens as %q", sheet.name, page)
		}
	}
	p.Back()
	p.At("share")
	p.Tap("Class sheet")
	p.At("class")
	p.Has(`[data-part="learner"]`)
	class := p.printed("class", paper{"A4", 21, 29.7})
	class.says("9 learners", "80 °C", "Wear goggles, heat-proof gloves, sleeves down: this phase is hot.", "Respirator (FFP2, N95 or better)", "any allergies, any asthma", "To buy", "Not checked", "does not find a product safe or legal", "What I saw")
	class.keepsToItself()
	class.isWhole(paper{"A4", 21, 29.7})
	if n := strings.Count(class.text, "pH, and how it was measured"); n != 9 || class.pages < 10 {
		t.Errorf("%d learners' pages among %d, want 9 and the teacher's", n, class.pages)
	}
	// A learner photographs the code on the page: it opens as a notebook page, every line understood.
	photo := filepath.Join(t.TempDir(), "page")
	must(t, exec.Command("pdftoppm", "-png", "-gray", "-r", "200", "-singlefile", "-f", strconv.Itoa(class.pages), class.path, photo).Run())
	p.Go("/scan", "scan")
	p.Has(`.photo input`)
	e, err := p.Find(`.photo input`)
	must(t, err)
	must(t, e.Type(photo+".png"))
	p.At("notebook")
	p.See("sodium cocoyl isethionate powder")
	p.See("44.00 %")
	if n := p.Count(`.read-line.unread`); n != 0 {
		t.Errorf("%d lines of the scanned page were not understood", n)
	}
}

// paper is a sheet in centimetres.
type paper struct {
	name          string
	width, height float64
}

type print struct {
	t     *testing.T
	name  string
	path  string
	text  string // words in order, blanks made one
	pages int
}

// printed prints the screen that is open; the PDF is kept under .build/e2e for who wants to look.
func (p phone) printed(name string, on paper) print {
	p.t.Helper()
	pdf, err := p.Print(on.width, on.height)
	must(p.t, err)
	path := filepath.Join(root, ".build", "e2e", name+".pdf")
	must(p.t, os.MkdirAll(filepath.Dir(path), 0o755))
	must(p.t, os.WriteFile(path, pdf, 0o644))
	out, err := exec.Command("pdftotext", "-raw", path, "-").Output()
	must(p.t, err)
	return print{p.t, name, path, strings.Join(strings.Fields(string(out)), " "), strings.Count(string(out), "\f")}
}

func (p print) says(words ...string) {
	p.t.Helper()
	for _, w := range words {
		if !strings.Contains(p.text, w) {
			p.t.Errorf("%s does not say %q:\n%s", p.name, w, p.text)
		}
	}
}

// counts holds what is listed as not checked against the count that the head of the findings gives.
func (p print) counts(says string) {
	p.t.Helper()
	m := regexp.MustCompile(`(\d+) not checked`).FindStringSubmatch(says)
	if m == nil {
		p.t.Errorf("%s: no count of what was not checked in %q", p.name, says)
		return
	}
	p.says(says, "Not checked "+m[1])
	if n := strings.Count(p.text, "not checked:"); strconv.Itoa(n) != m[1] {
		p.t.Errorf("%s lists %d that were not checked and says %s", p.name, n, m[1])
	}
}

// keepsToItself looks for suppliers, lots and costs of the demo.
func (p print) keepsToItself() {
	p.t.Helper()
	raw, err := os.ReadFile(filepath.Join(root, "testdata", "demo", "lots.json"))
	must(p.t, err)
	var demo struct {
		Steps []struct {
			Args struct{ Code, Supplier, SupplierLot string }
		}
	}
	must(p.t, json.Unmarshal(raw, &demo))
	if len(demo.Steps) < 20 {
		p.t.Fatalf("only %d lots to look for", len(demo.Steps))
	}
	words := []string{"€", "supplier lot", "on hand", "cost "}
	for _, s := range demo.Steps {
		words = append(words, s.Args.Supplier, s.Args.SupplierLot)
	}
	slices.Sort(words)
	for _, w := range slices.Compact(words) {
		if w != "" && strings.Contains(p.text, w) {
			p.t.Errorf("%s tells %q", p.name, w)
		}
	}
}

// scanned is what another's reader makes of the code that is printed, on whichever page it stands.
func (p print) scanned() string {
	p.t.Helper()
	needProgram(p.t, "zbarimg")
	dir := p.t.TempDir()
	must(p.t, exec.Command("pdftoppm", "-png", "-gray", "-r", "200", p.path, filepath.Join(dir, "page")).Run())
	pages, err := filepath.Glob(filepath.Join(dir, "*.png"))
	must(p.t, err)
	// It calls a page without a code a failure, so what counts is what it read.
	out, err := exec.Command("zbarimg", append([]string{"--quiet", "--raw", "-Sdisable", "-Sqrcode.enable"}, pages...)...).Output()
	if len(out) == 0 {
		p.t.Errorf("%s: no code was read: %v", p.name, err)
	}
	return string(out)
}

// isWhole finds ink in the margin that printers cannot reach, and words that stand beyond the sheet.
func (p print) isWhole(on paper) {
	p.t.Helper()
	const dpi, margin = 60, 12 // dots an inch; dots, 5 mm
	dir := p.t.TempDir()
	must(p.t, exec.Command("pdftoppm", "-png", "-gray", "-r", strconv.Itoa(dpi), p.path, filepath.Join(dir, "page")).Run())
	pages, err := filepath.Glob(filepath.Join(dir, "*.png"))
	must(p.t, err)
	if len(pages) == 0 || len(pages) != p.pages {
		p.t.Fatalf("%s: %d pages drawn and %d read", p.name, len(pages), p.pages)
	}
	for _, path := range pages {
		f, err := os.Open(path)
		must(p.t, err)
		page, err := png.Decode(f)
		must(p.t, err)
		must(p.t, f.Close())
		size, edge := page.Bounds(), margin
		if want := on.width / 2.54 * dpi; float64(size.Dx()) < want-2 || float64(size.Dx()) > want+2 {
			p.t.Errorf("%s is %d dots wide, want %.0f", p.name, size.Dx(), want)
		}
		if at := ink(page, size, size.Inset(edge)); at != "" {
			p.t.Errorf("%s, %s: something is printed at the edge: %s", p.name, filepath.Base(path), at)
		}
	}
	out, err := exec.Command("pdftotext", "-bbox", p.path, "-").Output()
	must(p.t, err)
	width := on.width / 2.54 * 72
	for _, m := range regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="[-\d.]+" xMax="([-\d.]+)" yMax="[-\d.]+">(.*?)</word>`).FindAllStringSubmatch(string(out), -1) {
		left, err := strconv.ParseFloat(m[1], 64)
		must(p.t, err)
		right, err := strconv.ParseFloat(m[2], 64)
		must(p.t, err)
		if left < 0 || right > width {
			p.t.Errorf("%s: %q stands beyond the sheet, from %.0f to %.0f of %.0f points", p.name, m[3], left, right, width)
		}
	}
}

// ink tells where something dark stands outside of inner, "" when nothing does.
func ink(page image.Image, all, inner image.Rectangle) string {
	for y := all.Min.Y; y < all.Max.Y; y++ {
		for x := all.Min.X; x < all.Max.X; x++ {
			if r, _, _, _ := page.At(x, y).RGBA(); r < 0xd000 && !image.Pt(x, y).In(inner) {
				return fmt.Sprintf("dot %d, %d", x, y)
			}
		}
	}
	return ""
}
