package calc_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedSolubility(t *testing.T) {
	for _, row := range published(t, "solubility") {
		d, err := calc.ReadDegrees(row["celsius"], "C")
		if err != nil {
			t.Fatal(err)
		}
		got, from, ok := calc.Solubility(row["substance"], d.MilliC)
		if !ok || from.Source == "" || from.Mark == "" {
			t.Errorf("%s: no figure or no source", row["check"])
			continue
		}
		near(t, row, got)
	}
	for _, c := range []struct {
		inci   string
		milliC int64
	}{{"Silica", 20_000}, {"Sucrose", -1}, {"Sucrose", 100_001}, {"Sodium Chloride", 90_000}} {
		if got, _, ok := calc.Solubility(c.inci, c.milliC); ok {
			t.Errorf("%s at %d: %s was made up", c.inci, c.milliC, got)
		}
	}
}

func TestWarmerWaterTakesNoLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inci := rapid.SampledFrom([]string{"Sucrose", "Sodium Chloride", "Magnesium Sulfate", "Sodium Bicarbonate"}).Draw(t, "substance")
		a := rapid.Int64Range(0, 60_000).Draw(t, "colder")
		b := rapid.Int64Range(a, 60_000).Draw(t, "warmer")
		low, _, ok := calc.Solubility(inci, a)
		high, _, ok2 := calc.Solubility(inci, b)
		if !ok || !ok2 || high.LessThan(low) {
			t.Fatalf("%s: %s at %d, %s at %d", inci, low, a, high, b)
		}
	})
}

func TestNoMoreDissolvesThanIsThere(t *testing.T) {
	f := calc.Formula{Lines: []calc.Line{{ID: "w", Ingredient: "water", QS: true}, {ID: "s", Ingredient: "sucrose", Percent: 46 * calc.OnePercent}}}
	g := calc.GritsOf(f, calc.Given())
	if len(g.Grits) != 1 || !g.Grits[0].Room.Equal(decimal.New(46, 0)) || !g.Grits[0].Bath.Equal(decimal.New(46, 0)) || !g.FreeWater.Equal(decimal.New(54, 0)) {
		t.Errorf("%+v", g)
	}
	for _, x := range g.Findings {
		if x.Level == calc.Stop {
			t.Errorf("never a stop: %+v", x)
		}
	}
}
