package calc_test

import (
	"testing"

	"stillroom/calc"
)

func TestOuncesBesideGrams(t *testing.T) {
	for mg, want := range map[calc.Mass]string{113398: "4.00 oz", 56699: "2.00 oz", 300000: "10.58 oz", 42: "0.00 oz", 3000000: "105.8 oz", 453592: "16.00 oz"} {
		if got := calc.ShowOunces(mg); got != want {
			t.Errorf("%d mg is %s, want %s", mg, got, want)
		}
	}
}

// Adding the unit to what was typed never changes what it says, and never touches what has one.
func TestAUnitIsWrittenBehindADegreeThatHasNone(t *testing.T) {
	for text, want := range map[string]string{"100": "100 F", " 37,5 ": "37,5 F", "75 C": "75 C", "167F": "167F", "": "", "warm": "warm"} {
		if got := calc.DegreesWithUnit(text, "F"); got != want {
			t.Errorf("%q became %q, want %q", text, got, want)
		}
	}
}
