package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

func TestFormulaIsRefused(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct {
		name, code, field string
		change            func(*calc.Draft)
	}{
		{"no name", "name missing", "name", func(d *calc.Draft) { d.Name = " " }},
		{"a sum of 95", "misread", "lines", func(d *calc.Draft) { d.Lines[0].QS = false; d.Lines[0].Percent = "84" }},
		{"a sum of 105", "misread", "lines", func(d *calc.Draft) { d.Lines[0].QS = false; d.Lines[0].Percent = "94" }},
		{"two q.s. lines", "misread", "lines", func(d *calc.Draft) { d.Lines[1].QS = true }},
		{"a negative share", "misread", "lines[1].percent", func(d *calc.Draft) { d.Lines[1].Percent = "-10" }},
		{"words for a share", "misread", "lines[1].percent", func(d *calc.Draft) { d.Lines[1].Percent = "some" }},
		{"an ingredient that nobody knows", "misread", "*", func(d *calc.Draft) { d.Lines[1].Ingredient = "moon" }},
		{"no lines", "misread", "lines", func(d *calc.Draft) { d.Lines = nil }},
		{"a formula that is not here", "formula unknown", "key", func(d *calc.Draft) { d.Key = "NNNN0001" }},
		{"a revision that cannot be read", "revision unknown", "parent", func(d *calc.Draft) { d.Parent = "x.y" }},
		{"a plan of no jars", "misread", "jars", func(d *calc.Draft) { d.Plan.Jars = "0" }},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := scrub()
			c.change(&d)
			w.t = t
			no := w.refused("formula.save", d, c.code, c.field)
			if !strings.Contains(no.Says, "Nothing was written") {
				t.Errorf("it does not say what was kept: %s", no.Says)
			}
		})
	}
	if len(w.log[Workshop]) != 0 {
		t.Fatal("a refusal wrote something")
	}
	w.t = t
	if w.do("formula.save", scrub(), "key") == "" {
		t.Fatal("a comma as a decimal point is refused")
	}
}

func TestBaseInsideItselfIsRefusedByName(t *testing.T) {
	w := newWorld(t)
	base := w.do("formula.save", scrub(), "key")
	d := scrub()
	d.Name = "Sugar scrub"
	d.Lines[1] = calc.DraftLine{ID: "g", Phase: "A", Base: base, Percent: "50"}
	scrubKey := w.do("formula.save", d, "key")
	for _, inside := range []string{base, scrubKey} {
		d := view[FormulaView](w, "formula", m{"key": base}).Draft
		d.Lines[1] = calc.DraftLine{ID: "g", Phase: "A", Base: inside, Percent: "10"}
		_, no := w.try("formula.save", d)
		if no == nil || !strings.Contains(no.Says, "Plain rinse") {
			t.Fatalf("base inside itself, through %s: %v", inside, no)
		}
	}
}

func TestWeighingIsRefused(t *testing.T) {
	w := newWorld(t)
	lot := w.lot("glycerin", "G-17")
	water := w.lot("water", "W-1")
	_, b := w.start()
	for _, c := range []struct{ name, grams, lot, line, code, field string }{
		{"negative", "-3", lot, "g", "misread", "grams"},
		{"zero", "0", lot, "g", "misread", "grams"},
		{"not a number", "abc", lot, "g", "misread", "grams"},
		{"nothing typed", "", lot, "g", "misread", "grams"},
		{"ten times the target", "3001", lot, "g", "too heavy", "grams"},
		{"more than 100 kg", "100001", lot, "g", "too heavy", "grams"},
		{"not a number in words", "NaN", lot, "g", "misread", "grams"},
		{"endless", "Inf", lot, "g", "misread", "grams"},
		{"another ingredient's lot", "300", water, "g", "wrong lot", "lot"},
		{"no such lot", "300", "NNNN0001", "g", "lot unknown", "lot"},
		{"no such line", "300", lot, "zz", "line unknown", "line"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w.t = t
			w.refused("batch.weigh", m{"batch": b, "line": c.line, "lot": c.lot, "grams": c.grams}, c.code, c.field)
		})
	}
	w.t = t
	w.refused("batch.weigh", m{"batch": "NNNNN", "line": "g", "grams": "3"}, "batch unknown", "batch")
	w.do("batch.weigh", m{"batch": b, "line": "g", "lot": lot, "grams": "300,4"}, "entry")
	if got := view[BatchView](w, "batch", m{"key": b}).WentIn[1].Actual; got != "300.4 g" {
		t.Fatalf("300,4 is read as %s", got)
	}
	w.refused("batch.weigh", m{"batch": b, "line": "g", "lot": lot, "grams": "300"}, "weighed already", "line")
	w.do("batch.weigh", m{"batch": b, "line": "g", "lot": lot, "grams": "1.5", "more": true}, "entry")
	w.do("lot.hold", m{"lot": lot, "held": true, "reason": "smells of paint"}, "")
	w.refused("batch.weigh", m{"batch": b, "line": "g", "lot": lot, "grams": "1", "more": true}, "lot held", "lot")
}

func TestWeighingInPartsAddsUp(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.do("batch.weigh", m{"batch": b, "line": "g", "grams": "100", "more": true}, "entry")
	step := stepOf(t, w, b, "weigh:g")
	if step.Done || step.Reads != "200.0" || step.ToGo != "200.0 g" || step.Actual != "100.0 g" {
		t.Fatalf("after 100 of 300 g: %s", pretty(step))
	}
	w.do("batch.weigh", m{"batch": b, "line": "g", "asPlanned": true}, "entry")
	step = stepOf(t, w, b, "weigh:g")
	if !step.Done || step.Actual != "300.0 g" || step.Reads != "" {
		t.Fatalf("after the rest: %s", pretty(step))
	}
}

func stepOf(t *testing.T, w *world, batch, id string) Step {
	t.Helper()
	for _, s := range view[BenchView](w, "bench", m{"key": batch}).Steps {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("the bench has no step %s", id)
	return Step{}
}

func TestStockIsRefused(t *testing.T) {
	w := newWorld(t)
	good := m{"ingredient": "glycerin", "code": "G-17", "grams": "2500", "expiry": "2027-11", "cost": "19,80"}
	for _, c := range []struct {
		name        string
		change      m
		code, field string
	}{
		{"no ingredient", m{"ingredient": "moon"}, "ingredient unknown", "ingredient"},
		{"negative", m{"grams": "-1"}, "misread", "grams"},
		{"a tonne", m{"grams": "900000"}, "too heavy", "grams"},
		{"a day that is none", m{"expiry": "2027-13-40"}, "misread", "expiry"},
		{"money in words", m{"cost": "cheap"}, "misread", "cost"},
		{"money with three decimals", m{"cost": "1.234"}, "misread", "cost"},
	} {
		t.Run(c.name, func(t *testing.T) {
			args := m{}
			for k, v := range good {
				args[k] = v
			}
			for k, v := range c.change {
				args[k] = v
			}
			w.t = t
			w.refused("lot.receive", args, c.code, c.field)
		})
	}
	w.t = t
	w.do("lot.receive", good, "key")
	w.refused("lot.receive", good, "lot code taken", "code")
	if l := view[[]LotRow](w, "lots", nil)[0]; l.Expiry != "30 Nov 2027" || l.OnHand.Text != "2,500.0 g" {
		t.Fatalf("received: %s", pretty(l))
	}
}

func TestBatchStateIsRefused(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.refused("batch.fill", m{"batch": b, "jars": "23"}, "not weighed", "")
	w.refused("batch.release", m{"batch": b, "by": "Imke"}, "not filled", "batch")
	w.refused("batch.hold", m{"batch": b}, "reason missing", "reason")
	w.weighAll(b)
	for _, jars := range []string{"", "0", "-1", "2.5", "many", "241"} {
		if _, no := w.try("batch.fill", m{"batch": b, "jars": jars}); no == nil || no.Field != "jars" {
			t.Errorf("%q jars: %v", jars, no)
		}
	}
	w.refused("batch.fill", m{"batch": b, "jars": "23", "place": "the moon"}, "place unknown", "place")
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.refused("batch.fill", m{"batch": b, "jars": "23"}, "filled", "batch")
	w.refused("batch.release", m{"batch": b, "by": " "}, "name missing", "by")
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	w.refused("batch.release", m{"batch": b, "by": "Imke"}, "released", "batch")
	w.refused("batch.weigh", m{"batch": b, "line": "g", "grams": "3"}, "released", "batch")
	w.ctx.Role = Stall
	w.refused("batch.note", m{"batch": b, "text": "hello"}, "role", "")
	w.refused("no.such", m{}, "unknown command", "")
	if _, no := w.s.View(w.ctx, "no.such", nil); no == nil {
		t.Error("an unknown view answers")
	}
	if _, _, no := w.s.Decide(w.ctx, "batch.note", []byte("{")); no == nil || no.Code != "request" {
		t.Errorf("a request that does not parse: %v", no)
	}
}
