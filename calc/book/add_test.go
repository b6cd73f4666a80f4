package book

import (
	"strings"
	"testing"
)

func findingOf(v BatchView, rule string) Note {
	for _, f := range v.Findings {
		if f.Rule == rule {
			return f
		}
	}
	return Note{}
}

func TestWhatGoesInBesideThePlanCounts(t *testing.T) {
	w := newWorld(t)
	acid, gly := w.lot("citric-acid", "C-1"), w.lot("glycerin", "G-17")
	_, b := w.start()
	w.do("batch.weigh", m{"batch": b, "line": "w", "asPlanned": true}, "entry")
	w.refused("batch.add", m{"batch": b, "ingredient": "glycerin", "lot": gly, "grams": "5"}, "not weighed", "ingredient")
	w.do("batch.weigh", m{"batch": b, "line": "g", "lot": gly, "asPlanned": true}, "entry")
	w.do("batch.weigh", m{"batch": b, "line": "p", "asPlanned": true}, "entry")
	if v := view[Addition](w, "addition", m{"batch": b, "ingredient": "citric-acid"}); v.Name == "" || len(v.Lots) != 1 || v.Lots[0].Key != acid || !strings.Contains(v.Says, "Not in the formula") || v.In != "" {
		t.Errorf("before it goes in: %s", pretty(v))
	}
	w.do("batch.add", m{"batch": b, "ingredient": "citric-acid", "phase": "B", "lot": acid, "grams": "2.1", "why": "for the pH"}, "entry")
	w.do("batch.add", m{"batch": b, "ingredient": "glycerin", "lot": gly, "grams": "30", "why": "to top up"}, "entry")

	v := view[BatchView](w, "batch", m{"key": b})
	last := v.WentIn[len(v.WentIn)-1]
	if v.WentIn[1].Actual != "330.0 g" || last.Line != "+citric-acid" || last.Actual != "2.1 g" || last.Lots[0].Code != "C-1" || last.Percent.Text == "" {
		t.Fatalf("what went in: %s", pretty(v.WentIn))
	}
	if f := findingOf(v, "not in the formula"); f.Level != "care" || !strings.Contains(f.Says, "was added; it is not in the formula") || !strings.Contains(f.Do, "revise the formula") {
		t.Errorf("the addition is no finding: %s", pretty(f))
	}
	if f := findingOf(v, "not as planned"); f.Line != "g" {
		t.Errorf("a topped up line is no finding: %s", pretty(v.Findings))
	}
	row := v.Rows[3]
	if row.Value != "2.1 g" || !strings.Contains(row.Detail, "not in the formula; for the pH") || !strings.Contains(row.Detail, "lot C-1") {
		t.Errorf("its row: %s", pretty(row))
	}
	if got := view[LotView](w, "lot", m{"key": acid}); len(got.Batches) != 1 || got.Row.OnHand.Text != "4,997.9 g" {
		t.Errorf("its lot: %s", pretty(got))
	}
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	jars := w.s.PublicJars(b)
	if !strings.Contains(jars[0].Card.Ingredients, "Citric Acid") {
		t.Errorf("the ingredient list is not of what went in: %s", jars[0].Card.Ingredients)
	}
	w.refused("batch.add", m{"batch": b, "ingredient": "citric-acid", "grams": "1"}, "filled", "batch")
}

func TestWhatIsSpoonedOutIsGone(t *testing.T) {
	w := newWorld(t)
	gly := w.lot("glycerin", "G-17")
	_, b := w.start()
	w.do("batch.weigh", m{"batch": b, "line": "g", "lot": gly, "grams": "312"}, "entry")
	w.refused("batch.add", m{"batch": b, "line": "g", "grams": "313", "out": true}, "more than is in", "grams")
	out := w.do("batch.add", m{"batch": b, "line": "g", "lot": gly, "grams": "12", "out": true, "why": "too much on top"}, "entry")
	v := view[BatchView](w, "batch", m{"key": b})
	if got := v.WentIn[1]; got.Actual != "300.0 g" || len(got.Lots) != 1 || got.Lots[0].Grams != "300.0 g" {
		t.Fatalf("what went in: %s", pretty(got))
	}
	if row := v.Rows[1]; row.Value != "−12.0 g" || !strings.HasSuffix(row.Title, ", taken out") || row.Detail != "too much on top" {
		t.Errorf("its row: %s", pretty(row))
	}
	// It was thrown away: the lot does not get it back.
	if got := view[LotView](w, "lot", m{"key": gly}).Row.OnHand.Text; got != "4,688.0 g" {
		t.Errorf("on hand %s", got)
	}
	w.do("correct", m{"entry": out, "value": "11", "reason": "read again"}, "entry")
	if got := view[BatchView](w, "batch", m{"key": b}).WentIn[1].Actual; got != "301.0 g" {
		t.Errorf("a corrected taking out leaves %s in", got)
	}
}

func TestAnAdditionIsRefusedWhole(t *testing.T) {
	w := newWorld(t)
	gly := w.lot("glycerin", "G-17")
	_, b := w.start()
	w.weighAll(b)
	for _, c := range []struct {
		args        m
		code, field string
	}{
		{m{"batch": "NNNNN", "ingredient": "citric-acid", "grams": "1"}, "batch unknown", "batch"},
		{m{"batch": b, "grams": "1"}, "ingredient missing", "ingredient"},
		{m{"batch": b, "ingredient": "moonlight", "grams": "1"}, "ingredient unknown", "ingredient"},
		{m{"batch": b, "ingredient": "citric-acid", "phase": "Q", "grams": "1"}, "phase unknown", "phase"},
		{m{"batch": b, "ingredient": "citric-acid", "grams": "-1"}, "misread", "grams"},
		{m{"batch": b, "ingredient": "citric-acid", "grams": ""}, "misread", "grams"},
		{m{"batch": b, "ingredient": "citric-acid", "grams": "5000"}, "too heavy", "grams"},
		{m{"batch": b, "ingredient": "citric-acid", "lot": gly, "grams": "1"}, "wrong lot", "lot"},
		{m{"batch": b, "ingredient": "citric-acid", "grams": "1", "out": true}, "more than is in", "grams"},
	} {
		w.refused("batch.add", c.args, c.code, c.field)
	}
	if n := len(view[BatchView](w, "batch", m{"key": b}).Rows); n != 3 {
		t.Errorf("a refused addition wrote rows: %d", n)
	}
}

// The key "scale reads" stands only where the scale can tell it.
func TestNoKeyForWhatTheScaleCannotTell(t *testing.T) {
	for _, c := range []struct{ step, jars, fill, reads string }{
		{"0.1", "24", "120", "30.0"},
		{"0.1", "1", "100", "1.0"},
		{"0.1", "1", "90", ""}, // 0.9 g, and half a step is more than 5 % of it
		{"0.01", "1", "90", "0.90"},
	} {
		w := newWorld(t)
		f := w.do("formula.save", scrub(), "key")
		b := w.do("batch.start", m{"formula": f, "purpose": "trial", "jars": c.jars, "fill": c.fill, "loss": map[bool]string{true: "4"}[c.jars == "24"], "step": c.step}, "key")
		s := stepOf(t, w, b, "weigh:p")
		if s.Reads != c.reads || (s.Reads == "") != strings.Contains(s.Says, "take a finer one") {
			t.Errorf("%s × %s g on %s: %s", c.jars, c.fill, c.step, pretty(s))
		}
	}
	w := newWorld(t)
	_, b := w.start()
	w.do("batch.weigh", m{"batch": b, "line": "g", "grams": "320", "more": true}, "entry")
	if s := stepOf(t, w, b, "weigh:g"); s.Reads != "" || s.ToGo != "0.0 g" {
		t.Errorf("past the target: %s", pretty(s))
	}
}
