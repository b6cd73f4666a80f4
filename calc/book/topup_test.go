package book

import (
	"strings"
	"testing"
)

func TestSteamIsWrittenAndPutBack(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	ask := m{"batch": b, "phase": "A", "tare": "412.4", "before": "3382.4", "after": "3353.1", "covered": true}
	v := view[TopUp](w, "topup", ask)
	if v.PutBack != "29.3" || v.Line != "w" || v.Key == "" || !strings.Contains(v.Says, "29.3 g of water went off as steam (0.99 %") {
		t.Fatalf("29.3 g lost: %s", pretty(v))
	}
	w.do("batch.topup", ask, "entry")
	rec := view[BatchView](w, "batch", m{"key": b})
	if row := rec.Rows[3]; row.Value != "−29.3 g" || !strings.HasSuffix(row.Title, ", gone off as steam") || !strings.Contains(row.Detail, "3,382.4 g before heating") {
		t.Errorf("its row: %s", pretty(row))
	}
	if got := rec.WentIn[0].Actual; got != "2,640.7 g" {
		t.Errorf("before it is put back there are %s", got)
	}
	w.do("batch.add", m{"batch": b, "line": v.Line, "grams": v.PutBack, "why": "to top up"}, "entry")
	if got := view[BatchView](w, "batch", m{"key": b}).WentIn[0].Actual; got != "2,670.0 g" {
		t.Errorf("put back, there are %s", got)
	}
}

func TestAHeavierVesselTookWaterIn(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	ask := m{"batch": b, "phase": "A", "before": "500", "after": "504.2", "covered": true}
	if v := view[TopUp](w, "topup", ask); v.PutBack != "" || len(v.Findings) != 1 || v.Findings[0].Level != "care" || !strings.Contains(v.Says, "water got in") {
		t.Fatalf("4.2 g got in: %s", pretty(v))
	}
	w.do("batch.topup", ask, "entry")
	if got := view[BatchView](w, "batch", m{"key": b}).WentIn[0].Actual; got != "2,674.2 g" {
		t.Errorf("with the water that got in there are %s", got)
	}
}

func TestWhatStaysBehindIsMissingOfEachLine(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	ask := m{"batch": b, "phase": "A", "tare": "200", "after": "299", "poured": true}
	v := view[TopUp](w, "topup", ask)
	if v.Key == "" || len(v.Findings) != 1 || v.Findings[0].Level != "care" || !strings.Contains(v.Says, "99.0 g stayed behind") || !strings.Contains(v.Says, "3.33 %") {
		t.Fatalf("99 of 2,970 g stayed: %s", pretty(v))
	}
	w.do("batch.topup", ask, "entry")
	rec := view[BatchView](w, "batch", m{"key": b})
	if a, g := rec.WentIn[0].Actual, rec.WentIn[1].Actual; a != "2,581.0 g" || g != "290.0 g" || rec.Mass.Text != "2,901.0 g" {
		t.Errorf("water %s, glycerin %s, in all %s", a, g, rec.Mass.Text)
	}
}

func TestATopUpIsRefusedWhole(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	args := func(change m) m {
		out := m{"batch": b, "phase": "A", "before": "500", "after": "490"}
		for k, v := range change {
			out[k] = v
		}
		return out
	}
	w.refused("batch.topup", args(nil), "more than is in", "after") // nothing is in yet
	w.weighAll(b)
	for _, c := range []struct {
		change      m
		code, field string
	}{
		{m{"phase": "Q"}, "phase unknown", "phase"},
		{m{"phase": "B"}, "no water", "phase"},
		{m{"after": ""}, "not weighed", "before"},
		{m{"after": "49,0,1"}, "misread", "after"},
		{m{"after": "500.1"}, "nothing lost", "after"},
		{m{"tare": "600"}, "misread", "tare"},
		{m{"before": "5000", "after": "90"}, "more than is in", "after"},
		{m{"poured": true, "tare": "90", "after": "80"}, "misread", "after"},
		{m{"poured": true}, "not weighed", "tare"},
	} {
		w.refused("batch.topup", args(c.change), c.code, c.field)
	}
	if n := len(view[BatchView](w, "batch", m{"key": b}).Rows); n != 3 {
		t.Errorf("a refused top up wrote rows: %d", n)
	}
}
