package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedCombining(t *testing.T) {
	for _, row := range published(t, "combine") {
		var parts []calc.CombinePart
		for _, text := range strings.Split(row["parts"], ";") {
			temperature, what, _ := strings.Cut(text, ":")
			key, amount, _ := strings.Cut(what, "=")
			mass, capacity, given := strings.Cut(amount, "@")
			thing := calc.HeatThing{Ingredient: key, Mass: grams(t, mass)}
			if given {
				thing.Capacity = decimal.RequireFromString(capacity)
			}
			parts = append(parts, calc.CombinePart{MilliC: degrees(t, temperature).MilliC, Things: []calc.HeatThing{thing}})
		}
		got, err := calc.Combine(parts, nil, calc.Given())
		if err != nil {
			t.Fatalf("check %s: %v", row["check"], err)
		}
		near(t, row, decimal.New(got.MilliC, -3))
	}
}

func TestAFatThatMaySetIsSaidBeforePouring(t *testing.T) {
	stearic := calc.SettingFat{Name: "stearic acid (grade 50)", LowMilliC: 53_000, HighMilliC: 59_000}
	beeswax := calc.SettingFat{Name: "beeswax", LowMilliC: 61_000, HighMilliC: 65_000}
	for _, c := range []struct {
		name       string
		water, fat int64
		fats       []calc.SettingFat
		level      calc.Level
		says, do   string
	}{
		{"both hot", 75_000, 75_000, []calc.SettingFat{stearic}, "", "", ""},
		{"water cooled", 55_000, 75_000, []calc.SettingFat{stearic}, calc.Care, "set in lumps", "warm A to about"},
		{"the highest-setting one counts", 68_000, 68_000, []calc.SettingFat{stearic, beeswax}, calc.Care, "beeswax", "warm A to about"},
		{"no fat said", 55_000, 75_000, nil, calc.Unchecked, "not checked", "grade"},
	} {
		parts := []calc.CombinePart{{Name: "A", MilliC: c.water, Things: []calc.HeatThing{{Ingredient: "water", Mass: 200_000}}}, {Name: "B", MilliC: c.fat, Things: []calc.HeatThing{{Ingredient: "stearic-50", Mass: 33_000}}}}
		got, err := calc.Combine(parts, c.fats, calc.Given())
		var f calc.Finding
		if len(got.Findings) > 0 {
			f = got.Findings[0]
		}
		if err != nil || f.Level != c.level || !strings.Contains(f.Says, c.says) || !strings.Contains(f.Do, c.do) {
			t.Errorf("%s: %+v %v", c.name, got, err)
		}
	}
	for name, parts := range map[string][]calc.CombinePart{"one pot": {{MilliC: 1, Things: []calc.HeatThing{{Ingredient: "water", Mass: 1}}}}, "empty": {{}, {}}, "not known": {{Things: []calc.HeatThing{{Ingredient: "moon dust", Mass: 1}}}, {}}} {
		if _, err := calc.Combine(parts, nil, calc.Given()); err == nil || err.Want == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestTheMixLiesBetweenItsParts: never warmer than the warmest nor colder than the coldest, in any order, within its own range.
func TestTheMixLiesBetweenItsParts(t *testing.T) {
	keys := []string{"water", "glycerin", "sunflower-oil", "sucrose", "stearic-50", "betaine-30"}
	rapid.Check(t, func(t *rapid.T) {
		var parts []calc.CombinePart
		low, high := int64(300_000), int64(0)
		for range rapid.IntRange(2, 5).Draw(t, "parts") {
			p := calc.CombinePart{MilliC: rapid.Int64Range(5_000, 95_000).Draw(t, "temperature")}
			low, high = min(low, p.MilliC), max(high, p.MilliC)
			for range rapid.IntRange(1, 3).Draw(t, "things") {
				p.Things = append(p.Things, calc.HeatThing{Ingredient: rapid.SampledFrom(keys).Draw(t, "key"), Mass: calc.Mass(rapid.Int64Range(1, 5_000_000).Draw(t, "mass"))})
			}
			parts = append(parts, p)
		}
		got, err := calc.Combine(parts, nil, calc.Given())
		if err != nil {
			t.Fatal(err)
		}
		if got.Low < low || got.High > high || got.MilliC < got.Low || got.MilliC > got.High {
			t.Fatalf("%+v of %d to %d", got, low, high)
		}
		for a, b := 0, len(parts)-1; a < b; a, b = a+1, b-1 {
			parts[a], parts[b] = parts[b], parts[a]
		}
		if back, err := calc.Combine(parts, nil, calc.Given()); err != nil || back.MilliC != got.MilliC {
			t.Fatalf("the order matters: %+v %+v", got, back)
		}
	})
}
