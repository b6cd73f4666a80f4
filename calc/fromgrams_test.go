package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedFromGrams(t *testing.T) {
	for _, row := range published(t, "from-grams") {
		n := calc.FromGrams([]calc.NotedLine{{ID: "a", Ingredient: row["ingredient"], Amount: row["amount"], Density: row["density"]}, {ID: "b", Amount: row["rest"]}}, calc.Given())
		if n.Lines[0].Trouble != "" {
			t.Errorf("%s: %s", row["check"], n.Lines[0].Trouble)
			continue
		}
		near(t, row, decimal.New(int64(n.Lines[0].Percent), -4))
		if inexact := row["inexact"] == "yes"; n.Lines[0].Inexact != inexact || (len(n.Findings) > 0) != inexact {
			t.Errorf("%s: inexact %v, findings %+v", row["check"], n.Lines[0].Inexact, n.Findings)
		}
	}
}

func TestALineThatCannotBeReadLosesNothingElse(t *testing.T) {
	for _, c := range []struct{ amount, density, says string }{
		{"some", "", "not a number"},
		{"-3 g", "", "below nothing"},
		{"-3 tsp", "1", "less than nothing"},
		{"3 stone", "", "not a unit"},
		{"15 mL", "", "density in g/mL"},
		{"2 tsp", "", "density in g/mL"},
		{"2 tsp", "99", "not a density"},
		{"2000 kg", "", "more than a tonne"},
		{"", "", "nothing is written"},
	} {
		n := calc.FromGrams([]calc.NotedLine{{Amount: c.amount, Density: c.density}, {Amount: "50 g"}, {Amount: "50"}}, calc.Given())
		if !strings.Contains(n.Lines[0].Trouble, c.says) || n.Lines[0].Percent != 0 || n.Lines[1].Percent != 50*calc.OnePercent {
			t.Errorf("%q: %+v", c.amount, n)
		}
	}
}

// TestGramsToPerCentAndBack: grams on the grid become per cent and the same grams again, within one step.
func TestGramsToPerCentAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "lines")
		lines := make([]calc.NotedLine, n)
		grams := make([]calc.Mass, n)
		var batch calc.Mass
		for i := range lines {
			grams[i] = calc.Mass(rapid.Int64Range(1, 20_000).Draw(t, "tenths")) * 100
			batch += grams[i]
			lines[i] = calc.NotedLine{ID: strconv.Itoa(i), Amount: decimal.New(int64(grams[i]), -3).String() + " g"}
		}
		noted := calc.FromGrams(lines, calc.Known{})
		var sum calc.Percent
		back := make([]calc.ScaleLine, n)
		for i, l := range noted.Lines {
			sum += l.Percent
			back[i] = calc.ScaleLine{ID: l.ID, Percent: l.Percent}
		}
		if sum != calc.Hundred {
			t.Fatalf("the shares sum to %s", sum)
		}
		scaled, err := calc.Scale(back, batch, 100)
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range scaled.Lines {
			if d := l.Mass - grams[i]; d > 100 || d < -100 {
				t.Fatalf("line %d: %s became %s", i, grams[i], l.Mass)
			}
		}
	})
}
