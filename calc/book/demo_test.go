package book

import (
	"testing"

	"stillroom/calc"
)

func TestDemoPlaysAWorkshop(t *testing.T) {
	s, out := demo(t)
	if again, _ := demo(t); again.Digest() != s.Digest() {
		t.Fatal("the demo is not the same twice")
	}
	w := &world{t: t, s: s, ctx: Context{Device: device(9), Letter: "D", Now: noon, Zone: 60}}
	today := view[TodayView](w, "today", nil)
	if !today.Demo || today.Maker == "" || today.Formulas != 3 || today.Lots != 13 {
		t.Fatalf("%d entries, but today says %s", len(out), pretty(today))
	}
	if len(today.Resting) != 1 || len(today.Making) != 0 {
		t.Fatalf("one batch rests and none is at the bench: %s", pretty(today))
	}
	rows := view[[]BatchRow](w, "batches", nil)
	b := view[BatchView](w, "batch", m{"key": rows[1].Key})
	struck := 0
	for _, r := range b.Rows {
		if r.Struck {
			struck++
		}
		if r.Clash != "" {
			t.Errorf("a row of the demo clashes: %s", pretty(r))
		}
	}
	if struck != 1 || len(b.Jars) != 23 || b.Row.State != Released {
		t.Fatalf("want one struck row, 23 jars, released: %s", pretty(b))
	}
	if len(s.Clashes()) != 0 || s.UpdateNeeded() != 0 {
		t.Fatalf("clashes in the demo: %v", s.Clashes())
	}
	scrub := 0
	for _, f := range view[[]FormulaRow](w, "formulas", nil) {
		v := view[FormulaView](w, "formula", m{"key": f.Key})
		sheet := view[calc.Sheet](w, "sheet", v.Draft)
		for _, n := range sheet.Findings {
			if n.Level == calc.Stop {
				t.Errorf("%s would not be made: %s", f.Name, n.Says)
			}
		}
		if !sheet.CanMake {
			t.Errorf("%s cannot be made: %s", f.Name, sheet.Because)
		}
		for _, l := range v.Draft.Lines {
			if l.Base != "" {
				scrub++
			}
		}
	}
	if scrub != 1 {
		t.Fatal("no formula of the demo uses another as its base")
	}
	if w.s.Missing(w.ctx) != nil {
		t.Fatalf("the demo misses shelf halves: %d", len(w.s.Missing(w.ctx)))
	}
}
