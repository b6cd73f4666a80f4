package book

import (
	"slices"
	"strings"
	"testing"
)

// A filling that was counted wrong is put right: jars that stay keep their codes, and the old row stays readable.
func TestCorrectedFillingKeepsTheCodesThatStay(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	filled := w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	before := view[BatchView](w, "batch", m{"key": b}).Jars
	w.refused("correct", m{"entry": filled, "value": "22"}, "reason missing", "reason")
	w.refused("correct", m{"entry": filled, "value": "23", "reason": "x"}, "same", "value")
	w.refused("correct", m{"entry": filled, "value": "900", "reason": "x"}, "too many", "value")
	w.refused("correct", m{"entry": filled, "value": "none", "reason": "x"}, "misread", "value")
	less := w.do("correct", m{"entry": filled, "value": "21", "reason": "counted twice"}, "entry")
	v := view[BatchView](w, "batch", m{"key": b})
	if len(v.Jars) != 21 || !slices.Equal(v.Jars, before[:21]) || v.Row.State != Resting || v.JarsSays != "21 jars, 24 planned" || v.Places[0] != (PlaceCount{"home", 21}) {
		t.Fatalf("after the correction: %s", pretty(v.Jars))
	}
	i := slices.IndexFunc(v.Rows, func(r RowView) bool { return r.Entry == filled })
	if old := v.Rows[i]; !old.Struck || old.Value != "23 jars" || old.Reason != "counted twice" || old.Now != less {
		t.Errorf("the old row: %s", pretty(old))
	}
	if _, known := w.s.PublicJar(before[22].Code); known {
		t.Error("a jar that never was is still known")
	}
	w.do("correct", m{"entry": less, "value": "24", "reason": "and again"}, "entry")
	v = view[BatchView](w, "batch", m{"key": b})
	if len(v.Jars) != 24 || v.Jars[22].Code != before[22].Code || len(w.s.Clashes()) != 0 || w.s.Missing(w.ctx) != nil {
		t.Fatalf("and again: %s %v", pretty(v.Jars), w.s.Clashes())
	}
}

func TestAFillingIsNotCorrectedUnderItsJars(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	filled := w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	jars := view[BatchView](w, "batch", m{"key": b}).Jars
	w.do("jars.move", m{"batch": b, "to": "kept back", "jars": jars[22].Code}, "entry")
	w.refused("correct", m{"entry": filled, "value": "22", "reason": "x"}, "jar elsewhere", "value")
	w.do("jars.move", m{"batch": b, "from": "home", "to": "discarded", "count": "20"}, "entry")
	w.refused("correct", m{"entry": filled, "value": "20", "reason": "x"}, "jar elsewhere", "value")
	w.do("correct", m{"entry": filled, "value": "24", "reason": "one more"}, "entry")
	if p := view[BatchView](w, "batch", m{"key": b}).Places; !slices.Contains(p, PlaceCount{"home", 3}) {
		t.Errorf("places: %v", p)
	}
}

// The program is cut between the two halves of a correction: the shelf's half is written at the next start.
func TestAHalfWrittenCorrectionOfAFillingIsCompleted(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	filled := w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.ctx.Rand = [32]byte{9}
	drafts, _, no := w.s.Decide(w.ctx, "correct", []byte(`{"entry":"`+filled+`","value":"22","reason":"counted twice"}`))
	if no != nil || len(drafts) != 2 {
		t.Fatalf("%d drafts, %v", len(drafts), no)
	}
	w.write(drafts[0])
	for _, d := range w.s.Missing(w.ctx) {
		w.write(d)
	}
	if n := len(view[BatchView](w, "batch", m{"key": b}).Jars); n != 22 || w.s.Missing(w.ctx) != nil || len(w.s.Clashes()) != 0 {
		t.Fatalf("%d jars, %v", n, w.s.Clashes())
	}
}

// A weighing that is corrected after the filling changes the public ingredient list.
func TestACorrectedWeighingChangesTheCard(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	slip := w.do("batch.add", m{"batch": b, "ingredient": "citric-acid", "grams": "2.1"}, "entry")
	_ = slip
	over := w.do("batch.add", m{"batch": b, "line": "g", "grams": "200"}, "entry")
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	list := w.s.PublicJars(b)[0].Card.Ingredients
	w.do("correct", m{"entry": over, "value": "2800", "reason": "a digit was missing"}, "entry")
	if now := w.s.PublicJars(b)[0].Card.Ingredients; now == list || !strings.HasPrefix(now, "Glycerin") {
		t.Errorf("the card says %q, before %q", now, list)
	}
}

func TestCorrectedLook(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	look := w.do("batch.look", m{"batch": b, "firm": "softer", "smell": "good", "ph": "5,6", "method": "strip", "dilution": "10", "fluff": "more"}, "entry")
	if v := view[BatchView](w, "batch", m{"key": b}).Looks; v[0].Value != "firmness softer, smell good, fluff more, pH 5.6 (10 % in distilled water; strip)" {
		t.Errorf("the look: %q", v[0].Value)
	}
	w.refused("correct", m{"entry": look, "reason": "x"}, "value missing", "value")
	w.refused("correct", m{"entry": look, "reason": "x", "look": m{"firm": "tired"}}, "word unknown", "firm")
	w.do("correct", m{"entry": look, "reason": "wrong key", "look": m{"firm": "firmer"}}, "entry")
	v := view[BatchView](w, "batch", m{"key": b}).Looks
	if len(v) != 2 || !v[0].Struck || v[0].Reason != "wrong key" || v[1].Value != "firmness firmer, smell good, fluff more, pH 5.6 (10 % in distilled water; strip)" {
		t.Fatalf("looks: %s", pretty(v))
	}
}

// released is a batch of 23 jars at home that may be sold, five of them at the stall.
func (w *world) released() (batch, moved string) {
	_, b := w.start()
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	return b, w.do("jars.move", m{"batch": b, "from": "home", "to": "stall", "count": "5"}, "entry")
}

func TestCorrectedRowsOfTheShelf(t *testing.T) {
	w := newWorld(t)
	b, moved := w.released()
	at := func(place string) int {
		for _, p := range view[BatchView](w, "batch", m{"key": b}).Places {
			if p.Place == place {
				return p.Count
			}
		}
		return 0
	}
	sale := w.do("stall.sell", m{"batch": b, "count": "2", "price": "4.50"}, "entry")
	fix := func(more m) m {
		out := m{"stream": "shelf", "reason": "slip"}
		for k, v := range more {
			out[k] = v
		}
		return out
	}
	w.refused("correct", m{"stream": "shelf", "entry": sale, "value": "1"}, "reason missing", "reason")
	w.refused("correct", fix(m{"entry": "nothing", "value": "1"}), "row unknown", "entry")
	w.refused("correct", fix(m{"entry": sale, "value": "9"}), "more than there are", "value")
	w.refused("correct", fix(m{"entry": sale}), "same", "value")
	w.refused("correct", fix(m{"entry": moved, "value": "1"}), "gone on", "value")
	w.refused("correct", fix(m{"entry": moved, "place": "nowhere"}), "place unknown", "place")
	now := w.do("correct", fix(m{"entry": sale, "value": "1", "price": "5"}), "entry")
	w.do("correct", fix(m{"entry": moved, "value": "4"}), "entry")
	if at("home") != 19 || at("stall") != 3 || at("sold") != 1 {
		t.Errorf("home %d, stall %d, sold %d", at("home"), at("stall"), at("sold"))
	}
	if v := view[StallView](w, "stall", nil); v.Taken != "5.00" {
		t.Errorf("taken %s", v.Taken)
	}
	rows := view[[]StallRow](w, "moves", m{"key": b})
	if len(rows) != 4 {
		t.Fatalf("rows: %s", pretty(rows))
	}
	for _, r := range rows {
		if (r.Entry == sale || r.Entry == moved) != r.Struck || !strings.Contains(r.Detail, "slip") {
			t.Errorf("row: %s", pretty(r))
		}
	}
	w.refused("correct", fix(m{"entry": sale, "value": "2"}), "corrected already", "entry")
	w.do("correct", fix(m{"entry": now, "value": "0"}), "entry")
	if at("sold") != 0 || at("stall") != 4 {
		t.Errorf("a sale that was not: sold %d, stall %d", at("sold"), at("stall"))
	}
	counted := w.do("jars.count", m{"place": "stall", "batch": b, "count": "2"}, "entry")
	w.do("correct", fix(m{"entry": counted, "value": "4"}), "entry")
	if at("stall") != 4 {
		t.Errorf("counted 4 after all, and %d are there", at("stall"))
	}
}

// A slip in how a pH was read is put right as one in its digits is; what is not said stays as it was.
func TestACorrectedPHCarriesHowItWasRead(t *testing.T) {
	for _, c := range []struct {
		name        string
		typed       m
		value, how  string
		code, field string // of a refusal
	}{
		{name: "the value alone", typed: m{"value": "5,4"}, value: "5.4", how: "neat; strip; in steps of 0.5"},
		{name: "the sample alone", typed: m{"dilution": "10"}, value: "5.2", how: "10 % in distilled water; strip; in steps of 0.5"},
		{name: "a meter after all, whose step nobody said", typed: m{"method": "meter"}, value: "5.2", how: "neat; meter"},
		{name: "all of it", typed: m{"value": "6.1", "method": "meter", "dilution": "10 %"}, value: "6.1", how: "10 % in distilled water; meter"},
		{name: "nothing", typed: m{}, code: "value missing", field: "value"},
		{name: "what it says already", typed: m{"method": "strip", "dilution": "neat"}, code: "same", field: "value"},
		{name: "a dilution that is no percent", typed: m{"dilution": "a bit"}, code: "misread", field: "dilution"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorld(t)
			_, b := w.start()
			read := w.do("batch.ph", m{"batch": b, "value": "5.2", "method": "strip", "dilution": "", "step": "0.5"}, "entry")
			c.typed["entry"], c.typed["reason"] = read, "written down wrong"
			if c.code != "" {
				w.refused("correct", c.typed, c.code, c.field)
				return
			}
			now := w.do("correct", c.typed, "entry")
			rows := view[BatchView](w, "batch", m{"key": b}).Rows
			i := slices.IndexFunc(rows, func(r RowView) bool { return r.Entry == now })
			if i < 0 || rows[i].Value != c.value || !strings.HasPrefix(rows[i].Detail, c.how) {
				t.Fatalf("after the correction: %s", pretty(rows))
			}
		})
	}
}

// Back to neat: a dilution is taken away by saying so, since an empty one leaves it.
func TestACorrectedPHMayBeNeatAfterAll(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	read := w.do("batch.ph", m{"batch": b, "value": "5.2", "method": "meter", "dilution": "10"}, "entry")
	w.do("correct", m{"entry": read, "dilution": "neat", "reason": "it was not diluted"}, "entry")
	rows := view[BatchView](w, "batch", m{"key": b}).Rows
	if r := rows[len(rows)-1]; r.Value != "5.2" || !strings.HasPrefix(r.Detail, "neat; meter") {
		t.Errorf("after the correction: %s", pretty(rows))
	}
}
