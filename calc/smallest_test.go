package calc_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedSmallestMass(t *testing.T) {
	for _, row := range published(t, "smallest") {
		step := calc.Mass(0)
		if row["d"] != "not stated" {
			var err *calc.FieldError
			if step, err = calc.ReadStep(row["d"]); err != nil {
				t.Fatal(err)
			}
		}
		near(t, row, calc.SmallestMass(step, decimal.RequireFromString(row["s"]), percent(t, row["p"])))
	}
}

// smallLines is water and one line with a range of 0.8 to 1.1 %.
func smallLines(t *testing.T, share string) []calc.WeighLine {
	low, high := percent(t, "0.8"), percent(t, "1.1")
	p := percent(t, share)
	return []calc.WeighLine{{ID: "water", Name: "water", Percent: calc.Hundred - p, Water: true, Soluble: "water"}, {ID: "p", Name: "blend", Percent: p, Low: &low, High: &high, Soluble: "both"}}
}

func TestOnlyAnErrorThatCanBreakALimitIsAFinding(t *testing.T) {
	for _, c := range []struct {
		name, share string
		batch       calc.Mass
		step        calc.Mass
		breaks      bool
	}{
		{"near its lower end on a coarse scale", "0.8", 60 * calc.Gram, 100, true},
		{"a little above it on a finer scale", "0.81", 60 * calc.Gram, 10, false},
		{"near it in a large batch", "0.8", 3000 * calc.Gram, 100, false},
		{"in the middle", "0.95", 60 * calc.Gram, 100, false},
		{"tiny batch", "0.95", 20 * calc.Gram, 100, true},
	} {
		w, findings, err := calc.Smallest(smallLines(t, c.share), c.batch, c.step)
		if err != nil || w[1].Breaks != c.breaks || (len(findings) > 0) != c.breaks {
			t.Errorf("%s: %+v %+v %v", c.name, w, findings, err)
		}
		if w[1].Quiet == "" {
			t.Errorf("%s: the quiet ± is missing", c.name)
		}
		for _, f := range findings {
			if f.Level != calc.Care || f.Subject != "p" || f.Do == "" || f.Source == "" {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
	}
	big := calc.Percent(5 * calc.OnePercent)
	w, findings, err := calc.Smallest([]calc.WeighLine{{ID: "g", Percent: big}}, 10*calc.Gram, 100)
	if err != nil || len(findings) != 0 || w[0].Quiet != "± 10.0 %" {
		t.Errorf("a line without a limit only has its ±: %+v %+v %v", w, findings, err)
	}
}

// TestTheWaysOutLeadOut: whatever is proposed, weighed anew, breaks nothing; a dilution holds what it must and lies on the scale.
func TestTheWaysOutLeadOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := calc.Percent(rapid.Int64Range(1000, 20_000).Draw(t, "low"))
		high := low + calc.Percent(rapid.Int64Range(100, 20_000).Draw(t, "wide"))
		p := calc.Percent(rapid.Int64Range(int64(low), int64(high)).Draw(t, "share"))
		lines := []calc.WeighLine{{ID: "w", Name: "water", Percent: calc.Hundred - p, Water: true}, {ID: "p", Percent: p, Low: &low, High: &high, Soluble: "water"}}
		batch := calc.Mass(rapid.Int64Range(5, 500).Draw(t, "batch")) * calc.Gram
		step := rapid.SampledFrom([]calc.Mass{10, 100, 1000}).Draw(t, "step")
		w, _, err := calc.Smallest(lines, batch, step)
		if err != nil {
			t.Fatal(err)
		}
		if !w[1].Breaks {
			return
		}
		ways := w[1].Ways
		again := func(batch, step calc.Mass) {
			w, _, err := calc.Smallest(lines, batch, step)
			if err != nil || w[1].Breaks {
				t.Fatalf("%s g on %s g: %+v %v", batch, step, w[1], err)
			}
		}
		if ways.Batch > 0 {
			again(ways.Batch, step)
		}
		if ways.Step > 0 {
			again(batch, ways.Step)
		}
		if z := ways.Dilute; z.Take > 0 {
			if z.Active+z.In != z.Whole || z.Take > z.Whole || z.Active%step != 0 || z.In%step != 0 || z.Take%step != 0 || z.Less%step != 0 || z.Solvent != "w" {
				t.Fatalf("%+v", z)
			}
			// at worst, every reading half a step off in the same direction
			half := decimal.New(int64(step), -1).Mul(decimal.New(5, 0))
			share := func(sign int64) decimal.Decimal {
				h := half.Mul(decimal.New(sign, 0))
				d := func(m calc.Mass) decimal.Decimal { return decimal.New(int64(m), 0) }
				return d(z.Active).Add(h).Div(d(z.Whole).Sub(h)).Mul(d(z.Take).Add(h)).Div(d(batch)).Shift(6)
			}
			slack := func(edge calc.Percent, parts int64) decimal.Decimal { return decimal.New(int64(edge)*parts, -3) }
			if share(-1).LessThan(slack(low, 985)) || share(1).GreaterThan(slack(high, 1015)) {
				t.Fatalf("%+v gives %s to %s in %s to %s", z, share(-1), share(1), low, high)
			}
		}
	})
}
