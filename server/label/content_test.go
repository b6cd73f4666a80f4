package label

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// words are those of a PDF in a row.
func words(t *testing.T, pdf []byte) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("NOT CHECKED: pdftotext is not installed, so the words were not read back (poppler-utils)")
	}
	path := filepath.Join(t.TempDir(), "labels.pdf")
	if err := os.WriteFile(path, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-raw", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func TestListOfIngredientsIsWholeOrElsewhere(t *testing.T) {
	long := strings.TrimSuffix(strings.Repeat("Sodium Lauroyl Methyl Isethionate, Butyrospermum Parkii Butter, ", 12), ", ")
	tests := []struct {
		name, sheet, list string
		cautions          int
		whole             bool
		says              []string
	}{
		{"a cream on the usual sheet", "a4-21", list, 3, true, nil},
		{"a cream on the large sheet", "a4-8", list, 3, true, nil},
		{"a cream on the roll", "roll-57", list, 1, true, nil},
		{"far too long for the roll", "roll-57", long, 1, false, []string{"ingredient list"}},
		{"far too long, and many cautions", "roll-57", long, 30, false, []string{"ingredient list", "cautions"}},
		{"far too long for the usual sheet", "a4-21", long, 1, false, []string{"ingredient list"}},
		{"long on the large sheet", "a4-8", long, 1, true, nil},
	}
	for _, test := range tests {
		s, _ := Find(test.sheet)
		labels := jars(t, 3, "http://localhost:8417")
		for i := range labels {
			labels[i].Ingredients, labels[i].Cautions = test.list, nil
			for range test.cautions {
				labels[i].Cautions = append(labels[i].Cautions, "Not in eyes: rinse with water.")
			}
		}
		var pdf bytes.Buffer
		says, err := PDF(&pdf, s, labels, made)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if len(says) != len(test.says) {
			t.Errorf("%s: it says %q", test.name, says)
		}
		for i, want := range test.says {
			if i < len(says) && !strings.Contains(says[i], want) {
				t.Errorf("%s: it says %q", test.name, says[i])
			}
		}
		got := strings.Join(strings.Fields(words(t, pdf.Bytes())), " ")
		if n := strings.Count(got, "Ingredients: "+test.list); (n == 3) != test.whole || n != 3 && n != 0 {
			t.Errorf("%s: the list stands on %d of 3 labels:\n%s", test.name, n, got)
		}
		if n := strings.Count(got, elsewhere); (n == 3) == test.whole {
			t.Errorf("%s: %d labels say where the list is", test.name, n)
		}
	}
}

// What people read on the labels of one batch, as words.
func TestWordsOfASheetStandAsRecorded(t *testing.T) {
	labels := jars(t, 2, "http://localhost:8417")
	labels[1].Mark = "trial: not for sale"
	var all strings.Builder
	for _, s := range Sheets() {
		all.WriteString("== " + s.Key + "\n" + strings.ReplaceAll(words(t, mustPDF(t, s, labels)), "\f", ""))
	}
	golden := filepath.Join("testdata", "words.golden.txt")
	if *update {
		if err := os.WriteFile(golden, []byte(all.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if all.String() != string(want) {
		t.Errorf("the words differ from %s; look at both, then go test ./server/label -update\n%s", golden, all.String())
	}
}

func TestBestBeforeNeverPassesTheDay(t *testing.T) {
	tests := []struct {
		day, made int64
		want      string
	}{
		{20270531, 20261125, "best before end of 05/2027"},
		{20270530, 20261125, "best before end of 04/2027"},
		{20280229, 20261125, "best before end of 02/2028"},
		{20270228, 20261125, "best before end of 02/2027"},
		{20270115, 20261125, "best before end of 12/2026"},
		{20261220, 20261125, "best before 20 Dec 2026"},
		{20270101, 20261125, "best before end of 12/2026"},
		{0, 20261125, ""},
	}
	for _, test := range tests {
		if got := BestBefore(test.day, test.made); got != test.want {
			t.Errorf("%d, made %d: %q, want %q", test.day, test.made, got, test.want)
		}
	}
}
