package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// wash is a formula with two cleansers, full to 100 % by its water.
func wash() calc.Draft {
	d := scrub()
	d.Name, d.Key = "", ""
	d.Lines = []calc.DraftLine{{ID: "w", Phase: "A", Ingredient: "water", QS: true}, {ID: "b", Phase: "A", Ingredient: "betaine-30", Percent: "20"},
		{ID: "d", Phase: "A", Ingredient: "decyl-glucoside", Percent: "10,0"}, {ID: "g", Phase: "A", Ingredient: "glycerin", Percent: "3"},
		{ID: "p", Phase: "B", Ingredient: "phenoxyethanol-ehg", Percent: "1"}}
	return d
}

// 10 % of a 52 % glucoside is 5.2 % active, which 17.3333 % of a 30 % sarcosinate bring; water gives up the 7.3333 %.
func TestASwapStandsBesideTheDraftAndIsTakenByItsLines(t *testing.T) {
	w := newWorld(t)
	v := view[SwapView](w, "swap", m{"draft": wash(), "line": "d", "by": "sarcosinate-30"})
	if v.Hold != "active matter" || v.Held.Text != "5.20 %" || v.Holds[len(v.Holds)-1].Key != "mass" {
		t.Fatalf("it holds %q, %s of %v", v.Hold, v.Held.Text, v.Holds)
	}
	if !strings.Contains(v.Water, "66.00 % becomes 58.6667 %") {
		t.Errorf("the water: %s", v.Water)
	}
	var at calc.DraftLine
	for _, l := range v.Take {
		switch {
		case l.ID == "d":
			at = l
		case l.ID == "w" && !l.QS, l.ID == "g" && l.Percent != "3":
			t.Errorf("a line that nobody swapped changed: %+v", l)
		}
	}
	if at.Ingredient != "sarcosinate-30" || at.Percent != "17.3333" {
		t.Fatalf("the line to take is %+v", at)
	}
	d := wash()
	d.Lines = v.Take
	if s := view[calc.Sheet](w, "sheet", d); s.Total.Text != "100.00 %" {
		t.Errorf("what was taken sums to %s", s.Total.Text)
	}
	if len(v.Notes) != 1 || !strings.Contains(v.Notes[0].Says, "not among what is held") {
		t.Errorf("it does not say what it cannot answer for: %+v", v.Notes)
	}
	same := view[SwapView](w, "swap", m{"draft": wash(), "line": "d", "by": "sarcosinate-30", "hold": "mass"})
	if same.Water != "" || same.Lines[2].AfterPercent != "10.00" {
		t.Errorf("the same mass moves water: %q, %+v", same.Water, same.Lines[2])
	}
}

func TestASwapTellsWhichFindingsComeAndGo(t *testing.T) {
	w := newWorld(t)
	d := wash()
	d.Lines[4].Ingredient = "sodium-benzoate" // works hardly at all where the glucoside wants it
	back := view[SwapView](w, "swap", m{"draft": d, "line": "p", "by": "phenoxyethanol-ehg", "hold": "mass"})
	there := view[SwapView](w, "swap", m{"draft": wash(), "line": "p", "by": "sodium-benzoate", "hold": "mass"})
	if len(back.Gone) == 0 || len(there.Come) == 0 {
		t.Fatalf("gone %v, come %v", back.Gone, there.Come)
	}
	for _, c := range there.Come {
		for _, g := range there.Gone {
			if c.Rule == g.Rule && c.Level == g.Level && c.Line == g.Line {
				t.Errorf("%s both comes and goes", c.Rule)
			}
		}
	}
}

func TestASwapIsRefusedWithWhatToDo(t *testing.T) {
	w := newWorld(t)
	half := wash()
	half.Lines[0].QS, half.Lines[0].Percent = false, "10"
	for _, c := range []struct {
		draft    calc.Draft
		line, by string
		says     string
	}{
		{half, "d", "sarcosinate-30", "whole formula"},
		{wash(), "w", "glycerin", "q.s."},
		{wash(), "d", "no-such", "not among the ingredients"},
		{wash(), "nothing", "glycerin", "no line"},
	} {
		raw := pretty(m{"draft": c.draft, "line": c.line, "by": c.by})
		_, no := w.s.View(w.ctx, "swap", []byte(raw))
		if no == nil || !strings.Contains(no.Says, c.says) || no.Hint == "" || strings.Contains(no.Says, "Nothing was written") {
			t.Errorf("%s for %s: %+v", c.by, c.line, no)
		}
	}
}
