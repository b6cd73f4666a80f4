package book

import (
	"slices"
	"strings"
	"testing"

	"stillroom/calc"
)

func TestAVariantRemembersWhereItCameFrom(t *testing.T) {
	w := newWorld(t)
	first := scrub()
	key := w.do("formula.save", first, "key")
	rev := view[FormulaView](w, "formula", m{"key": key}).Row.Revision
	d := view[FormulaView](w, "formula", m{"key": key}).Draft
	d.Lines[1].Percent = "12"
	w.do("formula.save", d, "key")

	variant := w.do("formula.fork", m{"formula": key, "revision": rev, "name": "Mint rinse"}, "key")
	v := view[FormulaView](w, "formula", m{"key": variant})
	if variant == key || v.Row.Name != "Mint rinse" || v.Row.Number != 1 || v.Row.Forked || len(v.Revisions) != 1 || v.Draft.Lines[1].Percent != "10" {
		t.Fatalf("the variant of the first revision: %s", pretty(v))
	}
	if row := view[FormulaView](w, "formula", m{"key": key}).Row; row.Forked || row.Number != 2 {
		t.Errorf("its origin: %s", pretty(row))
	}
	if again := w.do("formula.fork", m{"formula": key, "revision": rev, "name": "Mint rinse"}, "key"); again != variant {
		t.Error("a key pressed twice makes two variants")
	}
	// The origin is not forgotten when the variant goes on, though no screen shows it.
	d = v.Draft
	d.Lines[1].Percent = "9"
	w.do("formula.save", d, "key")
	if b := w.s.formulas.get(variant).newest().read(); b.Lineage != key || b.LineageRev.String() != rev {
		t.Errorf("the second revision of the variant: %+v", b)
	}
	for _, c := range []struct {
		args        m
		code, field string
	}{
		{m{"formula": "NNNN0001", "name": "x"}, "formula unknown", "formula"},
		{m{"formula": key, "revision": "x.y", "name": "x"}, "revision unknown", "revision"},
		{m{"formula": key, "revision": Ref{device(7), 9}.String(), "name": "x"}, "revision unknown", "revision"},
		{m{"formula": key, "name": " "}, "name missing", "name"},
		{m{"formula": key, "name": "plain RINSE"}, "name taken", "name"},
	} {
		w.refused("formula.fork", c.args, c.code, c.field)
	}
}

func TestWhatChangedBetweenTwoRevisions(t *testing.T) {
	w := newWorld(t)
	tin := w.do("container.define", ownContainer{Name: "Low tin", Word: "tin"}, "key")
	key := w.do("formula.save", scrub(), "key")
	one := view[FormulaView](w, "formula", m{"key": key}).Row.Revision
	d := view[FormulaView](w, "formula", m{"key": key}).Draft
	d.Site = "hand"
	d.Phases[0].Treatment = calc.DraftTreatment{Do: "heat", To: "70 C", HoldMin: "20"}
	d.Phases = append(d.Phases, calc.DraftPhase{Letter: "C"})
	d.Lines[1].Percent = "12"
	d.Lines[1].Note = "weigh last"
	d.Lines[2].Phase = "C"
	d.Lines = append(d.Lines, calc.DraftLine{ID: "x", Phase: "A", Ingredient: "coconut-oil", Percent: "3"})
	d.Plan.Fill, d.Plan.Container = "110.5", tin
	w.do("formula.save", d, "key")
	two := view[FormulaView](w, "formula", m{"key": key}).Row.Revision

	want := []CompareLine{
		{"distilled water", "A", "89.00 %", "84.00 %", "q.s. to 100: 100 − 11.00 of all other lines of revision 1 = 89.00 %", "q.s. to 100: 100 − 16.00 of all other lines of revision 2 = 84.00 %; 84.00 − 89.00 = −5.00 % of difference", "less"},
		{"glycerin", "A", "10.00 %", "12.00 %", "written in revision 1 = 10.00 %", "written in revision 2 = 12.00 %; 12.00 − 10.00 = 2.00 % of difference", "more"},
		{w.s.lineName("phenoxyethanol-ehg", ""), "B → C", "1.00 %", "1.00 %", "written in revision 1 = 1.00 %", "written in revision 2 = 1.00 %", "moved"},
		{w.s.lineName("coconut-oil", ""), "A", "", "3.00 %", "", "written in revision 2 = 3.00 %", "added"},
	}
	want[0].Name = w.s.lineName("water", "")
	for _, args := range []m{{"key": key}, {"key": key, "from": one, "to": two}} {
		v := view[CompareView](w, "compare", args)
		if v.From != "revision 1" || v.To != "revision 2" || !slices.Equal(v.Lines, want) {
			t.Fatalf("compare %v: %s", args, pretty(v))
		}
		if also := strings.Join(v.Also, "\n"); also != "made for: body → hand\nphase A: heat to 75 °C → heat to 70 °C, hold 20 min\nphase C is new\nnote on glycerin: weigh last, not said before\nfill: 120 g → 110.5 g\ncontainer: Low tin, not said before" {
			t.Errorf("also:\n%s", also)
		}
		if v.Says != "3 lines differ, and 6 other things: what one of them did cannot be told from what the others did" {
			t.Errorf("says %q", v.Says)
		}
	}
	back := view[CompareView](w, "compare", m{"key": key, "from": two, "to": one})
	if last := back.Lines[len(back.Lines)-1]; last.Change != "gone" || last.From != "3.00 %" || last.To != "" || len(back.Lines) != 4 {
		t.Errorf("back: %s", pretty(back))
	}
	if v := view[CompareView](w, "compare", m{"key": key, "from": two, "to": two}); v.Says != "nothing differs" || len(v.Also) != 0 {
		t.Errorf("with itself: %s", pretty(v))
	}
}

// A variant is compared with its origin, and a line whose id was given anew is still the same line.
func TestAVariantIsComparedWithItsOrigin(t *testing.T) {
	w := newWorld(t)
	key := w.do("formula.save", scrub(), "key")
	variant := w.do("formula.fork", m{"formula": key, "name": "Mint rinse"}, "key")
	if v := view[CompareView](w, "compare", m{"key": variant}); v.From != "Plain rinse, revision 1" || v.To != "Mint rinse, revision 1" || v.Says != "nothing differs" {
		t.Fatalf("fresh: %s", pretty(v))
	}
	d := view[FormulaView](w, "formula", m{"key": variant}).Draft
	d.Lines[0].ID, d.Lines[1].ID = "7", "w" // glycerin now has the id that water had
	d.Lines[1].Percent = "11"
	w.do("formula.save", d, "key")
	origin := view[FormulaView](w, "formula", m{"key": key}).Row.Revision
	for _, k := range []string{variant, key} {
		to := view[FormulaView](w, "formula", m{"key": variant}).Row.Revision
		v := view[CompareView](w, "compare", m{"key": k, "from": origin, "to": to})
		if len(v.Lines) != 3 || v.Lines[1].Change != "more" || v.Lines[0].Change != "less" || v.Says != "1 line differs" {
			t.Fatalf("from %s: %s", k, pretty(v))
		}
	}
	// Two revisions on, the word origin still means where the variant came from, and not the revision before.
	d = view[FormulaView](w, "formula", m{"key": variant}).Draft
	d.Lines[1].Percent = "12"
	w.do("formula.save", d, "key")
	if v := view[CompareView](w, "compare", m{"key": variant, "from": "origin"}); v.From != "Plain rinse, revision 1" || v.To != "Mint rinse, revision 3" || v.Lines[1].Change != "more" {
		t.Fatalf("from its origin: %s", pretty(v))
	}
	if v := view[CompareView](w, "compare", m{"key": variant}); v.From != "revision 2" {
		t.Fatalf("from the revision before: %s", pretty(v))
	}
	other := scrub()
	other.Name = "Other"
	far := w.do("formula.save", other, "key")
	for _, c := range []struct{ args, code string }{
		{`{"key":"NNNN0001"}`, "formula unknown"}, {`{"key":"` + far + `"}`, "nothing before"}, {`{"key":"` + far + `","from":"` + origin + `"}`, "revision unknown"},
		{`{"key":"` + key + `","from":"origin"}`, "nothing before"}, {`{"key":"` + key + `","from":"x"}`, "revision unknown"}, {`{"key":"` + key + `","to":"x"}`, "revision unknown"}, {`[`, "request"},
	} {
		if _, no := w.s.View(w.ctx, "compare", []byte(c.args)); no == nil || no.Code != c.code || no.Hint == "" {
			t.Errorf("%s: %v", c.args, no)
		}
	}
}

// No honest device writes a circle of origins; a screen must not hang on one.
func TestACircleOfOriginsEnds(t *testing.T) {
	w := newWorld(t)
	for _, k := range [][2]string{{"FFFF0001", "FFFF0002"}, {"FFFF0002", "FFFF0001"}} {
		d, no := draft(KindFormulaSaved, &FormulaSaved{Key: k[0], Name: k[0], Lineage: k[1]})
		if no != nil {
			t.Fatal(no)
		}
		w.write(d)
	}
	if got := w.s.family("FFFF0001"); len(got) == 0 || got[0] != "FFFF0001" {
		t.Fatalf("family: %v", got)
	}
	if _, no := w.s.View(w.ctx, "compare", []byte(`{"key":"FFFF0001"}`)); no == nil {
		t.Fatal("there is nothing to compare it with")
	}
}

func TestABaseInsideItselfIsRefusedAtAnyDepth(t *testing.T) {
	w := newWorld(t)
	keys := []string{w.do("formula.save", scrub(), "key")}
	for _, name := range []string{"Second", "Third", "Fourth"} {
		d := scrub()
		d.Name = name
		d.Lines[1] = calc.DraftLine{ID: "b", Phase: "A", Base: keys[len(keys)-1], Percent: "20"}
		keys = append(keys, w.do("formula.save", d, "key"))
	}
	n := len(w.log[Workshop])
	for _, inside := range keys {
		d := view[FormulaView](w, "formula", m{"key": keys[0]}).Draft
		d.Lines[1] = calc.DraftLine{ID: "b", Phase: "A", Base: inside, Percent: "20"}
		_, no := w.try("formula.save", d)
		if no == nil || !strings.Contains(no.Says, "Plain rinse") || !strings.Contains(no.Says, "Nothing was written") || no.Hint == "" {
			t.Errorf("through %s: %v", inside, no)
		}
		if s := view[calc.Sheet](w, "sheet", d); s.CanSave || s.Because == "" {
			t.Errorf("the sheet lets it be saved: %q", s.Because)
		}
	}
	if len(w.log[Workshop]) != n {
		t.Error("a refusal wrote something")
	}
}

func TestATreatmentIsSaidInHerDegrees(t *testing.T) {
	for _, c := range []struct {
		p    Phase
		f    bool
		says string
	}{
		{Phase{Do: "heat", To: "80 C", HoldMin: 20, Pot: "bath"}, false, "heat to 80 °C, hold 20 min, in bath"},
		{Phase{Do: "heat", To: "80"}, true, "heat to 80 °C (176 °F)"},
		{Phase{Do: "cool", To: "100 F"}, false, "cool to 100 °F (37.8 °C)"},
		{Phase{Do: "heat", To: "until clear"}, true, "heat to until clear"},
		{Phase{To: "40 C"}, false, "to 40 °C"},
		{Phase{HoldMin: 5}, false, "hold 5 min"},
		{Phase{}, true, ""},
	} {
		if got := c.p.words(calc.Bench{Fahrenheit: c.f}); got != c.says {
			t.Errorf("%+v: %q, want %q", c.p, got, c.says)
		}
	}
}
