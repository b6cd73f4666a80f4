package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

// pairs reads "a=1;b=2" in order.
func pairs(text string) (keys, values []string) {
	for _, part := range strings.Split(text, ";") {
		if k, v, ok := strings.Cut(part, "="); ok {
			keys, values = append(keys, k), append(values, v)
		}
	}
	return keys, values
}

func grams(t *testing.T, text string) calc.Mass {
	t.Helper()
	m, err := calc.ReadGrams(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func inMg(m calc.Mass) decimal.Decimal { return decimal.New(int64(m), -3) }

func wayNamed(t *testing.T, r calc.Rescued, name string) calc.RescueWay {
	t.Helper()
	for _, w := range r.Ways {
		if w.Way == name {
			return w
		}
	}
	t.Fatalf("there is no way %q in %+v", name, r.Ways)
	return calc.RescueWay{}
}

func rescueOf(t *testing.T, lines, batch, step, went string) calc.RescueAsk {
	t.Helper()
	ask := calc.RescueAsk{Known: calc.Given(), Batch: grams(t, batch), Step: grams(t, step), Went: map[string]calc.Mass{}}
	keys, shares := pairs(lines)
	for i, k := range keys {
		ask.Formula.Lines = append(ask.Formula.Lines, calc.Line{ID: k, Ingredient: k, Percent: percent(t, shares[i])})
	}
	keys, masses := pairs(went)
	for i, k := range keys {
		ask.Went[k] = grams(t, masses[i])
	}
	return ask
}

func TestPublishedRescue(t *testing.T) {
	for _, row := range published(t, "rescue") {
		r, err := calc.Rescue(rescueOf(t, row["lines"], row["batch"], row["step"], row["went"]))
		if err != nil {
			t.Errorf("check %s: %v", row["check"], err)
			continue
		}
		if row["what"] == "over" {
			near(t, row, inMg(-r.Over[0].Add))
			continue
		}
		what, name, _ := strings.Cut(row["what"], " ")
		w := wayNamed(t, r, name)
		if what == "batch" {
			near(t, row, inMg(w.Batch))
			continue
		}
		for _, l := range w.Lines {
			switch {
			case l.ID != row["line"]:
			case what == "add":
				near(t, row, inMg(l.Add))
			default:
				near(t, row, decimal.New(int64(l.True), -4))
			}
		}
	}
}

// whipped is a foam's formula, with A heated, B melted and C cooled.
func whipped(t *testing.T, went string) calc.RescueAsk {
	t.Helper()
	ask := rescueOf(t, "water=38;betaine-30=30;sci-powder=20;stearic-50=11;phenoxyethanol-ehg=1", "300", "0.1", went)
	hot, cool := calc.Degrees{MilliC: 75_000, Unit: "C", Text: "75 °C"}, calc.Degrees{MilliC: 37_000, Unit: "C", Text: "37 °C"}
	ask.Formula.Wash = "rinse-off"
	ask.Formula.Phases = []calc.Phase{{Letter: "A", Treatment: calc.Treatment{Do: "heat", Degrees: &hot}}, {Letter: "B", Treatment: calc.Treatment{Do: "melt", Degrees: &hot}}, {Letter: "C", Treatment: calc.Treatment{Do: "cool", Degrees: &cool}}}
	for i, letter := range []string{"A", "A", "A", "B", "C"} {
		ask.Formula.Lines[i].Phase = letter
	}
	return ask
}

func TestTheFirstWayOutFollowsTheLastStepDone(t *testing.T) {
	for _, c := range []struct {
		name, went string
		stirred    bool
		last       calc.LastStep
		first      string
		again      string // what would have to be melted or dissolved again
	}{
		{"powder on top", "water=114;betaine-30=90;sci-powder=72", false, calc.LastStep{Phase: "A", Did: "weighed"}, "take back", ""},
		{"stirred in, still cold", "water=114;betaine-30=90;sci-powder=72", true, calc.LastStep{Phase: "A", Did: "mixed"}, "accept", ""},
		{"in the cooled foam", "water=114;betaine-30=90;sci-powder=60;stearic-50=33;phenoxyethanol-ehg=3.3", true, calc.LastStep{Phase: "C", Did: "folded"}, "accept", "sodium cocoyl isethionate powder and stearic acid (grade 50)"},
		{"told by what is in the pot alone", "water=114;betaine-30=90;sci-powder=60;stearic-50=33;phenoxyethanol-ehg=3.3", true, calc.LastStep{}, "accept", "stearic acid"},
		{"still hot", "water=114;betaine-30=90;sci-powder=72;stearic-50=33", true, calc.LastStep{Phase: "B", Did: "melted"}, "accept", ""},
		{"over the supplier's maximum, still hot", "water=114;betaine-30=90;sci-powder=60;stearic-50=33;phenoxyethanol-ehg=6", true, calc.LastStep{Phase: "B", Degrees: &calc.Degrees{MilliC: 76_000}}, "scale up", ""},
		{"over the maximum in the foam", "water=114;betaine-30=90;sci-powder=60;stearic-50=33;phenoxyethanol-ehg=6", true, calc.LastStep{Did: "whipped"}, "discard", "stearic acid"},
	} {
		ask := whipped(t, c.went)
		ask.Stirred, ask.Last = c.stirred, c.last
		r, err := calc.Rescue(ask)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if r.Ways[0].Way != c.first {
			t.Errorf("%s: %q comes first: %+v", c.name, r.Ways[0].Way, wayNamed(t, r, "accept").Findings)
		}
		up := wayNamed(t, r, "scale up")
		if c.again == "" != (up.Why == "") || !strings.Contains(up.Why, c.again) {
			t.Errorf("%s: %q", c.name, up.Why)
		}
		if back := wayNamed(t, r, "take back"); back.Open == c.stirred || back.Open && len(back.Findings) == 0 {
			t.Errorf("%s: take back %+v", c.name, back)
		}
	}
}

func TestAnUnknownLastStepIsSaid(t *testing.T) {
	for _, c := range []struct {
		last calc.LastStep
		said bool
	}{{calc.LastStep{}, true}, {calc.LastStep{Phase: "B", Did: "melted"}, false}} {
		ask := whipped(t, "water=120;betaine-30=90;sci-powder=60;stearic-50=33")
		ask.Last = c.last
		r, err := calc.Rescue(ask)
		if err != nil {
			t.Fatal(err)
		}
		said := false
		for _, f := range wayNamed(t, r, "scale up").Findings {
			said = said || f.Rule == "rescue-warm" && f.Level == calc.Unchecked && strings.Contains(f.Says, "stearic acid")
		}
		if said != c.said {
			t.Errorf("%+v: %+v", c.last, wayNamed(t, r, "scale up"))
		}
	}
}

func TestAcceptedIsCheckedAsAFormulaOfItsOwn(t *testing.T) {
	ask := whipped(t, "water=114;betaine-30=90;sci-powder=60;stearic-50=33;phenoxyethanol-ehg=6")
	r, err := calc.Rescue(ask)
	if err != nil {
		t.Fatal(err)
	}
	w := wayNamed(t, r, "accept")
	if len(w.Findings) == 0 || w.Findings[0].Level != calc.Stop || w.Findings[0].Subject != "phenoxyethanol-ehg" || !strings.Contains(w.Why, w.Findings[0].Says) {
		t.Errorf("%+v", w)
	}
	ask.Went["phenoxyethanol-ehg"], ask.Went["sci-powder"] = 3000, 66_000
	if r, err = calc.Rescue(ask); err != nil || len(wayNamed(t, r, "accept").Findings) != 0 {
		t.Errorf("6 g of isethionate too much breaks nothing: %+v %v", r, err)
	}
}

func TestScalingUpIsBoundByStockAndVessel(t *testing.T) {
	ask := whipped(t, "water=114;betaine-30=90;sci-powder=72")
	for _, c := range []struct {
		name  string
		stock map[string]calc.Mass
		room  calc.Mass
		open  bool
		says  string
	}{
		{"enough", map[string]calc.Mass{"water": 22_800, "betaine-30": 18_000, "stearic-50": 39_600, "phenoxyethanol-ehg": 3_600}, 360_000, true, ""},
		{"too little", map[string]calc.Mass{"water": 22_800, "betaine-30": 18_000, "stearic-50": 35_000, "phenoxyethanol-ehg": 3_600}, 360_000, false, "4.6 g more"},
		{"too small a vessel", map[string]calc.Mass{"water": 22_800, "betaine-30": 18_000, "stearic-50": 39_600, "phenoxyethanol-ehg": 3_600}, 359_900, false, "vessel is too small"},
		{"nothing known", nil, 0, true, "not checked"},
	} {
		ask.Stock, ask.Room = c.stock, c.room
		r, err := calc.Rescue(ask)
		if err != nil {
			t.Fatal(err)
		}
		up := wayNamed(t, r, "scale up")
		says := ""
		for _, f := range up.Findings {
			says += f.Says + " "
		}
		if up.Open != c.open || !strings.Contains(says, c.says) {
			t.Errorf("%s: %+v", c.name, up)
		}
	}
	none := rescueOf(t, "water=100;sucrose=0", "300", "0.1", "sucrose=5")
	r, err := calc.Rescue(none)
	if up := wayNamed(t, r, "scale up"); err != nil || up.Open || !strings.Contains(up.Why, "no sucrose") && !strings.Contains(up.Why, "no ") {
		t.Errorf("what the formula does not hold cannot be made right: %+v %v", up, err)
	}
}

// TestScalingUpRestoresEveryPercentage: every line ends within half a step of its share of the new batch, and nothing comes out of the pot.
func TestScalingUpRestoresEveryPercentage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shares := fullShares(t, 8)
		step := rapid.SampledFrom([]calc.Mass{10, 100, 1000}).Draw(t, "step")
		ask := calc.RescueAsk{Known: calc.Given(), Step: step, Went: map[string]calc.Mass{}, Stirred: true}
		ask.Batch = calc.Mass(rapid.Int64Range(100, 5000).Draw(t, "batch")) * calc.Gram
		for i, p := range shares {
			id := string(rune('a' + i))
			ask.Formula.Lines = append(ask.Formula.Lines, calc.Line{ID: id, Ingredient: "sucrose", Percent: p})
			if rapid.Bool().Draw(t, "in") {
				ask.Went[id] = calc.Mass(rapid.Int64Range(0, int64(ask.Batch/step)).Draw(t, "went")) * step
			}
		}
		r, err := calc.Rescue(ask)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range r.Ways {
			if w.Way == "discard" || w.Way == "take back" || len(w.Lines) == 0 {
				continue
			}
			var sum calc.Percent
			var whole calc.Mass
			for i, l := range w.Lines {
				sum += l.True
				whole += l.InPot + l.Add
				if l.Add < 0 || l.Add%step != 0 || l.InPot != ask.Went[ask.Formula.Lines[i].ID] {
					t.Fatalf("%s: %+v", w.Way, l)
				}
			}
			if whole != w.Batch || whole > 0 && sum != calc.Hundred {
				t.Fatalf("%s: %s of %s, %s %%", w.Way, whole, w.Batch, sum)
			}
			if w.Way != "scale up" {
				continue
			}
			first := r.Over[0]
			for i, l := range w.Lines {
				// |mass − share × leader ÷ its share| ≤ half a step, in whole numbers; 1 mg for the rounding of the batch
				exact := decimal.New(int64(shares[i]), 0).Mul(decimal.New(int64(first.InPot), 0)).DivRound(decimal.New(int64(first.Planned), 0), 6)
				if off := decimal.New(int64(l.InPot+l.Add), 0).Sub(exact).Abs(); off.GreaterThan(decimal.New(int64(step)/2+1, 0)) {
					t.Fatalf("%+v is %s mg off", l, off)
				}
			}
		}
	})
}
