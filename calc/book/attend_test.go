package book

import (
	"fmt"
	"strings"
	"testing"
)

func attend(w *world) AttendView { return view[AttendView](w, "attend", nil) }

// made weighs a scrub from the lots given and fills 23 jars of it.
func (w *world) made(lots map[string]string, container string) string {
	w.t.Helper()
	f := w.do("formula.save", scrub(), "key")
	b := w.do("batch.start", m{"formula": f, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "container": container}, "key")
	for _, l := range []string{"w", "g", "p"} {
		w.do("batch.weigh", m{"batch": b, "line": l, "lot": lots[l], "asPlanned": true}, "entry")
	}
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	return b
}

func TestAnEmptyBookAsksForNothing(t *testing.T) {
	v := attend(newWorld(t))
	if v.Stall == nil || v.Low == nil || v.Expiring == nil || len(v.Stall)+len(v.Low)+len(v.Expiring) != 0 {
		t.Fatalf("%+v", v)
	}
}

// A batch takes 300 g of glycerin: with 900 g there is enough for two more after the first, for one after the second.
func TestWhatRunsLowFollowsTheLastBatches(t *testing.T) {
	w := newWorld(t)
	lot := w.do("lot.receive", m{"ingredient": "glycerin", "code": "G-1", "grams": "950"}, "key")
	unused := w.do("lot.receive", m{"ingredient": "sucrose", "code": "S-1", "grams": "1"}, "key")
	tin := w.do("container.define", m{"name": "Low jar", "brimful": "150", "count": "60"}, "key")
	w.made(map[string]string{"g": lot}, tin)
	for _, c := range []struct{ glycerin, jars string }{{"", "enough for one more batch; one fills 23 (median, n = 1)"}, {"enough for one more batch; one takes 300.0 g (median, n = 2)", "not enough for another batch; one fills 23 (median, n = 2)"}, {"not enough for another batch; one takes 300.0 g (median, n = 3)", "not enough"}} {
		text := pretty(attend(w).Low)
		if strings.Contains(text, "glycerin") != (c.glycerin != "") || !strings.Contains(text, c.glycerin) || !strings.Contains(text, c.jars) || strings.Contains(text, unused) {
			t.Fatalf("want %q and %q: %s", c.glycerin, c.jars, text)
		}
		w.made(map[string]string{"g": lot}, tin)
	}
	w.do("lot.receive", m{"ingredient": "glycerin", "code": "G-2", "grams": "5000"}, "key")
	if text := pretty(attend(w).Low); strings.Contains(text, "glycerin") {
		t.Fatalf("a delivery came: %s", text)
	}
}

// The world is at 12 Nov 2026.
func TestLotsNearTheirDate(t *testing.T) {
	w := newWorld(t)
	for day, says := range map[string]string{"2026-11-11": "ended 11 Nov 2026", "2026-11-12": "ends today", "2026-11-13": "in 1 day", "2027-01-11": "in 60 days", "2027-01-12": ""} {
		w := newWorld(t)
		w.do("lot.receive", m{"ingredient": "glycerin", "code": "G-1", "grams": "950", "expiry": day}, "key")
		text := strings.TrimSpace(pretty(attend(w).Expiring))
		if (says == "") != (text == "[]") || !strings.Contains(text, says) {
			t.Errorf("%s: want %q: %s", day, says, text)
		}
	}
	for i := range 9 {
		w.do("lot.receive", m{"ingredient": "glycerin", "code": fmt.Sprint("G-", i), "grams": "950", "expiry": fmt.Sprintf("2026-12-%02d", 20-i)}, "key")
	}
	v := attend(w)
	if len(v.Expiring) != 5 || !strings.Contains(v.Expiring[0].Says, "12 Dec") || v.Expiring[4].Title != "and 5 more" || v.Expiring[4].To != "shelf" {
		t.Errorf("a calm page: %s", pretty(v.Expiring))
	}
}

func TestJarsAwayFromHome(t *testing.T) {
	w := newWorld(t)
	b := w.made(nil, "")
	w.do("batch.release", m{"batch": b, "by": "Imke", "looked": "firm"}, "")
	if v := attend(w); len(v.Stall) != 0 {
		t.Fatalf("all are at home: %+v", v.Stall)
	}
	w.do("jars.move", m{"batch": b, "from": "home", "to": "stall", "count": "12"}, "entry")
	v := attend(w)
	if len(v.Stall) != 1 || v.Stall[0].Value != "12 jars" || v.Stall[0].Key != "stall" || !strings.HasPrefix(v.Stall[0].Says, "Plain rinse:") {
		t.Fatalf("%+v", v.Stall)
	}
}
