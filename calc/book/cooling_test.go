package book

import (
	"strings"
	"testing"
)

// reads writes temperatures of the cooling step, so many minutes apart.
func (w *world) reads(b string, minutes int64, degrees ...string) {
	for _, d := range degrees {
		w.ctx.Now += (minutes - 1) * 60000 // every command takes a minute of its own
		w.do("batch.temperature", m{"batch": b, "phase": "B", "value": d}, "entry")
	}
}

func TestCoolingSaysHowManyMinutesOrWhyNot(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	ask := m{"batch": b, "phase": "B", "room": "20"}
	says := func() string { return view[Cooling](w, "cooling", ask).Says }
	if got := says(); !strings.Contains(got, "No forecast") {
		t.Errorf("nothing read: %s", got)
	}
	w.reads(b, 5, "70", "64")
	if got := says(); !strings.Contains(got, "Fewer than three readings") {
		t.Errorf("two readings: %s", got)
	}
	w.reads(b, 5, "58.7", "54.1")
	if got := says(); !strings.HasPrefix(got, "About ") || !strings.Contains(got, "until it is at 40 °C (between ") || !strings.Contains(got, "thermometer decides") {
		t.Errorf("four readings: %s", got)
	}
	w.do("batch.cooling", m{"batch": b, "phase": "B", "changed": "bath"}, "entry")
	w.reads(b, 2, "48")
	if got := says(); !strings.Contains(got, "since something changed (bath)") {
		t.Errorf("after the bath: %s", got)
	}
	rec := view[BatchView](w, "batch", m{"key": b}).Rows
	if row := rec[len(rec)-2]; row.Title != "Phase B, cooling changed" || row.Value != "bath" {
		t.Errorf("its row: %s", pretty(row))
	}
	if s := stepOf(t, w, b, "cool:B"); s.Done {
		t.Error("a mark of changed cooling closed the step")
	}
	w.reads(b, 2, "50")
	w.reads(b, 2, "52")
	if got := says(); !strings.Contains(got, "warming") {
		t.Errorf("on the heat again: %s", got)
	}
	w.refused("batch.cooling", m{"batch": b, "phase": "B", "changed": "wind"}, "not offered", "changed")
	w.refused("batch.cooling", m{"batch": b, "phase": "A", "changed": "bath"}, "no limit", "phase")
}

func TestCoolingSpeaksInHerDegrees(t *testing.T) {
	w := newWorld(t)
	w.do("workshop.choose", m{"degrees": "F"}, "")
	_, b := w.start()
	w.do("batch.temperature", m{"batch": b, "phase": "B", "value": "99"}, "entry")
	if got := view[Cooling](w, "cooling", m{"batch": b, "phase": "B"}).Says; !strings.Contains(got, "99 °F") || !strings.Contains(got, "104 °F") {
		t.Errorf("in Fahrenheit: %s", got)
	}
}
