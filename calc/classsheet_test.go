package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedClassSheets(t *testing.T) {
	for _, row := range published(t, "class-sheet") {
		out := struct {
			Lines    []struct{ Grams string }
			Shopping []struct{ Buy string }
		}{}
		one := `{"formula":{"lines":[{"ingredient":"glycerin","percent":"` + row["percent"] + `"},{"ingredient":"water","qs":true}]},"mass":"` + row["mass"] + `","spare":"` + row["spare"] + `","step":"0.01","learners":`
		ask(t, "classsheet", one+row["learners"]+`}`, &out)
		text := out.Lines[0].Grams
		if row["what"] == "buy" {
			text = out.Shopping[0].Buy
		}
		near(t, row, decimal.RequireFromString(strings.ReplaceAll(strings.TrimSuffix(text, " g"), ",", "")))
	}
}

// TestAClassSheetHidesTheWorkshop: a learner may keep the page, so no cost, lot or supplier stands on it, and what to wear does.
func TestAClassSheetHidesTheWorkshop(t *testing.T) {
	example, _ := calc.Example("classsheet")
	out, err := calc.Do("classsheet", example)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.ToLower(string(out))
	for _, field := range []string{`"cost"`, `"price"`, `"lot"`, `"lots"`, `"supplier"`, `"paid"`} {
		if strings.Contains(text, field) {
			t.Errorf("the class sheet has a field %s", field)
		}
	}
	for _, must := range []string{"respirator", "allerg", "asthma", "scent: its allergens are not known", "takes the powder up", "does not find a product safe"} {
		if !strings.Contains(text, must) {
			t.Errorf("the class sheet does not say %q", must)
		}
	}
}

func TestAClassNeverRunsShort(t *testing.T) {
	k := calc.Given()
	rapid.Check(t, func(t *rapid.T) {
		f := calc.Formula{Lines: []calc.Line{
			{ID: "a", Ingredient: "glycerin", Percent: calc.Percent(rapid.IntRange(0, 500_000).Draw(t, "a"))},
			{ID: "b", Ingredient: "sucrose", Percent: calc.Percent(rapid.IntRange(0, 400_000).Draw(t, "b"))},
			{ID: "w", Ingredient: "water", QS: true},
		}}
		n := rapid.IntRange(1, 30).Draw(t, "learners")
		s, err := calc.ClassSheetOf(f, k, n, calc.Mass(rapid.IntRange(20, 5000).Draw(t, "tenths"))*100, calc.Percent(rapid.IntRange(0, 300_000).Draw(t, "spare")), 100)
		if err != nil {
			t.Fatal(err)
		}
		var bought, weighed calc.Mass
		for _, b := range s.Shopping {
			bought += b.Buy
		}
		for _, l := range s.Lines {
			weighed += l.Grams
		}
		if weighed != s.Each || bought < s.All || s.All < s.Each*calc.Mass(n) {
			t.Fatalf("each %s of %s, all %s, bought %s", weighed, s.Each, s.All, bought)
		}
	})
}
