package calc_test

import (
	"strings"
	"testing"

	"stillroom/calc"
)

func printedOf(t *testing.T, region, wash string, lines ...string) calc.Printed {
	t.Helper()
	k := calc.Given()
	k.Region = region
	f := calc.Formula{Wash: wash, Site: "hand"}
	for i, l := range lines {
		key, share, _ := strings.Cut(l, " ")
		x := calc.Line{ID: string(rune('1' + i)), Ingredient: key, QS: share == "qs"}
		if !x.QS {
			x.Percent = percent(t, share)
		}
		f.Lines = append(f.Lines, x)
	}
	p, err := calc.PrintedOf(nil, f, k)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func whyOf(p calc.Printed, first string) string {
	for _, d := range p.Differ {
		if d.First == first {
			return d.Why
		}
	}
	return ""
}

// What is exactly 1 % keeps its place in the EU and may stand anywhere in the US; what is above it differs in nothing but its name.
func TestTheTwoSidesDifferAtExactlyOnePerCent(t *testing.T) {
	p := printedOf(t, "EU", "leave-on", "water qs", "glycerin 5", "phenoxyethanol-pure 1")
	if why := whyOf(p, "Phenoxyethanol"); !strings.HasPrefix(why, "exactly 1 %") {
		t.Errorf("phenoxyethanol at 1 %%: %q", why)
	}
	if why := whyOf(p, "Glycerin"); why != "" {
		t.Errorf("glycerin differs: %s", why)
	}
	p = printedOf(t, "EU", "leave-on", "water qs", "phenoxyethanol-pure 1.01")
	if why := whyOf(p, "Phenoxyethanol"); why != "" {
		t.Errorf("phenoxyethanol at 1.01 %% differs: %s", why)
	}
}

// An allergen that a scent holds is part of the list in the EU and the UK above the threshold of the product, and in no list of the US.
func TestAllergensAboveTheThresholdArePartOfTheList(t *testing.T) {
	for name, c := range map[string]struct {
		wash, lavender string
		listed         bool
	}{
		"left on, above":    {"leave-on", "0.003", true},
		"left on, at most":  {"leave-on", "0.0026", false},
		"rinsed off, above": {"rinse-off", "0.03", true},
		"rinsed off, below": {"rinse-off", "0.02", false},
		"not said":          {"", "0.003", true},
	} {
		p := printedOf(t, "EU", c.wash, "shea qs", "lavender-oil "+c.lavender)
		if got := strings.Contains(p.Sides[0].Text, "Linalool"); got != c.listed {
			t.Errorf("%s: %s", name, p.Sides[0].Text)
		}
		if strings.Contains(p.Sides[1].Text, "Linalool") {
			t.Errorf("%s: the US lists it: %s", name, p.Sides[1].Text)
		}
		if unchecked := strings.Contains(text(p), "rinsed off or left on is missing"); unchecked != (c.wash == "") {
			t.Errorf("%s: %s", name, text(p))
		}
	}
	if p := printedOf(t, "EU", "leave-on", "shea qs", "benzyl-dehydroacetic 1"); strings.Count(p.Sides[0].Text, "Benzyl Alcohol") != 1 {
		t.Errorf("listed for its own sake, an allergen stands once: %s", p.Sides[0].Text)
	}
	if p := printedOf(t, "EU", "leave-on", "shea qs", "parfum 0.5"); !strings.Contains(text(p), "allergens of parfum") {
		t.Errorf("a scent without a statement: %s", text(p))
	}
}

func text(p calc.Printed) string {
	out := ""
	for _, f := range p.Findings {
		out += f.Says + "\n"
	}
	return out
}

// The UK names the older 24 allergens, the EU 80: the side of the maker's own region stands, and the other is told in a sentence.
func TestTheOtherOfEUAndUKIsTold(t *testing.T) {
	lines := []string{"shea qs", "peppermint-oil 0.2"}
	if s := printedOf(t, "EU", "leave-on", lines...).Sides[0]; s.Title != "EU" || !strings.Contains(s.Text, "Menthol") || s.Also != "For the UK the same list without Menthol." {
		t.Errorf("%s: %s; %s", s.Title, s.Text, s.Also)
	}
	if s := printedOf(t, "UK", "leave-on", lines...).Sides[0]; s.Title != "UK" || strings.Contains(s.Text, "Menthol") || s.Also != "For the EU the same list with Menthol as well." {
		t.Errorf("%s: %s; %s", s.Title, s.Text, s.Also)
	}
	if s := printedOf(t, "US", "leave-on", "shea qs").Sides[0]; s.Title != "EU and UK" || s.Also != "" {
		t.Errorf("%s; %s", s.Title, s.Also)
	}
}

// A warning that a table of law asks for stands among the cautions of its own region, with source and date, and is marked where the other has none.
func TestWarningsOfTheTablesAreCautions(t *testing.T) {
	find := func(s calc.PrintedSide, word string) *calc.PrintedText {
		for i := range s.Cautions {
			if strings.Contains(s.Cautions[i].Says, word) {
				return &s.Cautions[i]
			}
		}
		return nil
	}
	p := printedOf(t, "EU", "leave-on", "water qs", "lactic-80 2", "almond-oil 3")
	if c := find(p.Sides[1], "Sunburn"); c == nil || !c.Law || !c.Differs || c.Source == "" || !strings.Contains(c.Date, "table of law") {
		t.Errorf("US: %+v", p.Sides[1].Cautions)
	}
	if c := find(p.Sides[0], "Sunburn"); c != nil {
		t.Errorf("EU: %+v", c)
	}
	if c := find(p.Sides[0], "nut"); c == nil || c.Law || c.Differs {
		t.Errorf("EU, nut: %+v", p.Sides[0].Cautions)
	}
	if c := find(p.Sides[0], "eyes"); c == nil || c.Differs {
		t.Errorf("a caution of every product differs: %+v", c)
	}
}

// A residue that its supplier does not list is printed on neither side, and is named.
func TestAResidueIsPrintedOnNeitherSide(t *testing.T) {
	f, k := listBook(t, "Aqua=95;Coconut Acid=5!")
	p, err := calc.PrintedOf(nil, f, k)
	if err != nil || len(p.LeftOut) != 1 || p.LeftOut[0] != "Coconut Acid" || strings.Contains(p.Sides[0].Text+p.Sides[1].Text, "Coconut") {
		t.Errorf("%+v %v", p, err)
	}
	if !strings.Contains(p.Sides[1].Memory, "Water") {
		t.Errorf("a name from memory must be said: %q", p.Sides[1].Memory)
	}
}

// A supplier's statement of allergens is about this mixture; what is given is about the plant.
func TestOneStatementTakesThePlaceOfWhatWasGiven(t *testing.T) {
	k := calc.Given()
	rose := *k.Ingredients["rose-oil"]
	calc.Certified{Allergens: []calc.Share{{INCI: "Geraniol", Percent: calc.OnePercent}}}.WithCertificate(&rose)
	kept, geraniol := false, 0
	for _, h := range rose.Holds {
		kept = kept || h.INCI == "Methyl Eugenol"
		if h.INCI == "Geraniol" {
			geraniol++
		} else if h.INCI == "Citronellol" {
			t.Error("an allergen that the statement does not name is still held")
		}
	}
	if !kept || geraniol != 1 {
		t.Errorf("methyl eugenol kept: %v, geraniol %d times: a statement of allergens does not speak of other restricted substances", kept, geraniol)
	}
	if calc.AllergenName("linalool") != "Linalool" || calc.AllergenName("Moon dust") != "Moon dust" {
		t.Error("a name is written as the table writes it")
	}
}

// A statement spelled as suppliers spell it names the same allergens, and a name that no table knows is said and takes nothing away.
func TestAStatementIsReadAsSuppliersSpellIt(t *testing.T) {
	for typed, want := range map[string]string{"d-Limonene": "Limonene", "D-LIMONENE (CAS 5989-27-5)": "Limonene", "(R)-limonene": "Limonene", "Cinnamic aldehyde": "Cinnamal", "Linalol": "Linalool", "α-Pinene": "Pinene", "hexyl-cinnamaldehyde": "Hexyl Cinnamal", "methyl eugenol": "Methyl Eugenol"} {
		if got := calc.AllergenName(typed); got != want {
			t.Errorf("%q is read as %q, want %q", typed, got, want)
		}
	}
	for _, c := range []struct {
		name    string
		held    bool // the given linalool stays
		unread  bool
		percent calc.Percent
	}{{"d-Limonene", false, false, 91 * calc.OnePercent}, {"Lemonine", true, true, 91 * calc.OnePercent}} {
		k := calc.Given()
		orange := *k.Ingredients["orange-oil"]
		calc.Certified{Allergens: []calc.Share{{INCI: c.name, Percent: c.percent, Listed: "yes"}}}.WithCertificate(&orange)
		k.Ingredients["orange-oil"] = &orange
		f := calc.Formula{Wash: "leave-on", Lines: []calc.Line{{ID: "o", Ingredient: "orange-oil", Percent: calc.OnePercent}, {ID: "w", Ingredient: "water", QS: true}}}
		l, err := calc.IngredientListOf(f, k, "EU")
		if err != nil || !strings.Contains(l.Text, "Limonene") || strings.Contains(l.Text, "Linalool") != c.held {
			t.Errorf("%s: %s %v", c.name, l.Text, err)
		}
		said := 0
		for _, x := range append(calc.Findings(f, k, 0), l.Findings...) {
			if x.Level == calc.Unchecked && strings.Contains(x.Says, "“"+c.name+"”") {
				said++
			}
		}
		if (said == 2) != c.unread || (said == 0) == c.unread {
			t.Errorf("%s: formula and list say it %d times", c.name, said)
		}
	}
}
