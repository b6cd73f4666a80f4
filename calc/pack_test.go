package calc_test

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// TestEveryPackSpeaksOnceAndKeepsQuiet: each pair is what a pack must speak on and what it must not; every finding has its source.
func TestEveryPackSpeaksOnceAndKeepsQuiet(t *testing.T) {
	k := calc.Given()
	for _, c := range []struct {
		name, lines, wash, material, closure string
		pH                                   int
		level                                calc.Level
		says                                 string
	}{
		{"scent in polystyrene", "water=qs;parfum=1", "", "polystyrene", "", 0, calc.Care, "cracks"},
		{"no scent in polystyrene", "water=qs;glycerin=1", "", "polystyrene", "", 0, "", ""},
		{"salt in a tin", "water=qs;salt=5", "", "tinplate", "", 550, calc.Care, "corrodes"},
		{"acid in aluminium", "water=qs;glycerin=5", "", "aluminium", "", 350, calc.Care, "does not stand this pH"},
		{"pH not measured", "water=qs;glycerin=5", "", "aluminium", "", 0, calc.Unchecked, "pH of the product is missing"},
		{"balm in a tin", "shea=50;sunflower-oil=qs", "", "aluminium", "", 0, "", ""},
		{"water in paper", "water=qs;glycerin=5", "", "paper", "", 0, calc.Stop, "paper"},
		{"bar in paper", "shea=50;sunflower-oil=qs", "", "paper", "", 0, "", ""},
		{"glass in the shower", "water=qs;sucrose=50", "rinse-off", "glass", "", 0, calc.Note, "breaks"},
		{"glass for a balm", "shea=50;sunflower-oil=qs", "leave-on", "glass", "", 0, "", ""},
		{"grit in a pump", "sunflower-oil=qs;sucrose=50", "", "plastic", "pump", 0, calc.Stop, "clogs"},
		{"oil in a pump", "sunflower-oil=qs;coconut-oil=20", "", "plastic", "pump", 0, "", ""},
	} {
		f := calc.Formula{Wash: c.wash}
		for i, p := range strings.Split(c.lines, ";") {
			key, share, _ := strings.Cut(p, "=")
			l := calc.Line{ID: string(rune('1' + i)), Ingredient: key, QS: share == "qs"}
			if !l.QS {
				l.Percent = percent(t, share)
			}
			f.Lines = append(f.Lines, l)
		}
		got := calc.PackFindings(f, k, c.pH, c.material, c.closure)
		for _, x := range got {
			if x.Source == "" || x.Level == calc.Unchecked && !strings.HasPrefix(x.Says, "not checked: ") {
				t.Errorf("%s: %+v", c.name, x)
			}
		}
		switch {
		case c.level == "" && len(got) != 1:
			t.Errorf("%s: must say nothing of its own, says %+v", c.name, got)
		case c.level != "" && (len(got) != 2 || got[0].Level != c.level || !strings.Contains(got[0].Says, c.says)):
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

func TestTheNextDayTellsWhatSank(t *testing.T) {
	for _, c := range []struct {
		name                                    string
		filled, next, rimFilled, rimNext, depth int64
		level                                   calc.Level
		says, figure                            string
	}{
		{"denser", 560, 600, 0, 0, 0, calc.Care, "lost air", "7.1 %"},
		{"just five", 600, 630, 0, 0, 0, "", "", ""},
		{"grew", 600, 540, 0, 0, 0, calc.Care, "more room", "10 %"},
		{"sank by the rim", 0, 0, 40, 90, 600, calc.Care, "sank", "8.9 %"},
		{"stayed", 0, 0, 40, 50, 600, "", "", ""},
		{"rose", 0, 0, 90, 40, 600, calc.Care, "rose", "9.8 %"},
		{"nothing measured", 0, 0, 0, 0, 0, calc.Unchecked, "not checked", ""},
	} {
		got := calc.NextDay(c.filled, c.next, c.rimFilled, c.rimNext, c.depth)
		switch {
		case c.level == "" && len(got) != 0:
			t.Errorf("%s: %+v", c.name, got)
		case c.level != "" && (len(got) != 1 || got[0].Level != c.level || !strings.Contains(got[0].Says, c.says) || got[0].Figure != c.figure):
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}
