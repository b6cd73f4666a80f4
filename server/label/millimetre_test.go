package label

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// paper is a page as a printer of 300 dots to the inch draws it.
type paper struct {
	w, h int
	grey []byte
}

const dotsPerMM = 300 / 25.4

func rendered(t *testing.T, pdf []byte) paper {
	t.Helper()
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("NOT CHECKED: pdftoppm is not installed, so nothing was measured on the page (poppler-utils)")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "labels.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-r", "300", "-gray", "-f", "1", "-l", "1", "-singlefile", file, filepath.Join(dir, "page")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	data, err := os.ReadFile(filepath.Join(dir, "page.pgm"))
	if err != nil {
		t.Fatal(err)
	}
	var p paper
	var most int
	if _, err := fmt.Fscanf(bytes.NewReader(data), "P5\n%d %d\n%d\n", &p.w, &p.h, &most); err != nil {
		t.Fatal(err)
	}
	p.grey = data[len(data)-p.w*p.h:]
	return p
}

func (p paper) dark(x, y int) bool {
	return x >= 0 && y >= 0 && x < p.w && y < p.h && p.grey[y*p.w+x] < 128
}

// ink is the smallest rectangle around what is dark within a rectangle, all in millimetres.
func (p paper) ink(left, top, right, bottom float64) (l, t, r, b float64) {
	l, t, r, b = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for y := int(math.Round(top * dotsPerMM)); y < int(math.Round(bottom*dotsPerMM)); y++ {
		for x := int(math.Round(left * dotsPerMM)); x < int(math.Round(right*dotsPerMM)); x++ {
			if p.dark(x, y) {
				l, r = min(l, float64(x)/dotsPerMM), max(r, float64(x+1)/dotsPerMM)
				t, b = min(t, float64(y)/dotsPerMM), max(b, float64(y+1)/dotsPerMM)
			}
		}
	}
	return l, t, r, b
}

func near(got, want float64) bool { return math.Abs(got-want) <= 0.3 }

// The corners of the labels as the paper's maker cuts them, in millimetres, for the first and the last label of a page.
func TestMillimetresOnThePage(t *testing.T) {
	tests := []struct {
		sheet         string
		width, height float64
		first, last   [2]float64
	}{
		{"a4-21", 63.5, 38.1, [2]float64{7.21, 15.15}, [2]float64{139.29, 243.75}},
		{"a4-8", 99.1, 67.7, [2]float64{4.65, 13.1}, [2]float64{106.25, 216.2}},
		{"roll-57", 57, 32, [2]float64{0, 0}, [2]float64{0, 0}},
	}
	for _, test := range tests {
		s, err := Find(test.sheet)
		if err != nil {
			t.Fatal(err)
		}
		page := rendered(t, mustPDF(t, s, jars(t, s.Columns*s.Rows, "http://localhost:8417")))
		for _, at := range [][2]float64{test.first, test.last} {
			x, y := at[0], at[1]
			// The upper right finder is the corner of the code: its upper edge is seven modules, and nothing else is that high.
			_, top, right, _ := page.ink(x+test.width*0.8, y, x+test.width, y+8)
			run := 0
			for px := int(math.Round(right*dotsPerMM)) - 1; page.dark(px, int(math.Round(top*dotsPerMM))+1); px-- {
				run++
			}
			module := float64(run) / 7 / dotsPerMM
			if module < 0.4 || module > 0.66 {
				t.Errorf("%s at %v: a module is %.3f mm", test.sheet, at, module)
			}
			if want := x + test.width - 4*module; !near(right, want) {
				t.Errorf("%s at %v: the code ends at %.2f mm, want %.2f", test.sheet, at, right, want)
			}
			if want := y + 0.6 + 4*module; !near(top, want) {
				t.Errorf("%s at %v: the code begins at %.2f mm from the top, want %.2f", test.sheet, at, top, want)
			}
			// Words begin at the margin, and nothing comes nearer to an edge than what a sheet may shift.
			left, above, _, below := page.ink(x+0.01, y+0.01, x+test.width*0.5, y+test.height-0.01)
			if !near(left, x+1.8) || above < y+1.8 || below > y+test.height-1.5 {
				t.Errorf("%s at %v: words from %.2f mm, between %.2f and %.2f from the top", test.sheet, at, left, above, below)
			}
		}
	}
}

// The figures of the net content stand as tall as the law asks. Nothing else is on such a label, so that they are what is
// measured.
func TestFiguresOfTheNetContentAreTallEnough(t *testing.T) {
	s, _ := Find("a4-8")
	for _, test := range []struct {
		mg   int64
		want float64
	}{{30_000, 2}, {120_000, 3}, {250_000, 4}, {1_100_000, 6}} {
		l := jars(t, 1, "http://localhost:8417")
		l[0] = Label{Shown: ".", Batch: ".", Payload: l[0].Payload, NetMG: test.mg}
		page := rendered(t, mustPDF(t, s, l))
		x, y := s.corner(0)
		_, top, _, bottom := page.ink(x, y+1.8, x+5, y+1.8+1.3*test.want)
		if tall := bottom - top; tall < test.want || tall > test.want*1.25 {
			t.Errorf("%d mg: figures of %.2f mm, want %.0f", test.mg, tall, test.want)
		}
	}
}
