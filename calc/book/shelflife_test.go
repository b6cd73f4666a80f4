package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// The lots of the world end on 30 Nov 2027; it is filled on 12 Nov 2026.
func TestBestBeforeIsTheEarlierOfLifeAndLots(t *testing.T) {
	for _, c := range []struct {
		name, life, open string
		best             int64
		says             string
	}{
		{"no life stated", "", "", 20271130, "no life is stated"},
		{"the life ends first", "6", "3", 20270512, "made 2026-11-12 + 6 months"},
		{"the lots end first", "24", "12", 20271130, "earlier than made + 24 months = 2028-11-12"},
	} {
		w := newWorld(t)
		d := scrub()
		d.Life, d.AfterOpen = c.life, c.open
		f := w.do("formula.save", d, "key")
		b := w.do("batch.start", m{"formula": f, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4"}, "key")
		for _, l := range [][2]string{{"w", ""}, {"g", "glycerin"}, {"p", "phenoxyethanol-ehg"}} {
			lot := ""
			if l[1] != "" {
				lot = w.lot(l[1], "T-"+l[0])
			}
			w.do("batch.weigh", m{"batch": b, "line": l[0], "lot": lot, "asPlanned": true}, "entry")
		}
		w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
		jars := w.s.PublicJars(b)
		if len(jars) != 23 || jars[0].Jars.Best != c.best || jars[0].Card.Best != c.best || calc.Mass(jars[0].Card.AfterOpen) != map[string]calc.Mass{"": 0, "3": 3, "12": 12}[c.open] {
			t.Errorf("%s: %d jars, best %d, after opening %d", c.name, len(jars), jars[0].Jars.Best, jars[0].Card.AfterOpen)
		}
		if text := pretty(view[BatchView](w, "batch", m{"key": b}).Findings); !strings.Contains(text, c.says) {
			t.Errorf("%s: the record does not say why: %s", c.name, text)
		}
		if got := view[FormulaView](w, "formula", m{"key": f}).Draft; got.Life != c.life || got.AfterOpen != c.open {
			t.Errorf("%s: the formula kept %q and %q", c.name, got.Life, got.AfterOpen)
		}
	}
}

func TestALifeThatIsNoNumberIsNotSaved(t *testing.T) {
	w := newWorld(t)
	d := scrub()
	d.Life = "a while"
	if _, no := w.try("formula.save", d); no == nil || !strings.Contains(no.Says, "life unopened") {
		t.Fatalf("%v", no)
	}
}
