package calc_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stillroom/calc"
)

var twoLines = calc.Formula{Lines: []calc.Line{{ID: "w", Ingredient: "water", QS: true}, {ID: "g", Ingredient: "glycerin", Percent: 10 * calc.OnePercent}, {ID: "s", Ingredient: "sucrose", Percent: 40 * calc.OnePercent}}}

func TestWhatTheStockAllowsAndWhatLimitsIt(t *testing.T) {
	plan := calc.PlanRead{Fill: 100 * calc.Gram, Loss: 4 * calc.OnePercent, Step: calc.Gram / 10}
	base := calc.Formula{Key: "B", Lines: twoLines.Lines}
	half := calc.Formula{Lines: []calc.Line{{ID: "b", Base: "B", Percent: 50 * calc.OnePercent}, {ID: "g", Ingredient: "glycerin", QS: true}}}
	k := calc.Given()
	k.Bases["B"] = &base
	for _, c := range []struct {
		what      string
		f         calc.Formula
		onHand    map[string]calc.Mass
		jars      int
		limit     string
		uncounted string
	}{
		// 100 g of glycerin are 10 % of 1,000 g; 96 % of that reach jars of 100 g
		{"the one that runs out first", twoLines, map[string]calc.Mass{"glycerin": 100 * calc.Gram, "sucrose": 4000 * calc.Gram}, 9, "glycerin", "water"},
		{"another one", twoLines, map[string]calc.Mass{"glycerin": 500 * calc.Gram, "sucrose": 1000 * calc.Gram, "water": 9 * calc.Kilogram}, 24, "sucrose", ""},
		{"met exactly", twoLines, map[string]calc.Mass{"glycerin": 125 * calc.Gram}, 12, "glycerin", "water,sucrose"},
		{"an empty tub", twoLines, map[string]calc.Mass{"glycerin": 0}, 0, "glycerin", "water,sucrose"},
		{"weighed out below nothing", twoLines, map[string]calc.Mass{"glycerin": -5}, 0, "glycerin", "water,sucrose"},
		// glycerin is 50 % of the whole and 10 % of the base's half: 55 %
		{"a base that is not made yet counts as its own lines", half, map[string]calc.Mass{"glycerin": 1100 * calc.Gram}, 19, "glycerin", "water,sucrose"},
		{"a base on the shelf counts as itself", half, map[string]calc.Mass{"B": 300 * calc.Gram, "glycerin": 9 * calc.Kilogram}, 5, "B", ""},
	} {
		a, err := calc.StockAllows(c.f, k, c.onHand, plan)
		if err != nil || a.Jars != c.jars || a.Limit != c.limit || strings.Join(a.Uncounted, ",") != c.uncounted {
			t.Errorf("%s: %+v, %v; want %d jars, %s limits, %q not counted", c.what, a, err, c.jars, c.limit, c.uncounted)
		}
	}
	if _, err := calc.StockAllows(twoLines, k, nil, plan); err == nil || err.Want == "" {
		t.Errorf("an empty shelf: %v", err)
	}
	if _, err := calc.StockAllows(calc.Formula{Lines: twoLines.Lines[1:]}, k, map[string]calc.Mass{"glycerin": 1}, plan); err == nil {
		t.Error("a jar that is not full was scaled")
	}
}

func TestTheLargestThatFitsTheVessel(t *testing.T) {
	plan := calc.PlanRead{Fill: 120 * calc.Gram, Loss: 4 * calc.OnePercent, Step: calc.Gram / 10}
	// 4 L at 0.70 g/mL are 2,800 g; 2,688 g of that reach jars: 22 of 120 g, for which 2,750.0 g are made
	a, err := calc.VesselAllows(4_000_000, 700, plan)
	if err != nil || a.Most != 2800*calc.Gram || a.Jars != 22 || a.Batch != 2750*calc.Gram {
		t.Errorf("%+v, %v", a, err)
	}
	for _, c := range [][2]int64{{0, 700}, {4_000_000, 0}} {
		if _, err := calc.VesselAllows(c[0], c[1], plan); err == nil || err.Want == "" {
			t.Errorf("%v: %v", c, err)
		}
	}
}

func TestNothingIsPlannedAboveWhatIsThere(t *testing.T) {
	k := calc.Given()
	rapid.Check(t, func(t *rapid.T) {
		plan := calc.PlanRead{Fill: calc.Mass(rapid.Int64Range(1, 500_000).Draw(t, "fill")), Loss: calc.Percent(rapid.Int64Range(0, 900_000).Draw(t, "loss")), Step: calc.Mass(rapid.SampledFrom([]int64{1, 10, 100, 1000}).Draw(t, "step"))}
		have := calc.Mass(rapid.Int64Range(0, 50_000_000).Draw(t, "have"))
		a, err := calc.StockAllows(twoLines, k, map[string]calc.Mass{"sucrose": have}, plan)
		if err != nil {
			t.Fatal(err)
		}
		if a.Batch > a.Most || 4*int64(a.Most) > 10*int64(have) {
			t.Fatalf("%d mg at hand, at most %d, planned %d", have, a.Most, a.Batch)
		}
		if more := calc.BatchMass(a.Jars+1, plan.Fill, plan.Loss, 1); a.Jars < 100_000 && more < a.Most-plan.Step {
			t.Fatalf("one jar more takes %d of %d", more, a.Most)
		}
	})
}
