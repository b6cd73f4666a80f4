package label

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"stillroom/calc"
)

var update = flag.Bool("update", false, "write the golden files anew")

// list is as long as that of a cream.
const list = "Aqua, Helianthus Annuus Seed Oil, Butyrospermum Parkii Butter, Glycerin, Cetearyl Alcohol, Polysorbate 60, Phenoxyethanol, Xanthan Gum, Tocopherol, Parfum, Ethylhexylglycerin"

var made = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// jars gives n labels of one batch.
func jars(t *testing.T, n int, address string) []Label {
	t.Helper()
	var out []Label
	for _, number := range calc.JarNumbers("7K3QX", n, 1) {
		code, bad := calc.JarCode("7K3QX", number)
		if bad != nil {
			t.Fatal(bad)
		}
		out = append(out, Label{Name: "Heather whipped scrub", Batch: "261125-B2", Shown: calc.ShowJarCode(code), Payload: address + "/j/" + code,
			NetMG: 120_000, Made: "25 Nov 2026", BestBefore: BestBefore(20270531, 20261125), Ingredients: list, Person: "Heatherfold (invented) · hello@heatherfold.example",
			Cautions: []string{"Not in eyes.", "Slippery floor.", "Not food."}})
	}
	return out
}

func mustPDF(t *testing.T, s Sheet, labels []Label) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := PDF(&b, s, labels, made); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestEveryCodeOfEverySheetReadsBack(t *testing.T) {
	for _, tool := range []string{"pdftoppm", "zbarimg"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("NOT CHECKED: %s is not installed, so no printed code was read back (poppler-utils, zbar-tools)", tool)
		}
	}
	for _, s := range Sheets() {
		for i, address := range []string{"http://localhost:8417", "http://stillroom-4f2a.local:8417"} {
			t.Run(s.Key+" "+address, func(t *testing.T) {
				n := s.Columns*s.Rows + 2 // a page and the beginning of the next
				if i > 0 {
					n = 2
				}
				labels := jars(t, n, address)
				// As fine as the printer that the sheet is for, and no finer.
				dpi := strconv.Itoa(int(25.4/s.Dot + 0.5))
				dir := t.TempDir()
				path := filepath.Join(dir, "labels.pdf")
				if err := os.WriteFile(path, mustPDF(t, s, labels), 0o600); err != nil {
					t.Fatal(err)
				}
				if out, err := exec.Command("pdftoppm", "-r", dpi, "-gray", path, filepath.Join(dir, "page")).CombinedOutput(); err != nil {
					t.Fatalf("%v: %s", err, out)
				}
				pages, _ := filepath.Glob(filepath.Join(dir, "page*.pgm"))
				out, err := exec.Command("zbarimg", append([]string{"--quiet", "--raw", "-Sdisable", "-Sqrcode.enable"}, pages...)...).Output()
				if err != nil {
					t.Fatal(err)
				}
				got := strings.Fields(string(out))
				var want []string
				for _, l := range labels {
					want = append(want, l.Payload)
				}
				sort.Strings(got)
				sort.Strings(want)
				if strings.Join(got, "\n") != strings.Join(want, "\n") {
					t.Errorf("read %d of %d codes:\n%s", len(got), len(want), out)
				}
			})
		}
	}
}

func TestPagesAreExactToATenthOfAMillimetre(t *testing.T) {
	if _, err := exec.LookPath("pdfinfo"); err != nil {
		t.Skip("NOT CHECKED: pdfinfo is not installed, so the size of the page was not measured (poppler-utils)")
	}
	size := regexp.MustCompile(`Page size:\s+([0-9.]+) x ([0-9.]+) pts`)
	for _, s := range Sheets() {
		path := filepath.Join(t.TempDir(), "labels.pdf")
		if err := os.WriteFile(path, mustPDF(t, s, jars(t, 1, "http://localhost:8417")), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("pdfinfo", path).Output()
		if err != nil {
			t.Fatal(err)
		}
		m := size.FindSubmatch(out)
		if m == nil {
			t.Fatalf("%s", out)
		}
		for i, want := range []float64{s.PageW, s.PageH} {
			points, _ := strconv.ParseFloat(string(m[i+1]), 64)
			if got := points * point; got < want-0.1 || got > want+0.1 {
				t.Errorf("%s: side %d is %.2f mm, want %.2f", s.Key, i, got, want)
			}
		}
	}
}

func TestSheetsFitTheirPages(t *testing.T) {
	for _, s := range Sheets() {
		x, y := s.corner(s.Columns*s.Rows - 1)
		if right, bottom := x+s.Width, y+s.Height; right > s.PageW+0.01 || bottom > s.PageH+0.01 || s.PitchX < s.Width || s.PitchY < s.Height {
			t.Errorf("%s: the last label ends at %.2f, %.2f", s.Key, right, bottom)
		}
		if found, err := Find(s.Key); err != nil || found != s {
			t.Errorf("%s: %v", s.Key, err)
		}
	}
	if _, err := Find("a3"); err == nil || !strings.Contains(err.Error(), "a4-21") {
		t.Errorf("an unknown sheet: %v", err)
	}
}

func TestSameLabelsGiveTheSameBytes(t *testing.T) {
	s, _ := Find("")
	labels := jars(t, 23, "http://localhost:8417")
	labels[0].Mark = "trial: not for sale"
	labels[1].Name = "Crème à l’œillet et au romarin pour des mains très sèches, édition d’hiver"
	first := mustPDF(t, s, labels)
	for range 5 {
		if !bytes.Equal(first, mustPDF(t, s, labels)) {
			t.Fatal("the same labels gave other bytes")
		}
	}
	golden := filepath.Join("testdata", "labels.golden.pdf")
	if *update {
		if err := os.WriteFile(golden, first, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, want) {
		t.Errorf("the sheet differs from %s; look at both, then go test ./server/label -update", golden)
	}
}

func TestWordsOnALabel(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("NOT CHECKED: pdftotext is not installed, so the words were not read back (poppler-utils)")
	}
	for _, s := range Sheets() {
		labels := jars(t, 2, "http://localhost:8417")
		labels[1].Mark, labels[1].NetMG = "trial: not for sale", 0
		path := filepath.Join(t.TempDir(), "labels.pdf")
		if err := os.WriteFile(path, mustPDF(t, s, labels), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		text := string(out)
		for _, want := range []string{"Heather", "261125-B2", labels[0].Shown, labels[1].Shown, "120 g", "4.2 oz", "25 Nov 2026", "best before end of 05/2027", "trial: not for sale", "Not in eyes.", "Not food.", "Heatherfold (invented)"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", s.Key, want, text)
			}
		}
		if n := strings.Count(text, "trial"); n != 1 {
			t.Errorf("%s: %d labels say trial, one is", s.Key, n)
		}
	}
}

func TestTooMuchIsSaid(t *testing.T) {
	roll, _ := Find("roll-57")
	long := jars(t, 1, "http://a-very-long-name-of-a-home-store-that-somebody-chose-for-fun.and-another-one.example.org:8417/labels/of/mine/and/more")
	tests := []struct {
		name   string
		labels []Label
		says   string
	}{
		{"no jars", nil, "no jar"},
		{"a payload too long for the roll", long, "shorter address"},
	}
	for _, test := range tests {
		if _, err := PDF(&bytes.Buffer{}, roll, test.labels, made); err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

func TestNetContentsAreNeverOverstated(t *testing.T) {
	tests := []struct {
		mg     int64
		g, oz  string
		source string
	}{
		{100_000, "100 g", "3.5 oz", "standards 1.3, 100 g"},
		{120_000, "120 g", "4.2 oz", "standards 1.3, 120 g"},
		{250_000, "250 g", "8.8 oz", "standards 1.3, 250 g"},
		{226_796, "226 g", "7.9 oz", "standards 1l: 227 g would overstate 8 oz"},
		{226_797, "226 g", "8 oz", "8 oz is 226.796185 g"},
		{121_999, "121 g", "4.3 oz", ""},
		{5_550, "5.5 g", "0.1 oz", ""},
		{1_250_000, "1.25 kg", "44 oz", ""},
		{1_259_999, "1.25 kg", "44.4 oz", ""},
		{12_345_678, "12.3 kg", "435 oz", ""},
	}
	for _, test := range tests {
		if g, oz := Grams(test.mg), Ounces(test.mg); g != test.g || oz != test.oz {
			t.Errorf("%d mg: %s and %s, want %s and %s (%s)", test.mg, g, oz, test.g, test.oz, test.source)
		}
	}
}

func BenchmarkPDF(b *testing.B) {
	var labels []Label
	for i := range 1000 {
		labels = append(labels, Label{Name: "Heather whipped scrub", Batch: "261125-B2", Shown: "7K3QX-04-M", Payload: fmt.Sprintf("http://localhost:8417/j/7K3QX%03d", i), NetMG: 120_000, Made: "25 Nov 2026"})
	}
	for b.Loop() {
		if _, err := PDF(&bytes.Buffer{}, sheets[0], labels, made); err != nil {
			b.Fatal(err)
		}
	}
}
