package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

// A formula written as a page is read back to the same shares of every ingredient, whatever stands inside bases.
func TestAFormulaAsAPageReadsBackToItself(t *testing.T) {
	k := calc.Given()
	k.Bases["whip"] = &calc.Formula{Key: "whip", Name: "whipped base", Lines: []calc.Line{{ID: "1", Ingredient: "water", QS: true}, {ID: "2", Ingredient: "betaine-30", Percent: 333_333}, {ID: "3", Ingredient: "sci-powder", Percent: 111_111}}}
	hot, err := calc.ReadDegrees("167 F", "")
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range map[string]calc.Formula{
		"a cream": {Name: "Marsh cream", Phases: []calc.Phase{{Letter: "A", Treatment: calc.Treatment{Do: "heat", Degrees: &hot, HoldMin: 20}}, {Letter: "B", Treatment: calc.Treatment{Do: "cool"}}},
			Lines: []calc.Line{{ID: "1", Phase: "B", Ingredient: "phenoxyethanol-ehg", Percent: 9_000}, {ID: "2", Phase: "A", Ingredient: "water", QS: true}, {ID: "3", Phase: "A", Ingredient: "sunflower-oil", Percent: 125_500}}},
		"a scrub on a base": {Name: "Dune scrub", Phases: []calc.Phase{{Letter: "A"}, {Letter: "B", Treatment: calc.Treatment{Do: "fold"}}},
			Lines: []calc.Line{{ID: "1", Phase: "A", Base: "whip", Percent: 543_210}, {ID: "2", Phase: "B", Ingredient: "sucrose", Percent: 456_790}}},
		"no phases": {Name: "Plain oil", Lines: []calc.Line{{ID: "1", Phase: "A", Ingredient: "shea", Percent: 400_000}, {ID: "2", Phase: "A", Ingredient: "sunflower-oil", Percent: 600_000}}},
	} {
		page, e := calc.FormulaPage(f, k)
		if e != nil {
			t.Errorf("%s: %v", name, e)
			continue
		}
		read := calc.Notebook(page, calc.Given())
		if read.Title != f.Name || len(read.Unread) != 0 {
			t.Errorf("%s: title %q, unread %q of\n%s", name, read.Title, read.Unread, page)
		}
		draft := read.Draft
		draft.Name, draft.Wash, draft.Site, draft.Age = f.Name, "rinse-off", "body", "adults"
		back, e := calc.ReadDraft(draft, calc.Given())
		if e != nil {
			t.Errorf("%s: %v\n%s", name, e, page)
			continue
		}
		there, e := calc.TakeApart(f, k)
		if e != nil {
			t.Fatal(e)
		}
		here, e := calc.TakeApart(back, calc.Given())
		if e != nil {
			t.Fatal(e)
		}
		for _, p := range there.Supplied {
			same := false
			for _, q := range here.Supplied {
				same = same || p.Key == q.Key && p.Percent.Sub(q.Percent).Abs().LessThan(decimal.New(2, -4))
			}
			if !same {
				t.Errorf("%s: %s is not %s in %+v\n%s", name, p.Key, p.Percent, here.Supplied, page)
			}
		}
		if got, want := len(back.Phases), max(len(f.Phases), 1); got != want {
			t.Errorf("%s: %d phases, want %d", name, got, want)
		}
		if strings.Contains(page, "\n\n") {
			t.Errorf("%s: a blank line in %q", name, page)
		}
	}
	if _, e := calc.FormulaPage(calc.Formula{Name: "half", Lines: []calc.Line{{ID: "1", Ingredient: "water", Percent: 1}}}, k); e == nil {
		t.Error("half a formula must not become a page")
	}
}
