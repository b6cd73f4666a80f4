package book

import (
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"stillroom/calc"
)

// sharedWorld is a workshop with a formula on a base and an ingredient of its own, whose notes tell too much.
func sharedWorld(t *testing.T) (w *world, key string) {
	w = newWorld(t)
	w.do("workshop.name", m{"maker": "Imke of Saltmeadow", "contact": "", "region": "EU"}, "")
	oat := w.do("ingredient.define", ownIngredient{Name: "Dune oat milk", Composition: "Aqua 90\nAvena Sativa Kernel Extract 10", Soluble: "water", PHLow: "4", PHHigh: "6,5", UseHigh: "20", Density: "1,02", Source: "Halden sheet 4", Counts: []string{"plant powder"}}, "key")
	for i, code := range []string{"G-17", "WX-0042"} {
		w.do("lot.receive", m{"ingredient": []string{"glycerin", oat}[i], "code": code, "supplier": "Halden Raw Goods", "supplierLot": "HR-88104", "grams": "2500", "cost": "987,65"}, "key")
	}
	base := scrub()
	base.Name, base.Plan = "Plain base", calc.Plan{}
	inner := w.do("formula.save", base, "key")
	d := calc.Draft{Name: "Oat rinse", Wash: "rinse-off", Site: "body", Age: "adults", Life: "9", AfterOpen: "6",
		Phases: []calc.DraftPhase{{Letter: "A", Treatment: calc.DraftTreatment{Do: "mix"}}, {Letter: "B", Treatment: calc.DraftTreatment{Do: "fold", To: "35 C", HoldMin: "5"}, Pot: "blue bowl"}},
		Lines: []calc.DraftLine{{ID: "1", Phase: "A", Base: inner, Percent: "80.5", Note: "carries the rest; mild"}, {ID: "2", Phase: "A", Ingredient: oat, QS: true, Note: "=soothes, buy it at halden raw goods"},
			{ID: "3", Phase: "B", Ingredient: "sci-powder", Percent: "5", Note: "foams, \"densely\"; opens G-17 last"}, {ID: "4", Phase: "B", Ingredient: "parfum", Percent: "0.5"}},
		Plan: calc.Plan{Jars: "12", Fill: "150", Loss: "4", Step: "0.1"}}
	return w, w.do("formula.save", d, "key")
}

// forbidden are the bytes that no shared thing may hold, in any case.
var forbidden = []string{"halden", "hr-88104", "g-17", "wx-0042", "987", "98765"}

func TestNothingSharedTellsOfMoneyLotsOrSuppliers(t *testing.T) {
	w, key := sharedWorld(t)
	card := view[CardView](w, "card", m{"key": key})
	class := view[ClassView](w, "class", m{"key": key, "learners": "9", "mass": "150", "spare": "10"})
	share := view[ShareView](w, "share", m{"key": key})
	for name, text := range map[string]string{"card": pretty(card), "class": pretty(class), "share": pretty(share), "file": share.File, "table": share.Table} {
		for _, word := range forbidden {
			if strings.Contains(strings.ToLower(text), word) {
				t.Errorf("%s holds %q:\n%s", name, word, text)
			}
		}
		if !strings.Contains(text, "carries the rest; mild") || strings.Contains(text, ": null") {
			t.Errorf("%s lost what it is for, or holds a list that is null:\n%s", name, text)
		}
	}
	if len(share.LeftOut) != 2 || len(class.LeftOut) != 2 {
		t.Errorf("what was left out is not said: %q, %q", share.LeftOut, class.LeftOut)
	}
}

func TestCardAndClassSheetAsRecorded(t *testing.T) {
	w, key := sharedWorld(t)
	golden(t, "testdata/golden/card.json", []byte(pretty(view[CardView](w, "card", m{"key": key}))))
	golden(t, "testdata/golden/class.json", []byte(pretty(view[ClassView](w, "class", m{"key": key, "learners": "9", "mass": "150", "spare": "10"}))))
}

// What trade.md asks of every print: that it claims nothing, and how much was not checked.
func TestEveryPrintSaysWhatItDidNotCheck(t *testing.T) {
	w, key := sharedWorld(t)
	card := view[CardView](w, "card", m{"key": key})
	class := view[ClassView](w, "class", m{"key": key, "learners": "9", "mass": "150"})
	for _, p := range []struct{ foot, counts string }{{card.Foot, card.Counts}, {class.Foot, class.Counts}} {
		if !strings.Contains(p.foot, "does not find a product safe or legal") || !strings.Contains(p.counts, "not checked") {
			t.Errorf("%q, %q", p.foot, p.counts)
		}
	}
	if len(card.Wear) == 0 || len(class.Wear) == 0 || len(card.Cautions) < 3 || len(card.Sources) == 0 || !strings.Contains(class.Ask, "asthma") || card.Ingredients == "" {
		t.Errorf("%s%s", pretty(card), pretty(class))
	}
	for _, c := range []struct{ field, learners, mass, spare, step string }{{"learners", "nine", "150", "", ""}, {"learners", "0", "150", "", ""}, {"learners", "1001", "150", "", ""}, {"mass", "9", "", "", ""}, {"spare", "9", "150", "x", ""}, {"step", "9", "150", "", "0.3 cups"}} {
		_, no := w.s.View(w.ctx, "class", []byte(`{"key":"`+key+`","learners":"`+c.learners+`","mass":"`+c.mass+`","spare":"`+c.spare+`","step":"`+c.step+`"}`))
		if no == nil || no.Field != c.field || no.Hint == "" {
			t.Errorf("%+v: %+v", c, no)
		}
	}
}

func TestTheSchemaFitsWhatIsWritten(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile("../../testdata/schema/formula.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	check := func(text string) error {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			return err
		}
		return schema.Validate(v)
	}
	w, key := sharedWorld(t)
	file := view[ShareView](w, "share", m{"key": key}).File
	if err := check(file); err != nil {
		t.Fatalf("%v\n%s", err, file)
	}
	s, _ := demo(t)
	demoWorld := &world{t: t, s: s, ctx: w.ctx}
	for _, f := range view[[]FormulaRow](demoWorld, "formulas", nil) {
		if err := check(view[ShareView](demoWorld, "share", m{"key": f.Key}).File); err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
	for _, c := range [][2]string{{`"percent": "80.5"`, `"percent": "lots"`}, {`"stillroom": "formula file 1"`, `"stillroom": "formula file 2"`}, {`"qs": true`, `"cost": "3"`}, {`"phases": [`, `"supplier": "x", "phases": [`}} {
		broken := strings.Replace(file, c[0], c[1], 1)
		if broken == file || check(broken) == nil {
			t.Errorf("the schema lets %s pass", c[1])
		}
	}
}
