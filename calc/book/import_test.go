package book

import (
	"strings"
	"testing"
)

// A formula file opens on another book: own ingredients, bases and the formula, with credit and lineage.
func TestASharedFormulaOpensOnAnotherBook(t *testing.T) {
	giver, key := sharedWorld(t)
	share := view[ShareView](giver, "share", m{"key": key})
	w := newWorld(t)
	w.ctx.Device = device(7)
	dry := view[ImportView](w, "import", m{"text": share.File, "name": "x"})
	if !dry.Ready || dry.Kind != "file" || len(dry.Formulas) != 2 || len(dry.Ingredients) != 1 || dry.Formulas[0].Name != "Plain base" || !dry.Formulas[1].New {
		t.Fatal(pretty(dry))
	}
	if rows := view[[]FormulaRow](w, "formulas", nil); len(rows) != 0 {
		t.Fatalf("looking at a file wrote %s", pretty(rows))
	}
	value, no := w.try("formulas.import", m{"text": share.File, "name": "x"})
	if no != nil {
		t.Fatal(no)
	}
	keys := value.(importValue).Keys
	if len(keys) != 2 || keys[1] == key {
		t.Fatalf("%+v", value)
	}
	b := w.s.formulas.get(keys[1]).newest().read()
	if b.Credit != "Imke of Saltmeadow" || b.Lineage != key || b.LineageRev.String() != giver.s.formulas.get(key).newest().from.ref.String() || b.Lines[0].Base != keys[0] || b.Lines[0].BaseRev.Seq == 0 {
		t.Errorf("%+v", b)
	}
	if got := view[ShareView](w, "share", m{"key": keys[1]}); got.Credit != "Imke of Saltmeadow" || got.From != "from another book" {
		t.Errorf("shared on: %s %s", got.Credit, got.From)
	}
	if got := view[FormulaView](w, "formula", m{"key": keys[1]}); got.From != "by Imke of Saltmeadow, from another book" {
		t.Errorf("its head says %q", got.From)
	}
	// What comes out again is what went in, but for the keys.
	there, here := view[CardView](giver, "card", m{"key": key}), view[CardView](w, "card", m{"key": keys[1]})
	if pretty(there.Phases) != pretty(here.Phases) || there.Ingredients != here.Ingredients || there.Keeps != here.Keeps {
		t.Errorf("%s%s", pretty(there.Phases), pretty(here.Phases))
	}
	// The same file once more brings nothing.
	again, no := w.try("formulas.import", m{"text": share.File, "name": "x"})
	if no != nil || len(again.(importValue).Keys) != 0 || len(view[[]FormulaRow](w, "formulas", nil)) != 2 {
		t.Errorf("twice: %+v %v", again, no)
	}
	// Back home it is here already, line for line.
	if back := view[ImportView](giver, "import", m{"text": share.File}); !back.Ready || back.Formulas[1].New {
		t.Errorf("at home: %s", pretty(back))
	}
}

// A name that stands for something else here gets the giver's name behind it; nothing of the receiver's is changed.
func TestAStrangersNamesDoNotOverwriteOnesOwn(t *testing.T) {
	giver, key := sharedWorld(t)
	file := view[ShareView](giver, "share", m{"key": key}).File
	w := newWorld(t)
	mine := w.do("ingredient.define", ownIngredient{Name: "Dune oat milk", INCI: "Avena Sativa Kernel Flour"}, "key")
	other := scrub()
	other.Name, other.Lines[1].Percent = "Oat rinse", "12"
	w.do("formula.save", other, "key")
	w.do("formulas.import", m{"text": file}, "")
	var names []string
	for _, f := range view[[]FormulaRow](w, "formulas", nil) {
		names = append(names, f.Name)
	}
	if got := strings.Join(names, "; "); !strings.Contains(got, "Oat rinse (Imke of Saltmeadow)") || len(names) != 3 {
		t.Error(got)
	}
	if i := w.s.ingredient(mine); i.INCI != "Avena Sativa Kernel Flour" || w.s.ingredientNamed("Dune oat milk (Imke of Saltmeadow)", "") == "" {
		t.Errorf("%+v", i)
	}
}

func TestAFileThatDoesNotOpenSaysWhere(t *testing.T) {
	giver, key := sharedWorld(t)
	file := view[ShareView](giver, "share", m{"key": key}).File
	for name, c := range map[string]struct{ from, to, place, says string }{
		"a comma too few":         {"\"80.5\",\n", "\"80.5\"\n", "", "line "},
		"unknown field":           {`"wash"`, `"cost": "3", "wash"`, "formula.cost", "no field"},
		"another kind of file":    {`"stillroom": "formula file 1",`, "", "stillroom", "not a formula file"},
		"a later layout":          {"formula file 1", "formula file 9", "stillroom", "formula file 9"},
		"not a share":             {`"80.5"`, `"eighty"`, "formula", "not a number"},
		"more than a jar":         {`"80.5"`, `"99.9"`, "formula", "less than nothing"},
		"an ingredient not here":  {`"ingredient": "sci-powder"`, `"ingredient": "moon-dust"`, "formula", "moon-dust"},
		"a base that is not here": {`"base": "`, `"base": "Z`, "formula", "not known"},
		"composition":             {`"percent": "90"`, `"percent": "80"`, "ingredients[0]", "sum"},
		"a temperature":           {`"to": "35 C"`, `"to": "warm"`, "formula", "temperature"},
	} {
		broken := strings.Replace(file, c.from, c.to, 1)
		w := newWorld(t)
		got := view[ImportView](w, "import", m{"text": broken})
		if broken == file || got.Ready || len(got.Troubles) == 0 {
			t.Errorf("%s: %v %s", name, broken == file, pretty(got.Troubles))
			continue
		}
		if x := got.Troubles[0]; !strings.HasPrefix(x.Place, c.place) || !strings.Contains(x.Says, c.says) || x.Do == "" {
			t.Errorf("%s: %+v", name, x)
		}
		w.refused("formulas.import", m{"text": broken}, "import", "text")
		if len(w.log[Workshop]) != 0 {
			t.Errorf("%s: something was kept", name)
		}
	}
	cut := view[ImportView](giver, "import", m{"text": file[:len(file)/2]})
	if len(cut.Troubles) != 1 || !strings.Contains(cut.Troubles[0].Says, "ends too soon") {
		t.Errorf("cut off: %s", pretty(cut.Troubles))
	}
}

// A base in a file that holds itself must end in words.
func TestASharedRingIsRefused(t *testing.T) {
	w := newWorld(t)
	got := view[ImportView](w, "import", m{"text": `{"stillroom":"formula file 1","formula":{"key":"a","name":"A","phases":[{"letter":"A"}],"lines":[{"phase":"A","base":"b","percent":"100"}]},
		"bases":[{"key":"b","name":"B","phases":[{"letter":"A"}],"lines":[{"phase":"A","base":"a","percent":"100"}]}],"ingredients":[]}`})
	if got.Ready || len(got.Troubles) == 0 {
		t.Error(pretty(got))
	}
}

// All formulas of a table are kept, or none of them.
func TestATableIsKeptWholeOrNotAtAll(t *testing.T) {
	w := newWorld(t)
	good := "recipe;phase;ingredient;%;why\nMild;A;Distilled water;q.s.;\nMild;A;Glycerin;5,5;soft\nOily;A;Shea butter;100;\n"
	bad := good + "Dusty;A;moon dust;40;\nDusty;A;Glycerin;nine;\n"
	dry := view[ImportView](w, "import", m{"text": bad})
	var places []string
	for _, x := range dry.Troubles {
		places = append(places, x.Place+" "+x.Says)
	}
	if got := strings.Join(places, "\n"); dry.Ready || !strings.Contains(got, "line 5, column C, ingredient “moon dust” is not known here") || !strings.Contains(got, "line 6, column D, % “nine” is not a number") {
		t.Errorf("%s\n%s", dry.Says, got)
	}
	no := w.refused("formulas.import", m{"text": bad}, "import", "text")
	if !strings.Contains(no.Says, "ine 5, column C") || len(w.log[Workshop]) != 0 {
		t.Errorf("%+v", no)
	}
	value, no := w.try("formulas.import", m{"text": good})
	if no != nil || len(value.(importValue).Keys) != 2 || len(w.log[Workshop]) != 2 {
		t.Fatalf("%+v %v", value, no)
	}
	if again, no := w.try("formulas.import", m{"text": good}); no != nil || len(again.(importValue).Keys) != 0 {
		t.Errorf("twice: %+v %v", again, no)
	}
	if differs := view[ImportView](w, "import", m{"text": strings.Replace(good, "5,5", "6", 1)}); differs.Ready || !strings.Contains(differs.Troubles[0].Says, "differs") {
		t.Error(pretty(differs))
	}
}

// A table that this book wrote comes back as what it was, in either way of writing decimals.
func TestATableReadsBackToItsFormula(t *testing.T) {
	for _, region := range []string{"EU", "US"} {
		w := newWorld(t)
		w.do("workshop.name", m{"maker": "Imke", "region": region}, "")
		d := scrub()
		d.Lines[1].Note = "=soft; \"mild\", +x"
		key := w.do("formula.save", d, "key")
		table := view[ShareView](w, "share", m{"key": key}).Table
		got := view[ImportView](w, "import", m{"text": table})
		if !got.Ready || got.Formulas[0].New {
			t.Errorf("%s: %s\n%s", region, table, pretty(got))
		}
	}
}
