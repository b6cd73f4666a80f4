package book

import (
	"strings"
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
	if !today.Demo || today.Maker == "" || today.Formulas < 6 || today.Lots < 40 {
		t.Fatalf("%d entries, but today says %s", len(out), pretty(today))
	}
	if len(today.Resting) != 1 || len(today.Making) != 1 || len(today.Held) != 1 {
		t.Fatalf("one batch rests, one is at the bench and one is held: %s", pretty(today))
	}
	rows := view[[]BatchRow](w, "batches", nil)
	struck, jars, trials, kinds := 0, 0, 0, map[string]bool{}
	for _, row := range rows {
		b := view[BatchView](w, "batch", m{"key": row.Key})
		jars += len(b.Jars)
		kinds[row.Name] = true
		if row.Purpose == "trial" {
			trials++
		}
		for _, r := range b.Rows {
			if r.Struck {
				struck++
			}
			if r.Clash != "" {
				t.Errorf("a row of the demo clashes: %s", pretty(r))
			}
		}
	}
	if len(rows) != 12 || jars < 150 || struck < 2 || trials == 0 || len(kinds) < 6 {
		t.Fatalf("%d batches of %d formulas, %d jars, %d struck rows, %d trials", len(rows), len(kinds), jars, struck, trials)
	}
	if len(s.Clashes()) != 0 || s.UpdateNeeded() != 0 {
		t.Fatalf("clashes in the demo: %v", s.Clashes())
	}
	scrub := 0
	for _, l := range view[[]LotRow](w, "lots", nil) {
		if strings.HasPrefix(l.OnHand.Text, "−") || strings.HasPrefix(l.OnHand.Text, "-") {
			t.Errorf("more went out of lot %s than came in: %s", l.Code, l.OnHand.Sum)
		}
	}
	for _, f := range view[[]FormulaRow](w, "formulas", nil) {
		v := view[FormulaView](w, "formula", m{"key": f.Key})
		sheet := view[calc.Sheet](w, "sheet", v.Draft)
		for _, n := range sheet.Findings {
			// That sugar dissolves in time is what the demo's scrub is there to show, and that a balm and wet hands do not go together is true of every balm.
			if n.Level == calc.Stop || n.Level == calc.Care && !strings.Contains(n.Says, "may dissolve") && !strings.Contains(n.Says, "wet hands") {
				t.Errorf("%s is not sound: %s", f.Name, n.Says)
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
