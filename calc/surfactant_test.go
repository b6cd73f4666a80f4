package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

func TestPublishedActiveMatter(t *testing.T) {
	for _, row := range published(t, "surfactant") {
		f, k := blendBook(t, row["lines"])
		s := calc.SurfactantsOf(f, k)
		if row["class"] == "" {
			near(t, row, s.Total)
			continue
		}
		got := decimal.Decimal{}
		for _, c := range s.Classes {
			if string(c.Charge) == row["class"] {
				got = got.Add(c.Percent)
			}
		}
		near(t, row, got)
	}
}

func TestTheRulerNamesTheTwoThatClash(t *testing.T) {
	k := calc.Given()
	f := calc.Formula{Lines: []calc.Line{{ID: "w", Ingredient: "water", QS: true}, {ID: "s", Ingredient: "sci-powder", Percent: 10 * calc.OnePercent}, {ID: "b", Ingredient: "sodium-benzoate", Percent: calc.OnePercent / 2}}}
	w := calc.PHBars(f, k)
	if len(w.Bars) != 3 || w.Low != 500 || w.High != 500 || w.Empty() {
		t.Fatalf("isethionate from 5 and benzoate up to 5 meet at 5: %+v", w)
	}
	wide := *k.Ingredients["sodium-benzoate"].PHKeeps
	wide.High = 480
	b := *k.Ingredients["sodium-benzoate"]
	b.PHKeeps = &wide
	k.Ingredients["sodium-benzoate"] = &b
	if w = calc.PHBars(f, k); !w.Empty() || w.Bars[w.Lowest].Line != "b" || w.Bars[w.Highest].Line != "s" {
		t.Errorf("%+v", w)
	}
	for _, x := range calc.SurfactantsOf(f, k).Findings {
		if x.Rule == "keeping-window" && (x.Level != calc.Care || !strings.Contains(x.Says, "no pH suits both")) {
			t.Errorf("%+v", x)
		}
	}
}

func TestNothingIsSaidOfMildness(t *testing.T) {
	out, err := calc.Do("surfactant", []byte(`{"formula":{"lines":[{"ingredient":"water","qs":true},{"ingredient":"betaine-30","percent":"30"},{"ingredient":"decyl-glucoside","percent":"10"}]}}`))
	if err != nil || strings.Contains(strings.ToLower(string(out)), "mild") || strings.Contains(string(out), "gentle") {
		t.Errorf("%s %v", out, err)
	}
}
