package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

func TestCorrectionStrikesAndMovesStock(t *testing.T) {
	w := newWorld(t)
	g17, g18 := w.lot("glycerin", "G-17"), w.lot("glycerin", "G-18")
	_, b := w.start()
	slip := w.do("batch.weigh", m{"batch": b, "line": "g", "lot": g17, "grams": "330"}, "entry")
	w.refused("correct", m{"entry": slip, "value": "300.4"}, "reason missing", "reason")
	w.refused("correct", m{"entry": slip, "value": "-4", "reason": "x"}, "misread", "value")
	w.refused("correct", m{"entry": "nothing", "value": "3", "reason": "x"}, "row unknown", "entry")
	now := w.do("correct", m{"entry": slip, "value": "300,4", "unit": "g", "lot": g18, "reason": "cup was on it"}, "entry")
	v := view[BatchView](w, "batch", m{"key": b})
	old, cur := v.Rows[0], v.Rows[1]
	if !old.Struck || old.Value != "330.0 g" || old.Reason != "cup was on it" || old.Now != now || cur.Entry != now || cur.Struck || cur.Value != "300.4 g" {
		t.Fatalf("rows: %s", pretty(v.Rows))
	}
	if got := v.WentIn[1]; got.Actual != "300.4 g" || got.Lots[0].Code != "G-18" || len(got.Lots) != 1 {
		t.Fatalf("what went in: %s", pretty(got))
	}
	for key, want := range map[string]string{g17: "5,000.0 g", g18: "4,699.6 g"} {
		l := view[LotView](w, "lot", m{"key": key})
		if l.Row.OnHand.Text != want || (len(l.Batches) == 1) != (key == g18) {
			t.Errorf("lot %s: %s", key, pretty(l))
		}
	}
	w.refused("correct", m{"entry": slip, "value": "3", "reason": "x"}, "corrected already", "entry")
	w.refused("correct", m{"entry": now, "value": "300.4", "reason": "x"}, "same", "value")
	again := w.do("correct", m{"entry": now, "value": "301", "reason": "and again"}, "entry")
	if rows := view[BatchView](w, "batch", m{"key": b}).Rows; !rows[1].Struck || rows[2].Entry != again {
		t.Fatalf("a correction of a correction: %s", pretty(rows))
	}
}

func TestCorrectionOfReadings(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	temp := w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "57", "unit": "C"}, "entry")
	ph := w.do("batch.ph", m{"batch": b, "value": "6,5", "method": "strip", "dilution": "10"}, "entry")
	note := w.do("batch.note", m{"batch": b, "text": "sotf"}, "entry")
	w.do("correct", m{"entry": temp, "value": "167", "unit": "F", "reason": "turned digits"}, "entry")
	w.do("correct", m{"entry": ph, "value": "5.6", "reason": "turned digits"}, "entry")
	w.do("correct", m{"entry": note, "value": "soft", "reason": "spelling"}, "entry")
	rows := view[BatchView](w, "batch", m{"key": b}).Rows
	for i, want := range []string{"167 °F (75 °C)", "5.6", "soft"} {
		if !rows[i].Struck || rows[i+3].Value != want {
			t.Errorf("row %d: %s", i, pretty(rows[i+3]))
		}
	}
	w.refused("batch.ph", m{"batch": b, "value": "15"}, "misread", "value")
	w.refused("batch.temperature", m{"batch": b, "phase": "A", "value": "5000"}, "misread", "value")
	w.refused("batch.temperature", m{"batch": b, "phase": "Q", "value": "50"}, "phase unknown", "phase")
}

func TestWhatNoLongerFitsIsKeptAndShown(t *testing.T) {
	w := newWorld(t)
	lot := w.lot("glycerin", "G-17")
	_, b := w.start()
	w.weighAll(b)
	slip := w.do("batch.note", m{"batch": b, "text": "first"}, "entry")
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	stock := view[[]LotRow](w, "lots", nil)[0].OnHand.Text

	// A second phone was away and writes what it decided before all this.
	w.ctx.Device, w.ctx.Letter = device(2), "C"
	ref, _ := ParseRef(slip)
	note, _ := encode(&BatchNoted{Batch: b, Text: "mine"})
	for _, c := range []struct {
		kind uint32
		body visitable
		want string
	}{
		{KindBatchWeighed, &BatchWeighed{Batch: b, Line: "g", Lot: lot, Mass: 5000}, "released by Imke"},
		{KindBatchFilled, &BatchFilled{Batch: b, Jars: 24, Keys: []JarRun{{b, 24}}}, "released by Imke"},
		{KindBatchState, &BatchState{Batch: b, State: Released, By: "Ole"}, "released by Imke"},
		{KindCorrected, &Corrected{Of: ref, Reason: "one", Kind: int64(KindBatchNoted), V: 1, Body: note}, ""},
		{KindCorrected, &Corrected{Of: ref, Reason: "two", Kind: int64(KindBatchNoted), V: 1, Body: note}, "already corrected"},
	} {
		d, no := draft(c.kind, c.body)
		if no != nil {
			t.Fatal(no)
		}
		w.write(d)
		rows := view[BatchView](w, "batch", m{"key": b}).Rows
		got := rows[len(rows)-1].Clash
		if (c.want == "") != (got == "") || !strings.Contains(got, c.want) {
			t.Errorf("%+v: clash %q, want %q", c.body, got, c.want)
		}
	}
	if got := view[[]LotRow](w, "lots", nil)[0].OnHand.Text; got != stock {
		t.Errorf("a clash moved stock from %s to %s", stock, got)
	}
	v := view[BatchView](w, "batch", m{"key": b})
	if v.Row.State != Released || len(v.Jars) != 23 || v.Row.Says != "released by Imke" {
		t.Errorf("a clash changed the batch: %s", pretty(v.Row))
	}

	// What belongs to no batch here is kept too.
	d, _ := draft(KindBatchWeighed, &BatchWeighed{Batch: "NNNNN", Line: "g", Lot: lot, Mass: 5000})
	w.write(d)
	if c := w.s.Clashes(); len(c) != 1 || c[0].Kind != "batch.weighed" {
		t.Errorf("clashes: %v", c)
	}
}

func TestWeighingThatArrivesAfterTheFillingCounts(t *testing.T) {
	w := newWorld(t)
	lot := w.lot("glycerin", "G-17")
	_, b := w.start()
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.ctx.Device = device(2)
	d, _ := draft(KindBatchWeighed, &BatchWeighed{Batch: b, Line: "g", Lot: lot, Mass: 5000})
	w.write(d)
	if l := view[LotView](w, "lot", m{"key": lot}); len(l.Batches) != 1 {
		t.Fatal("a lot that went in is not traced, because its row came late")
	}
}

func TestHeldEntriesWaitForTheOwner(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	d, _ := draft(KindBatchNoted, &BatchNoted{Batch: b, Text: "from the stall"})
	e := entryOf(d, 1)
	w.arrive(Workshop, device(3), e, true)
	if n := len(view[BatchView](w, "batch", m{"key": b}).Rows); n != 0 || w.s.Waiting() != 1 {
		t.Fatalf("a held entry applied: %d rows, %d waiting", n, w.s.Waiting())
	}
	accept, _ := draft(KindAccepted, &Accepted{Entry: Ref{device(3), 1}})
	w.write(accept)
	rows := view[BatchView](w, "batch", m{"key": b}).Rows
	if len(rows) != 1 || rows[0].Value != "from the stall" || w.s.Waiting() != 0 {
		t.Fatalf("accepted: %s", pretty(rows))
	}
	w.write(accept)
	if len(view[BatchView](w, "batch", m{"key": b}).Rows) != 1 {
		t.Fatal("accepted twice counts twice")
	}
}

func TestUnknownKindsAreCounted(t *testing.T) {
	w := newWorld(t)
	w.write(Draft{Workshop, 900, 1, []byte("later")})
	w.write(Draft{Workshop, KindBatchNoted, 2, []byte("later")})
	if w.s.UpdateNeeded() != 2 || len(w.s.Clashes()) != 0 {
		t.Fatalf("%d need an update, %d clash", w.s.UpdateNeeded(), len(w.s.Clashes()))
	}
}

func TestRevisionsMadeApartAreAFork(t *testing.T) {
	w := newWorld(t)
	key := w.do("formula.save", scrub(), "key")
	d := view[FormulaView](w, "formula", m{"key": key}).Draft
	first := d.Parent
	d.Lines[1].Percent = "11"
	second := w.do("formula.save", d, "revision")
	if again := w.do("formula.save", d, "revision"); again != second {
		t.Errorf("saved twice: %s and %s", second, again)
	}
	if v := view[FormulaView](w, "formula", m{"key": key}); v.Row.Forked || v.Row.Number != 2 || v.Row.Revision != second {
		t.Fatalf("one after the other: %s", pretty(v.Row))
	}
	w.ctx.Device, w.ctx.Letter = device(2), "C"
	d.Parent, d.Lines[1].Percent = first, "12"
	third := w.do("formula.save", d, "revision")
	v := view[FormulaView](w, "formula", m{"key": key})
	if !v.Row.Forked || len(v.Revisions) != 3 {
		t.Fatalf("apart: %s", pretty(v.Row))
	}
	start := m{"formula": key, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}
	w.refused("batch.start", start, "forked", "revision")
	start["revision"] = second
	b := w.do("batch.start", start, "key")
	if v := view[BatchView](w, "batch", m{"key": b}); v.RevisionNumber != 2 || v.WentIn[1].Target != "330.0 g" {
		t.Fatalf("made from the second: %s", pretty(v.WentIn))
	}

	// An entry that follows both settles it.
	settled, _ := ParseRef(second)
	also, _ := ParseRef(third)
	body := w.s.revision(key, also)
	body.Parent, body.Also = settled, []RefItem{{also}}
	dr, _ := draft(KindFormulaSaved, body)
	w.write(dr)
	if view[FormulaView](w, "formula", m{"key": key}).Row.Forked {
		t.Fatal("a revision that follows both leaves the fork open")
	}
}

func TestSavedFormulaComesBackAsTyped(t *testing.T) {
	w := newWorld(t)
	key := w.do("formula.save", scrub(), "key")
	v := view[FormulaView](w, "formula", m{"key": key})
	want := scrub()
	want.Key, want.Parent, want.Lines[2].Percent = key, v.Row.Revision, "1"
	if pretty(v.Draft) != pretty(want) {
		t.Fatalf("got %swant %s", pretty(v.Draft), pretty(want))
	}
	if got := view[calc.Sheet](w, "sheet", v.Draft); !got.CanSave || !got.CanMake || got.Mass.Text != "3,000.0 g" {
		t.Fatalf("its sheet: %s", pretty(got))
	}
}
