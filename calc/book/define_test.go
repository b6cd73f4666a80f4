package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// amber is an own ingredient as typed, with a comma, a semicolon and a blank line where people put them.
func amber() ownIngredient {
	return ownIngredient{Name: "Dune amber", INCI: "Avena Sativa Kernel Extract", Composition: "Aqua 60,5 %\n\nAvena Sativa Kernel Extract: 39.5; ", Charge: "cationic", Soluble: "water",
		PHLow: "4", PHHigh: "6,5", UseLow: "0.5", UseHigh: "3", Density: "1,04", MaxTemperature: "100 F", Airborne: true, Source: "Halden sheet 4"}
}

func figures(v IngredientView) map[string]SourcedFigure {
	out := map[string]SourcedFigure{}
	for _, f := range v.Figures {
		out[f.What] = f
	}
	return out
}

func TestAnOwnIngredientIsUsedLikeAGivenOne(t *testing.T) {
	w := newWorld(t)
	key := w.do("ingredient.define", amber(), "key")
	if again := w.do("ingredient.define", amber(), "key"); again != key || len(w.log[Workshop]) != 1 {
		t.Fatal("a key pressed twice writes a second ingredient")
	}
	v := view[IngredientView](w, "ingredient", m{"key": key})
	if !v.Own || len(v.Composition) != 2 || v.Composition[0] != (SubstanceShare{"Aqua", "60.50 %", "not known"}) || v.Where != "book" {
		t.Fatalf("the ingredient: %s", pretty(v))
	}
	f := figures(v)
	for what, want := range map[string]string{"pH in which it lasts": "4.0 to 6.5", "usual use": "0.5 to 3 %", "density at 20 °C": "1.04 g/mL", "added below": "100 °F (37.8 °C)", "charge": "cationic, as Avena Sativa Kernel Extract", "dissolves in": "water"} {
		if f[what].Text != want || f[what].From != "supplier" || f[what].Source != "Halden sheet 4" {
			t.Errorf("%s: %+v", what, f[what])
		}
	}
	if row := view[[]IngredientRow](w, "ingredients", m{"q": "dune am"}); len(row) != 1 || row[0].Key != key {
		t.Fatalf("the list of ingredients: %s", pretty(row))
	}
	d := scrub()
	d.Lines = append(d.Lines, calc.DraftLine{ID: "o", Phase: "A", Ingredient: key, Percent: "9"}, calc.DraftLine{ID: "a", Phase: "A", Ingredient: "sci-powder", Percent: "10"})
	sheet := view[calc.Sheet](w, "sheet", d)
	rules := map[string]string{}
	for _, n := range sheet.Findings {
		rules[n.Rule+"/"+n.Line] = n.Source
	}
	if sheet.Lines[3].Name != "Dune amber" || sheet.Lines[3].Trouble != "" {
		t.Errorf("the line on the sheet: %s", pretty(sheet.Lines[3]))
	}
	if _, ok := rules["charge/o"]; !ok {
		t.Errorf("its charge is not checked: %v", rules)
	}
	if src, ok := rules["range/o"]; !ok || !strings.Contains(src, "Halden sheet 4") {
		t.Errorf("its range of use is not checked against its own document: %v", rules)
	}
	formula := w.do("formula.save", d, "key")
	lot := w.lot(key, "D-1")
	b := w.do("batch.start", m{"formula": formula, "purpose": "trial", "jars": "10", "fill": "100", "step": "0.1"}, "key")
	if s := stepOf(t, w, b, "weigh:o"); s.Title != "Dune amber" || len(s.Lots) != 1 || s.Lots[0].Key != lot {
		t.Errorf("at the bench: %s", pretty(s))
	}
	if s := stepOf(t, w, b, "wear:o"); len(s.Wear) == 0 {
		t.Error("a powder that flies is weighed without a word")
	}
}

func TestOwnFiguresStandOverThoseOfTheList(t *testing.T) {
	w := newWorld(t)
	before := view[IngredientView](w, "ingredient", m{"key": "glycerin"})
	if f := figures(before); before.Own || f["composition"].From != "given" || f["density at 20 °C"].From != "given" {
		t.Fatalf("as given: %s", pretty(before))
	}
	for _, c := range []struct{ source, from, shown string }{{"Tern sheet 9", "supplier", "Tern sheet 9"}, {"my own entry", "own", "own entry"}, {"", "own", "own entry"}} {
		w.do("ingredient.define", ownIngredient{Key: "glycerin", Density: "1.255", Source: c.source}, "key")
		v := view[IngredientView](w, "ingredient", m{"key": "glycerin"})
		f := figures(v)
		if d := f["density at 20 °C"]; d.Text != "1.255 g/mL" || d.From != c.from || d.Source != c.shown {
			t.Errorf("with the source %q: %+v", c.source, d)
		}
		if v.Own || v.Name != before.Name || f["composition"].From != "given" || len(v.Composition) != len(before.Composition) {
			t.Errorf("what was not said did not stay as given: %s", pretty(v))
		}
	}
	n := len(w.log[Workshop])
	w.do("ingredient.define", ownIngredient{Key: "glycerin", Density: "1,255"}, "key")
	if len(w.log[Workshop]) != n {
		t.Error("the same said twice is written twice")
	}
	// Silence takes no warning away.
	w.do("ingredient.define", ownIngredient{Key: "sci-powder", Airborne: false, Density: "0.5"}, "key")
	if f := figures(view[IngredientView](w, "ingredient", m{"key": "sci-powder"})); f["airborne powder"].Text == "" {
		t.Error("an override without hazards took the powder's warning away")
	}
}

func TestDefiningIsRefused(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct {
		name, code, field string
		change            func(*ownIngredient)
	}{
		{"no name", "name missing", "name", func(a *ownIngredient) { a.Name = " " }},
		{"neither INCI name nor composition", "INCI missing", "inci", func(a *ownIngredient) { a.INCI, a.Composition = "", " " }},
		{"a composition of 99", "sum", "composition", func(a *ownIngredient) { a.Composition = "Aqua 60\nMel 39" }},
		{"a composition without a share", "misread", "composition", func(a *ownIngredient) { a.Composition = "Aqua" }},
		{"a composition in words", "misread", "composition", func(a *ownIngredient) { a.Composition = "Aqua much" }},
		{"a negative share", "misread", "composition", func(a *ownIngredient) { a.Composition = "Aqua -5\nMel 105" }},
		{"a charge that is none", "charge unknown", "charge", func(a *ownIngredient) { a.Charge = "positive" }},
		{"dissolves in the moon", "solubility unknown", "soluble", func(a *ownIngredient) { a.Soluble = "moon" }},
		{"a pH of 15", "misread", "phHigh", func(a *ownIngredient) { a.PHHigh = "15" }},
		{"a pH window upside down", "upside down", "phHigh", func(a *ownIngredient) { a.PHLow, a.PHHigh = "7", "4" }},
		{"a range upside down", "upside down", "useHigh", func(a *ownIngredient) { a.UseLow, a.UseHigh = "5", "" }},
		{"a density of nothing", "misread", "density", func(a *ownIngredient) { a.Density = "0" }},
		{"a temperature beyond a bench", "misread", "maxTemperature", func(a *ownIngredient) { a.MaxTemperature = "900" }},
		{"a key that nobody knows", "ingredient unknown", "key", func(a *ownIngredient) { a.Key = "moon" }},
		{"a name that is taken", "name taken", "name", func(a *ownIngredient) { a.Name = "GLYCERIN" }},
		{"a name that is a book", "too long", "", func(a *ownIngredient) { a.Name = strings.Repeat("n", 300) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := amber()
			c.change(&a)
			w.t = t
			w.refused("ingredient.define", a, c.code, c.field)
		})
	}
	for _, c := range []struct {
		name, code, field string
		args              ownContainer
	}{
		{"no name", "name missing", "name", ownContainer{}},
		{"a word that is none", "word unknown", "word", ownContainer{Name: "a", Word: "vat"}},
		{"a brim below nothing", "misread", "brimful", ownContainer{Name: "a", Brimful: "-150"}},
		{"a brim in grams", "misread", "brimful", ownContainer{Name: "a", Brimful: "150 g"}},
		{"a tare of nothing", "misread", "tare", ownContainer{Name: "a", Tare: "0"}},
		{"a label of nothing", "misread", "labelWidth", ownContainer{Name: "a", LabelWidth: "0"}},
		{"a label finer than a micrometre", "misread", "labelHeight", ownContainer{Name: "a", LabelHeight: "18.0001"}},
		{"half a jar", "misread", "count", ownContainer{Name: "a", Count: "2.5"}},
		{"a key that nobody knows", "container unknown", "key", ownContainer{Key: "JJJJ0009", Name: "a"}},
	} {
		t.Run("container: "+c.name, func(t *testing.T) {
			w.t = t
			w.refused("container.define", c.args, c.code, c.field)
		})
	}
	if len(w.log[Workshop]) != 0 {
		t.Fatal("a refusal wrote something")
	}
}

func TestContainersAreCountedAndFilled(t *testing.T) {
	w := newWorld(t)
	tin := ownContainer{Name: "Low tin", Word: "tin", Brimful: "5 fl oz", Tare: "42,1", Material: "aluminium", Closure: "screw lid", LabelWidth: "52,5 mm", LabelHeight: "18", Count: "60"}
	key := w.do("container.define", tin, "key")
	rows := func() []ContainerRow { return view[[]ContainerRow](w, "containers", nil) }
	if r := rows(); len(r) != 1 || r[0] != (ContainerRow{key, "Low tin", "tin", "147.868 mL", "42.1 g", "aluminium", "60", "book"}) {
		t.Fatalf("containers: %s", pretty(r))
	}
	if c := w.s.containers.get(key).body; c.LabelWidth != 52500 || c.LabelHeight != 18000 || c.Closure != "screw lid" {
		t.Errorf("the label's place: %+v", c)
	}
	n := len(w.log[Workshop])
	if again := w.do("container.define", tin, "key"); again != key || len(w.log[Workshop]) != n {
		t.Error("a key pressed twice writes a second container or a second lot")
	}
	w.refused("container.define", ownContainer{Name: "low TIN"}, "name taken", "name")
	w.do("lot.receive", m{"ingredient": key, "grams": "40", "supplier": "Tern & Daughter"}, "key")
	lots := view[[]LotRow](w, "lots", nil)
	if len(lots) != 2 || lots[0].Name != "Low tin" || lots[0].OnHand.Text != "40 pieces" {
		t.Fatalf("lots of containers: %s", pretty(lots))
	}
	w.refused("lot.receive", m{"ingredient": key, "grams": "40.5"}, "misread", "grams")
	d := scrub()
	d.Plan.Container = key
	formula := w.do("formula.save", d, "key")
	if got := view[FormulaView](w, "formula", m{"key": formula}).Draft.Plan.Container; got != key {
		t.Errorf("the plan's container is %q", got)
	}
	d.Plan.Container = "JJJJ0009"
	w.refused("formula.save", d, "container unknown", "container")
	start := m{"formula": formula, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1", "container": "JJJJ0009"}
	w.refused("batch.start", start, "container unknown", "container")
	start["container"] = key
	b := w.do("batch.start", start, "key")
	w.weighAll(b)
	if s := stepOf(t, w, b, "fill"); !strings.HasPrefix(s.Says, "24 tins of 120 g") {
		t.Errorf("the step says %q", s.Says)
	}
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	if r := rows(); r[0].OnHand != "77" {
		t.Errorf("after 23 of 100 were filled: %s", pretty(r))
	}
	if v := view[BatchView](w, "batch", m{"key": b}); v.Row.Jars != "23 of 24 tins" {
		t.Errorf("the batch: %s", pretty(v.Row))
	}
}

func TestTheFillIsCheckedAgainstItsJar(t *testing.T) {
	w := newWorld(t)
	jar := w.do("container.define", ownContainer{Name: "Jar 150", Brimful: "150"}, "key")
	nameless := w.do("container.define", ownContainer{Name: "Jar of no size"}, "key")
	formula, b := w.start()
	sheet := func(container, fill string) calc.Sheet {
		d := view[FormulaView](w, "formula", m{"key": formula}).Draft
		d.Plan.Container, d.Plan.Fill = container, fill
		return view[calc.Sheet](w, "sheet", d)
	}
	if v := sheet("", "120"); v.Fits != "" || v.FitsLevel != "" {
		t.Errorf("without a container: %q %q", v.Fits, v.FitsLevel)
	}
	if v := sheet(jar, "120"); v.FitsLevel != "unchecked" || !strings.HasPrefix(v.Fits, "not checked: whether it fits; the density is missing") {
		t.Errorf("without a density: %q %q", v.Fits, v.FitsLevel)
	}
	entry := w.do("batch.density", m{"batch": b, "value": "0,9"}, "entry")
	w.do("correct", m{"entry": entry, "value": "0.84", "reason": "cup not full"}, "entry")
	second := w.do("batch.start", m{"formula": formula, "purpose": "trial", "jars": "2", "fill": "120", "step": "0.1", "container": jar}, "key")
	w.do("batch.density", m{"batch": second, "value": "0.88"}, "entry")
	w.refused("batch.density", m{"batch": second, "value": "88"}, "misread", "value")
	w.refused("batch.density", m{"batch": "NNNNN", "value": "0.88"}, "batch unknown", "batch")
	for _, c := range []struct{ container, fill, level, says string }{
		{jar, "120", "", "120 g at 0.86 g/mL needs 139.5 mL; this jar holds 150 mL, 129 g; density is the median of 2 earlier batches"},
		{jar, "125", "care", "fill at most 122 g"},
		{jar, "130", "stop", "130 g at 0.86 g/mL needs 151.2 mL"},
		{nameless, "120", "unchecked", "the jar's brimful volume is missing"},
		{jar, "", "unchecked", "the fill is missing"},
		{"JJJJ0009", "120", "unchecked", "not in this book"},
	} {
		v := sheet(c.container, c.fill)
		if v.FitsLevel != c.level || !strings.Contains(v.Fits, c.says) || (v.FitsSum == "") != (c.level == "unchecked") {
			t.Errorf("%s g: %q %q %q", c.fill, v.FitsLevel, v.Fits, v.FitsSum)
		}
		if c.fill == "120" && c.level == "" && v.FitsSum != "120 g ÷ 0.86 g/mL = 139.53 mL; ÷ 150 mL brimful × 100 = 93 %; up to 95 % fits well (common practice)" {
			t.Errorf("the sum: %q", v.FitsSum)
		}
	}
	rules := map[string]calc.Level{}
	start := m{"formula": formula, "purpose": "trial", "jars": "2", "fill": "140", "step": "0.1", "container": jar}
	for _, f := range view[BatchView](w, "batch", m{"key": w.do("batch.start", start, "key")}).Findings {
		rules[f.Rule] = f.Level
	}
	if rules["fits"] != calc.Stop {
		t.Errorf("a batch that cannot fit its jars says nothing: %v", rules)
	}
}

func TestANotebookPageKnowsOwnIngredientsAndBases(t *testing.T) {
	w := newWorld(t)
	own := w.do("ingredient.define", amber(), "key")
	base := w.do("formula.save", scrub(), "key")
	v := view[NotebookView](w, "notebook", m{"text": "Evening rinse\nwater 212 g\nglycerin 42,5 g\ndune amber 10 g\nplain rinse 30 g\nsomething odd 3 g"})
	if v.Title != "Evening rinse" {
		t.Errorf("the title is %q", v.Title)
	}
	took := map[string]string{}
	for _, l := range v.Draft.Lines {
		took[l.Ingredient+l.Base] = l.Percent
	}
	for _, key := range []string{"water", "glycerin", own, base} {
		if took[key] == "" {
			t.Errorf("%s is not in the draft: %v", key, took)
		}
	}
	odd := v.Lines[len(v.Lines)-1]
	if odd.Typed != "something odd 3 g" || odd.Trouble == "" || odd.Ingredient != "" {
		t.Errorf("what is not known: %s", pretty(odd))
	}
	if text := pretty(view[NotebookView](w, "notebook", m{"text": ""})) + pretty(v); strings.Contains(text, "null") {
		t.Errorf("a list is null in %s", text)
	}
}
