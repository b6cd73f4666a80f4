package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

func american(t *testing.T) *world {
	w := newWorld(t)
	w.do("workshop.choose", m{"region": "US", "mass": "oz", "degrees": "F", "money": "usd", "scaleStep": "0.01", "scaleHolds": "500"}, "")
	return w
}

// Nothing has to be answered: an empty answer has its default, and the book works without any.
func TestTheQuestionsOfAFirstRunCanAllBeSkipped(t *testing.T) {
	w := newWorld(t)
	want := Habits{Mass: "g", Degrees: "C", ScaleStep: "0.1"}
	if h := view[Habits](w, "habits", nil); h != want {
		t.Fatalf("before any answer: %+v", h)
	}
	w.do("workshop.choose", m{}, "")
	want.Asked = true
	if h := view[Habits](w, "habits", nil); h != want {
		t.Fatalf("all skipped: %+v", h)
	}
	n := len(w.log[Workshop])
	w.do("workshop.choose", m{}, "")
	if len(w.log[Workshop]) != n {
		t.Fatal("the key pressed twice wrote twice")
	}
	for field, bad := range map[string]string{"region": "Mars", "mass": "stone", "degrees": "K", "money": "dollars", "scaleStep": "fine", "scaleHolds": "a lot"} {
		w.refused("workshop.choose", m{field: bad}, map[string]string{"region": "not offered", "mass": "not offered", "degrees": "not offered", "money": "misread", "scaleStep": "misread", "scaleHolds": "misread"}[field], field)
	}
	w.refused("workshop.choose", m{"scaleStep": "1", "scaleHolds": "0.5"}, "upside down", "scaleHolds")
}

func TestTheAnswersHoldUntilTheyAreChanged(t *testing.T) {
	w := american(t)
	if h := view[Habits](w, "habits", nil); (h != Habits{"US", "oz", "F", "USD", "0.01", "500", true}) {
		t.Fatalf("%+v", h)
	}
	w.do("workshop.name", m{"maker": "Saltmeadow", "region": "UK"}, "")
	if h := view[Habits](w, "habits", nil); h.Region != "UK" || h.Degrees != "F" || h.Money != "USD" {
		t.Fatalf("the later answer holds, the others stay: %+v", h)
	}
	w.do("workshop.choose", m{"region": "US"}, "")
	if v := view[WorkshopView](w, "workshop", nil); v.Region != "US" || v.Maker != "Saltmeadow" {
		t.Fatalf("%+v", v)
	}
}

// 100 typed by someone who thinks in °F is 100 °F for ever, and never 38 °C.
func TestADegreeWithoutUnitIsHers(t *testing.T) {
	w := american(t)
	d := scrub()
	d.Phases[1].Treatment.To = "100"
	d.Plan.Step = ""
	sheet := view[calc.Sheet](w, "sheet", d)
	if !strings.Contains(pretty(sheet.PlanSays), "oz") || !strings.Contains(sheet.Mass.Text, "105.8 oz") {
		t.Errorf("no ounces beside the grams: %s, %s", sheet.PlanSays, sheet.Mass.Text)
	}
	parts := 0
	for _, f := range sheet.Findings {
		if f.Rule == "scale" && strings.Contains(f.Says, "500 g (17.64 oz)") {
			parts++
		}
	}
	if parts != 1 {
		t.Errorf("2,670 g of water on a scale that carries 500 g: %d notes", parts)
	}
	key := w.do("formula.save", d, "key")
	batch := w.do("batch.start", m{"formula": key, "purpose": "trial", "jars": "2", "fill": "4 oz", "loss": "0"}, "key")
	for range 2 {
		bench := view[BenchView](w, "bench", m{"key": batch})
		text := pretty(bench)
		for _, want := range []string{"100 °F (37.8 °C)", "75 °C (167 °F)", "2 jars of 113.398 g (4.00 oz) planned", `"reads": "201.85"`} {
			if !strings.Contains(text, want) {
				t.Errorf("the bench does not say %s", want)
			}
		}
		if got := view[FormulaView](w, "formula", m{"key": key}).Draft; got.Phases[1].Treatment.To != "100 F" || got.Plan.Step != "0.01" {
			t.Errorf("kept as %q, step %q", got.Phases[1].Treatment.To, got.Plan.Step)
		}
		// She changes her mind: what was kept stays what it was.
		w.do("workshop.choose", m{"degrees": "F", "mass": "oz"}, "")
	}
	w.do("workshop.choose", m{"degrees": "C"}, "")
	text := pretty(view[BenchView](w, "bench", m{"key": batch}))
	if !strings.Contains(text, "100 °F (37.8 °C)") || strings.Contains(text, "167 °F") || strings.Contains(text, " oz") {
		t.Errorf("in °C and g: %s", text)
	}
}

func TestReadingsOfTheBenchInHerUnit(t *testing.T) {
	w := american(t)
	_, b := w.start()
	w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "167"}, "entry")
	w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "75", "unit": "C"}, "entry")
	text := pretty(view[BatchView](w, "batch", m{"key": b}).Rows)
	for _, want := range []string{"167 °F (75 °C)", "75 °C (167 °F)"} {
		if !strings.Contains(text, want) {
			t.Errorf("the record does not say %s: %s", want, text)
		}
	}
	own := w.do("ingredient.define", m{"name": "Dune balm", "inci": "Cera", "maxTemperature": "100"}, "key")
	if v := pretty(view[IngredientView](w, "ingredient", m{"key": own})); !strings.Contains(v, "100 °F (37.8 °C)") {
		t.Errorf("%s", v)
	}
}
