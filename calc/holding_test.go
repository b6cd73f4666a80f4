package calc_test

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// formulaOf is a formula of ingredients of the given list; "" is the q.s. line.
func holdingOf(lines ...[2]string) calc.Holding {
	f := calc.Formula{Wash: "leave-on", Site: "body", Age: "adults", Phases: []calc.Phase{{Letter: "A"}}}
	for _, l := range lines {
		p := calc.Percent(0)
		if l[1] != "" {
			p, _ = calc.ReadPercent(l[1])
		}
		f.Lines = append(f.Lines, calc.Line{ID: l[0], Phase: "A", Ingredient: l[0], Percent: p, QS: l[1] == ""})
	}
	return calc.HoldingOf(f, calc.Given(), 0)
}

func TestHowAFormulaHoldsTogetherShowsOnlyWhatItHas(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines [][2]string
		says  string
		want  map[string]string // figure → text
		not   string
	}{
		{"a plain rinse", [][2]string{{"water", ""}, {"glycerin", "5"}}, "", map[string]string{}, ""},
		{"a balm", [][2]string{{"beeswax", "20"}, {"sunflower-oil", ""}}, "no water", map[string]string{}, ""},
		{"a wax by its share", [][2]string{{"water", ""}, {"emulsifying-wax", "5"}, {"sunflower-oil", "20"}}, "share of everything oily", map[string]string{"wax, of everything oily": "25 %"}, ""},
		{"a blend by HLB", [][2]string{{"water", ""}, {"sunflower-oil", "15"}, {"beeswax", "3"}, {"polysorbate-80", "1"}, {"sorbitan-oleate", "3"}}, "HLB should match",
			map[string]string{"HLB that the oils ask for": "6.5 to 7.8", "HLB that the emulsifiers have": "7.0", "emulsifier, of the oil": "22.2 %"}, ""},
		{"oil and nothing", [][2]string{{"water", ""}, {"sunflower-oil", "10"}}, "Nothing holds", map[string]string{}, ""},
		{"a syrup", [][2]string{{"water", ""}, {"sucrose", "60"}}, "", map[string]string{"water activity": "about 0.90"}, ""},
		{"a buffer", [][2]string{{"water", ""}, {"glycerin", "3"}, {"citric-acid", "0.3"}, {"sodium-citrate", "0.5"}}, "", map[string]string{"pH, an estimate": "about 4.6"}, ""},
		{"a buffer with a plant", [][2]string{{"water", ""}, {"aloe-juice", "10"}, {"citric-acid", "0.3"}}, "", map[string]string{}, "measure it"},
		{"a buffer with little water", [][2]string{{"water", ""}, {"glycerin", "50"}, {"citric-acid", "0.3"}}, "", map[string]string{"water activity": "about 0.81"}, "thin solutions"},
		{"something unknown", [][2]string{{"water", ""}, {"moon-dust", "10"}}, "", map[string]string{}, "not every line is known"},
	} {
		h := holdingOf(c.lines...)
		got := map[string]string{}
		for _, f := range h.Figures {
			got[f.What] = f.Figure.Text
			if f.Figure.Sum == "" || f.Source == "" {
				t.Errorf("%s: %s has no sum or source", c.name, f.What)
			}
		}
		if (c.says == "") != (h.Says == "") || !strings.Contains(h.Says, c.says) || len(got) != len(c.want) {
			t.Errorf("%s: %q %v", c.name, h.Says, got)
		}
		for what, text := range c.want {
			if got[what] != text {
				t.Errorf("%s: %s is %q, want %q", c.name, what, got[what], text)
			}
		}
		if not := strings.Join(h.Not, "; "); (c.not == "") != (not == "") || !strings.Contains(not, c.not) {
			t.Errorf("%s: not worked out: %q", c.name, not)
		}
		for _, p := range h.Parts {
			for _, v := range p.HLB {
				if v.Text == "" || v.Source == "" {
					t.Errorf("%s: a figure of %s has no source", c.name, p.Name)
				}
			}
		}
	}
}
