package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stillroom/calc"
)

// listBook reads "INCI=share;…"; a share of "s*active" is a solution of the substance in water; "!" behind it means not listed.
func listBook(t *testing.T, text string) (calc.Formula, calc.Known) {
	t.Helper()
	k := calc.Known{Ingredients: map[string]*calc.Ingredient{}, Bases: map[string]*calc.Formula{}, Substances: calc.Given().Substances}
	var f calc.Formula
	for i, part := range strings.Split(text, ";") {
		inci, share, _ := strings.Cut(part, "=")
		share, hidden := strings.CutSuffix(share, "!")
		share, active, solution := strings.Cut(share, "*")
		ing := &calc.Ingredient{Key: inci + strconv.Itoa(i), Name: inci, INCI: inci, Composition: []calc.Share{{INCI: inci, Percent: calc.Hundred, Listed: "yes"}}}
		if solution {
			a := percent(t, active)
			ing.Composition = []calc.Share{{INCI: inci, Percent: a, Listed: "yes"}, {INCI: "Aqua", Percent: calc.Hundred - a, Listed: "yes"}}
		}
		if hidden {
			ing.Composition[0].Listed = "no"
		}
		k.Ingredients[ing.Key] = ing
		f.Lines = append(f.Lines, calc.Line{ID: strconv.Itoa(i), Ingredient: ing.Key, Percent: percent(t, share)})
	}
	return f, k
}

func TestPublishedIngredientLists(t *testing.T) {
	for _, row := range published(t, "ingredient-list") {
		f, k := listBook(t, row["formula"])
		l, err := calc.IngredientListOf(f, k, row["region"])
		if err != nil {
			t.Errorf("%s: %v", row["check"], err)
			continue
		}
		got := make([]string, 0, len(l.Entries))
		for _, e := range l.Entries {
			mark := map[string]string{"fixed": "", "any order": "~", "colour": "#"}[e.Where]
			got = append(got, mark+e.Print)
		}
		if strings.Join(got, "; ") != row["expected"] {
			t.Errorf("%s: %s\nwant %s", row["check"], strings.Join(got, "; "), row["expected"])
		}
	}
}

func TestAListRefusesWhatItCannotKnow(t *testing.T) {
	for _, c := range []struct {
		in     []calc.WentIn
		region string
		field  string
	}{
		{[]calc.WentIn{{Ingredient: "water", Mass: 1}}, "Mars", "region"},
		{[]calc.WentIn{{Ingredient: "moon dust", Mass: 1}}, "EU", "lines[0].ingredient"},
		{[]calc.WentIn{{Base: "gone", Mass: 1}}, "EU", "lines[0].base"},
		{[]calc.WentIn{{Ingredient: "water", Mass: -1}}, "EU", "lines[0].mass"},
		{[]calc.WentIn{{Ingredient: "water"}}, "EU", "lines"},
		{nil, "US", "lines"},
	} {
		if _, err := calc.IngredientList(c.in, calc.Given(), c.region, ""); err == nil || err.Field != c.field {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

func TestAnImpurityIsLeftOutAndNamed(t *testing.T) {
	f, k := listBook(t, "Aqua=95;Coconut Acid=5!")
	l, err := calc.IngredientListOf(f, k, "EU")
	if err != nil || l.Text != "Ingredients: Aqua" || len(l.LeftOut) != 1 {
		t.Errorf("%+v %v", l, err)
	}
	f, k = listBook(t, "Aqua=90;Parfum=10")
	if l, err = calc.IngredientListOf(f, k, "EU"); err != nil || len(l.Findings) != 1 || l.Findings[0].Level != calc.Unchecked {
		t.Errorf("allergens are not known: %+v %v", l, err)
	}
}

// TestTheOrderOfWeighingDoesNotMatter: only amounts decide the list.
func TestTheOrderOfWeighingDoesNotMatter(t *testing.T) {
	keys := []string{"water", "betaine-30", "sucrose", "glycerin", "parfum", "iron-oxide-red", "stearic-50"}
	rapid.Check(t, func(t *rapid.T) {
		var in []calc.WentIn
		for range rapid.IntRange(1, 8).Draw(t, "lines") {
			in = append(in, calc.WentIn{Ingredient: rapid.SampledFrom(keys).Draw(t, "ingredient"), Mass: calc.Mass(rapid.Int64Range(1, 100_000).Draw(t, "mass"))})
		}
		region := rapid.SampledFrom([]string{"EU", "US"}).Draw(t, "region")
		a, err := calc.IngredientList(in, calc.Given(), region, "")
		if err != nil {
			t.Fatal(err)
		}
		b, err := calc.IngredientList(rapid.Permutation(in).Draw(t, "order"), calc.Given(), region, "")
		if err != nil || a.Text != b.Text {
			t.Fatalf("%s\n%s\n%v", a.Text, b.Text, err)
		}
	})
}
