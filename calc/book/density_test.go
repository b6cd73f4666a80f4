package book

import (
	"strings"
	"testing"
)

func TestDensityByTheCup(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.do("batch.density", m{"batch": b, "stage": "before whipping", "value": "1,04"}, "entry")
	cup := m{"batch": b, "stage": "whipped", "full": "58.6", "empty": "21.4", "volume": "60"}
	v := view[Cup](w, "cup", cup)
	if v.Density.Text != "0.62 g/mL" || v.Density.Sum != "(58.6 − 21.4) g ÷ 60 mL = 0.62 g/mL" || v.Overrun.Text != "overrun 67.7 %" || v.Empty != "" {
		t.Fatalf("as it is typed: %s", pretty(v))
	}
	w.do("batch.density", cup, "entry")
	rows := view[BatchView](w, "batch", m{"key": b}).Rows
	if r := rows[1]; r.What != "density" || r.Value != "0.62 g/mL" || r.Detail != "whipped; cup of 60 mL, 58.6 g full, 21.4 g empty; overrun 67.7 %" {
		t.Errorf("its row: %s", pretty(r))
	}
	if v := view[Cup](w, "cup", m{"batch": b, "stage": "whipped"}); v.Empty != "21.4" || v.Volume != "60" || v.Density.Text != "" || v.Last != "" {
		t.Errorf("the cup of last time: %s", pretty(v))
	}
	next := w.do("batch.start", m{"formula": view[BatchView](w, "batch", m{"key": b}).Formula, "purpose": "trial", "jars": "10", "fill": "100", "step": "0.1"}, "key")
	if v := view[Cup](w, "cup", m{"batch": next, "stage": "whipped"}); v.Last != "last time 0.62 g/mL; whipped; overrun 67.7 % (261112-B1)" {
		t.Errorf("last time: %q", v.Last)
	}
	for _, c := range []struct {
		args        m
		code, field string
	}{
		{m{"batch": "NNNNN", "value": "1"}, "batch unknown", "batch"},
		{m{"batch": b, "stage": "yesterday", "value": "1"}, "word unknown", "stage"},
		{m{"batch": b, "value": "heavy"}, "misread", "value"},
		{m{"batch": b, "empty": "21", "volume": "60"}, "misread", "full"},
		{m{"batch": b, "full": "58", "volume": "60"}, "misread", "empty"},
		{m{"batch": b, "full": "58", "empty": "21"}, "misread", "volume"},
		{m{"batch": b, "full": "20", "empty": "21", "volume": "60"}, "misread", "full"},
	} {
		w.refused("batch.density", c.args, c.code, c.field)
	}
}

// A container is checked with the densities of earlier batches; that of the mix before whipping says nothing of a jar.
func TestFitsUsesEarlierDensities(t *testing.T) {
	w := newWorld(t)
	jar := w.do("container.define", m{"name": "Low jar", "word": "jar", "brimful": "150"}, "key")
	d := scrub()
	d.Plan.Container = jar
	f := w.do("formula.save", d, "key")
	start := m{"formula": f, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1", "container": jar}
	b := w.do("batch.start", start, "key")
	w.do("batch.density", m{"batch": b, "stage": "before whipping", "value": "1.04"}, "entry")
	if f := findingOf(view[BatchView](w, "batch", m{"key": b}), "fits"); f.Level != "unchecked" {
		t.Errorf("only the mix before whipping was measured: %s", pretty(f))
	}
	w.do("batch.density", m{"batch": b, "stage": "whipped", "value": "0.7"}, "entry")
	if s := stepOf(t, w, b, "fill").Says; !strings.Contains(s, "120 g at 0.70 g/mL needs 171.4 mL; this jar holds 150 mL") {
		t.Errorf("at the filling: %q", s)
	}
	next := w.do("batch.start", start, "key")
	if f := findingOf(view[BatchView](w, "batch", m{"key": next}), "fits"); f.Level != "stop" || !strings.Contains(f.Says, "median of 1 earlier batch") {
		t.Errorf("the next batch: %s", pretty(f))
	}
}

func TestReadingsSayHowTheyWereTaken(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	for _, c := range []struct {
		args m
		says string
	}{
		{m{"value": "5.6", "method": "strip"}, "neat; strip"},
		{m{"value": "5.6", "method": "meter", "dilution": "10", "step": "0,01", "sample": "22", "unit": "C"}, "10 % in distilled water; meter; in steps of 0.01; at 22 °C"},
		{m{"value": "5.6", "method": "strip", "dilution": "10", "step": "0.5", "sample": "72 F"}, "10 % in distilled water; strip; in steps of 0.5; at 72 °F (22.2 °C)"},
	} {
		c.args["batch"] = b
		w.do("batch.ph", c.args, "entry")
		rows := view[BatchView](w, "batch", m{"key": b}).Rows
		if got := rows[len(rows)-1].Detail; got != c.says {
			t.Errorf("%v: %q, want %q", c.args, got, c.says)
		}
	}
	w.refused("batch.ph", m{"batch": b, "value": "5.6", "step": "fine"}, "misread", "step")
	w.refused("batch.ph", m{"batch": b, "value": "5.6", "sample": "warm"}, "misread", "sample")
}

func TestTheEveningAfterFilling(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	if v := view[Tonight](w, "tonight", m{"key": b}); len(v.Says) != 0 || v.From != "" {
		t.Errorf("before it is filled: %s", pretty(v))
	}
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	v := view[Tonight](w, "tonight", m{"key": b})
	if len(v.Says) != 3 || !strings.HasPrefix(v.Says[0], "Write B1 on the lids") || !strings.HasPrefix(v.Says[1], "Lids on when cold") || v.From != "home" {
		t.Fatalf("the evening: %s", pretty(v))
	}
	w.do("jars.move", m{"batch": b, "from": v.From, "to": "kept back", "count": "1"}, "entry")
	if v := view[Tonight](w, "tonight", m{"key": b}); len(v.Says) != 2 || v.From != "" {
		t.Errorf("one was kept back: %s", pretty(v))
	}
	w.do("batch.look", m{"batch": b, "firm": "same"}, "entry")
	if v := view[Tonight](w, "tonight", m{"key": b}); len(v.Says) != 0 {
		t.Errorf("it was looked at: %s", pretty(v))
	}
}

func TestPhasesOfOnePotAreHeatedTogether(t *testing.T) {
	w := newWorld(t)
	d := twoPots()
	d.Phases[0].Pot, d.Phases[1].Pot = " beaker ", "mixing bowl"
	f := w.do("formula.save", d, "key")
	v := view[FormulaView](w, "formula", m{"key": f})
	if v.Draft.Phases[0].Pot != "beaker" || v.Draft.Phases[1].Pot != "mixing bowl" {
		t.Fatalf("the formula: %s", pretty(v.Draft.Phases))
	}
	b := w.do("batch.start", m{"formula": f, "purpose": "trial", "jars": "10", "fill": "100", "step": "0.1"}, "key")
	if p := view[BenchView](w, "bench", m{"key": b}).Pots; len(p) != 2 || p[0].Name != "beaker" || stepOf(t, w, b, "combine:B").Title != "Combine beaker and mixing bowl" {
		t.Errorf("pots: %s", pretty(p))
	}
}
