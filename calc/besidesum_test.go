package calc_test

import (
	"strings"
	"testing"
)

// Each figure of the whole says how it came about, before and after: line by line, and ending with what is shown.
func TestAFigureBesideShowsItsSum(t *testing.T) {
	var got struct {
		Figures []struct{ What, Before, After, BeforeSum, AfterSum string }
	}
	ask(t, "swap", `{"formula":{"lines":[`+swapLines("water=qs;sunflower-oil=15;polysorbate-80=1;sorbitan-oleate=3;betaine-30=10")+`]},"line":"5","by":"sarcosinate-30"}`, &got)
	want := map[string]string{
		"active matter, %":                  "10.00 % cocamidopropyl betaine solution 30 % × 0.3 = 3",
		"oils and what is solid in them, %": "15.00 % sunflower oil = 15",
		"HLB of the emulsifiers":            "(1.00 % polysorbate 80 × 15 + 3.00 % sorbitan oleate × 4.3) ÷ 4.00 % = 7",
	}
	seen := 0
	for _, f := range got.Figures {
		for _, side := range [][2]string{{f.Before, f.BeforeSum}, {f.After, f.AfterSum}} {
			if strings.ContainsAny(side[0], "0123456789") && !strings.HasSuffix(side[1], "= "+side[0]) {
				t.Errorf("%s is %q and its sum %q", f.What, side[0], side[1])
			}
		}
		if w := want[f.What]; w != "" {
			if seen++; !strings.HasPrefix(f.BeforeSum, w) {
				t.Errorf("%s: %q, want %q", f.What, f.BeforeSum, w)
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d figures are there: %+v", seen, len(want), got.Figures)
	}
}
