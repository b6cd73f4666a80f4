package book

import (
	"strings"
	"testing"
)

// jarred is a batch that was filled today.
func (w *world) jarred() (batch string) {
	w.t.Helper()
	_, batch = w.start()
	w.weighAll(batch)
	w.do("batch.fill", m{"batch": batch, "jars": "23"}, "entry")
	return batch
}

func (w *world) wait(days int64) { w.ctx.Now += days * 24 * 60 * 60 * 1000 }

func (w *world) read(batch, condition, ph string, more m) string {
	w.t.Helper()
	args := m{"batch": batch, "condition": condition, "ph": ph, "method": "meter", "dilution": "10", "step": "0.01"}
	for k, v := range more {
		args[k] = v
	}
	return w.do("batch.age", args, "entry")
}

func TestAReadingOfASampleSaysWhereAndHow(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.refused("batch.age", m{"batch": b, "condition": "room", "note": "early"}, "not filled", "batch")
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	for _, c := range []struct {
		args        m
		code, field string
	}{
		{m{"batch": "nowhere", "condition": "room", "note": "x"}, "batch unknown", "batch"},
		{m{"batch": b, "condition": "room"}, "nothing said", ""},
		{m{"batch": b, "note": "x"}, "condition missing", "condition"},
		{m{"batch": b, "condition": "attic", "note": "x"}, "condition unknown", "condition"},
		{m{"batch": b, "condition": "room", "ph": "5.4"}, "method missing", "method"},
		{m{"batch": b, "condition": "room", "ph": "15", "method": "meter"}, "misread", "ph"},
		{m{"batch": b, "condition": "room", "ph": "5", "method": "eye"}, "word unknown", "method"},
		{m{"batch": b, "condition": "room", "ph": "5", "method": "meter", "step": "no"}, "misread", "step"},
		{m{"batch": b, "condition": "room", "mass": "-3"}, "misread", "mass"},
		{m{"batch": b, "condition": "room", "density": "30"}, "misread", "density"},
		{m{"batch": b, "condition": "room", "words": []m{{"of": "colour", "word": "loud"}}}, "word unknown", "words"},
		{m{"batch": b, "condition": "room", "note": "x", "day": "2026-11-11"}, "too early", "day"},
		{m{"batch": b, "condition": "room", "note": "x", "day": "2027-11-11"}, "not yet", "day"},
		{m{"batch": b, "condition": "room", "note": "x", "day": "soon"}, "misread", "day"},
	} {
		w.refused("batch.age", c.args, c.code, c.field)
	}
	w.wait(30)
	first := w.read(b, "warm", "5,42", m{"sample": "22 C", "mass": "161.4", "words": []m{{"of": "colour", "word": "deeper"}}})
	if again := w.read(b, "warm", "5,42", m{"sample": "22 C", "mass": "161.4", "words": []m{{"of": "colour", "word": "deeper"}}}); again != first {
		t.Error("the key pressed twice kept the reading twice")
	}
	v := view[AgeingView](w, "ageing", m{"key": b})
	r := v.Rows[0]
	if len(v.Rows) != 1 || r.Title != "Day 30, 40 °C" || r.Value != "pH 5.42, 161.4 g, colour deeper" || r.Detail != "10 % in distilled water; meter; in steps of 0.01; at 22 °C" {
		t.Errorf("the row: %s", pretty(v.Rows))
	}

	// What was left empty in a correction stays; the old row stays struck.
	w.do("correct", m{"entry": first, "reason": "wrong shelf", "aged": m{"condition": "room", "words": []m{{"of": "scent", "word": "off"}}}}, "entry")
	v = view[AgeingView](w, "ageing", m{"key": b})
	if len(v.Rows) != 2 || !v.Rows[1].Struck || v.Rows[0].Title != "Day 30, room" || v.Rows[0].Value != "pH 5.42, 161.4 g, colour deeper, scent off" {
		t.Errorf("corrected: %s", pretty(v.Rows))
	}
	w.refused("correct", m{"entry": first, "reason": "again", "aged": m{"condition": "cool"}}, "corrected already", "entry")
}

// How a pH was read is corrected alone, each part of it: what was not said stays, and neat is a word of its own.
func TestHowAReadingWasReadIsCorrectedAlone(t *testing.T) {
	for _, c := range []struct {
		name, want string
		say        m
	}{
		{"neat after all", "neat; meter; in steps of 0.01; at 22 °C", m{"dilution": "neat"}},
		{"thinner", "5 % in distilled water; meter; in steps of 0.01; at 22 °C", m{"dilution": "5"}},
		{"warmer", "10 % in distilled water; meter; in steps of 0.01; at 25 °C", m{"sample": "25 C"}},
		{"finer", "10 % in distilled water; meter; in steps of 0.1; at 22 °C", m{"step": "0.1"}},
		{"by strip", "10 % in distilled water; strip; at 22 °C", m{"method": "strip"}},
		{"another place alone", "10 % in distilled water; meter; in steps of 0.01; at 22 °C", m{"condition": "room"}},
		{"another pH alone", "10 % in distilled water; meter; in steps of 0.01; at 22 °C", m{"ph": "5.6"}},
	} {
		w := newWorld(t)
		b := w.jarred()
		of := w.read(b, "warm", "5,42", m{"sample": "22 C"})
		w.do("correct", m{"entry": of, "reason": "slip", "aged": c.say}, "entry")
		if v := view[AgeingView](w, "ageing", m{"key": b}); len(v.Rows) != 2 || v.Rows[0].Detail != c.want+"; in place of the row above: slip" {
			t.Errorf("%s: %s", c.name, pretty(v.Rows))
		}
	}
	w := newWorld(t)
	b := w.jarred()
	neat := w.read(b, "warm", "5.4", m{"dilution": "neat"})
	w.refused("correct", m{"entry": neat, "reason": "x", "aged": m{"dilution": "neat"}}, "same", "value")
	w.refused("correct", m{"entry": neat, "reason": "x", "aged": m{"dilution": "much"}}, "misread", "dilution")
	weighed := w.do("batch.age", m{"batch": b, "condition": "room", "mass": "161.4"}, "entry")
	for _, say := range []m{{"sample": "25 C"}, {"dilution": "neat"}, {"method": "strip"}} {
		w.refused("correct", m{"entry": weighed, "reason": "x", "aged": say}, "value missing", "ph")
	}
}

func TestDriftIsDrawnOnlyWithinOneConditionAndMethod(t *testing.T) {
	w := newWorld(t)
	b := w.jarred()
	for _, c := range []struct {
		days       int64
		room, warm string
	}{{1, "5.42", ""}, {6, "5.40", "5.40"}, {23, "5.29", "5.20"}} {
		w.wait(c.days)
		w.read(b, "room", c.room, nil)
		if c.warm != "" {
			w.read(b, "warm", c.warm, nil)
		}
	}
	w.read(b, "room", "5.5", m{"method": "strip", "step": "0.5"})
	v := view[AgeingView](w, "ageing", m{"key": b})
	if len(v.Charts) != 1 || len(v.Charts[0].Series) != 3 {
		t.Fatalf("the charts: %s", pretty(v.Charts))
	}
	room, strip, warm := v.Charts[0].Series[0], v.Charts[0].Series[1], v.Charts[0].Series[2]
	if room.Drift.Text != "−0.14 ± 0.09" || !strings.Contains(room.Drift.Sum, "day 1: 5.42, day 7: 5.4, day 30: 5.29") || len(room.Points) != 3 {
		t.Errorf("room: %s", pretty(room))
	}
	if strip.Drift.Text != "no slope" || !strings.Contains(strip.Says, "by strip") {
		t.Errorf("a strip has a slope: %s", pretty(strip))
	}
	if warm.Drift.Text != "too few" || !strings.Contains(warm.Says, "2 of at least 3 days") {
		t.Errorf("two days have a slope: %s", pretty(warm))
	}
	if len(v.Findings) == 0 || !strings.Contains(v.Findings[0].Says, "more than one method") {
		t.Errorf("two methods are not told apart: %s", pretty(v.Findings))
	}
	for _, s := range v.Charts[0].Series {
		for _, p := range s.Points {
			if p.X < 0 || p.X > 1 || p.Y < 0 || p.Y > 1 {
				t.Errorf("%s lies outside of the picture: %v", s.Name, p)
			}
		}
	}
}

func TestTodayTellsWhichSamplesAreDue(t *testing.T) {
	w := newWorld(t)
	b := w.jarred()
	due := func() []AttendRow { return view[AttendView](w, "attend", nil).Ageing }
	w.wait(8)
	if rows := due(); len(rows) != 0 {
		t.Fatalf("nothing is kept back, and Today asks for it: %v", rows)
	}
	w.do("jars.move", m{"batch": b, "from": "home", "to": "kept back", "count": "1"}, "entry")
	if rows := due(); len(rows) != 1 || rows[0].Value != "after a week" || rows[0].To != "ageing" || rows[0].Key != b {
		t.Fatalf("after a week: %v", rows)
	}
	if v := view[AgeingView](w, "ageing", m{"key": b}); v.Kept != "1 jar kept back" || !v.Due || v.Next != "Read it after a week: due since 19 Nov 2026." {
		t.Errorf("its page: %q %q", v.Kept, v.Next)
	}
	w.read(b, "room", "5.4", nil)
	w.read(b, "warm", "5.3", nil)
	if rows := due(); len(rows) != 0 {
		t.Fatalf("served, and still due: %v", rows)
	}
	if v := view[AgeingView](w, "ageing", m{"key": b}); v.Due || v.Next != "Next reading after a month, room and 40 °C: 12 Dec 2026." {
		t.Errorf("what comes next: %q", v.Next)
	}
	w.wait(25)
	w.read(b, "room", "5.4", nil)
	if rows := due(); len(rows) != 1 || rows[0].Says != "batch 261112-B1, 33 days old: 40 °C" {
		t.Errorf("the other condition waits: %v", rows)
	}
	w.do("batch.hold", m{"batch": b, "reason": "smells"}, "")
	if rows := due(); len(rows) != 1 {
		t.Errorf("a held batch is no longer watched: %v", rows)
	}
}

func TestSamplesAreComparedLikeWithLike(t *testing.T) {
	w := newWorld(t)
	one := w.jarred()
	f := view[BatchView](w, "batch", m{"key": one}).Formula
	d := view[FormulaView](w, "formula", m{"key": f}).Draft
	d.Lines[1].Percent, d.Lines[2].Percent = "12", "0.9"
	w.do("formula.save", d, "revision")
	other := w.do("batch.start", m{"formula": f, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}, "key")
	w.weighAll(other)
	w.do("batch.fill", m{"batch": other, "jars": "23"}, "entry")
	if v := view[AgeingView](w, "ageing", m{"key": other}); len(v.Others) != 0 {
		t.Errorf("a batch without readings is offered: %v", v.Others)
	}
	w.wait(30)
	w.read(one, "room", "5.4", m{"words": []m{{"of": "colour", "word": "deeper"}}})
	if v := view[AgedBeside](w, "agedbeside", m{"key": other, "other": one}); len(v.Rows) != 0 || !strings.Contains(v.Unlike, "Nothing of the two") {
		t.Errorf("nothing to compare: %s", pretty(v))
	}
	w.wait(2)
	w.read(other, "room", "5.6", m{"words": []m{{"of": "colour", "word": "same"}}})
	w.read(other, "warm", "5.1", nil)
	if v := view[AgeingView](w, "ageing", m{"key": other}); len(v.Others) != 1 || v.Others[0].Key != one {
		t.Errorf("the others: %v", v.Others)
	}
	v := view[AgedBeside](w, "agedbeside", m{"key": other, "other": one})
	if len(v.Rows) != 2 || v.Rows[0].Differ.Text != "+0.2" || v.Rows[0].Differ.Sum != "5.6 − 5.4 = +0.2" || !strings.HasPrefix(v.Rows[0].When, "day 32 and 30, room, meter") || v.Rows[1].Differ.Text != "differs" {
		t.Errorf("beside each other: %s", pretty(v.Rows))
	}
	if !strings.Contains(v.Says, "2 lines differ") || !strings.Contains(v.Says, "cannot be told") || !strings.Contains(v.Unlike, "1 reading") {
		t.Errorf("what differs: %q %q", v.Says, v.Unlike)
	}
}

// A slip of the finger, or a phone that went wrong, puts one reading far from the rest: the chart still has a few marks. It once
// asked for more of them than any memory holds, at every look at that batch.
func TestAReadingFarFromTheRestHasAFewMarks(t *testing.T) {
	for _, c := range []struct {
		low, high int64
		says      string
	}{
		{5400, 5400, "5.4 5.42"}, {5200, 5600, "5.2 5.6"}, {161400, 161900, "161.4 162.0"}, {0, 161400000, "0.0 200000.0"}, {-maxWhole, maxWhole, "-10000000000000.0 10000000000000.0"},
	} {
		low, high, ticks := valueTicks(c.low, c.high)
		if len(ticks) > 6 || low > c.low || high < c.high {
			t.Errorf("%d to %d: %d marks from %d to %d", c.low, c.high, len(ticks), low, high)
		} else if got := ticks[0].Text + " " + ticks[len(ticks)-1].Text; got != c.says {
			t.Errorf("%d to %d: %s", c.low, c.high, got)
		}
	}
}
