package book

import (
	"strings"
	"testing"
)

func ways(v RescueView) string {
	var out []string
	for _, w := range v.Ways {
		name := w.Way
		if !w.Open {
			name = "(" + name + ")"
		}
		out = append(out, name)
	}
	return strings.Join(out, ", ")
}

func wayOf(t *testing.T, v RescueView, way string) RescueWay {
	t.Helper()
	for _, w := range v.Ways {
		if w.Way == way {
			return w
		}
	}
	t.Fatalf("no way %s in %s", way, pretty(v))
	return RescueWay{}
}

// tooMuch weighs water as planned and glycerin far over: 360 g of the 300 g planned.
func tooMuch(t *testing.T) (*world, string, string) {
	w := newWorld(t)
	gly := w.lot("glycerin", "G-17")
	_, b := w.start()
	w.do("batch.weigh", m{"batch": b, "line": "w", "asPlanned": true}, "entry")
	w.do("batch.weigh", m{"batch": b, "line": "g", "lot": gly, "grams": "360"}, "entry")
	return w, b, gly
}

func TestARescueIsOfferedOnlyWhereTooMuchWentIn(t *testing.T) {
	for _, c := range []struct {
		line, grams string
		offered     bool
	}{
		{"g", "300", false},
		{"g", "290", false},
		{"g", "314.9", false}, // 5 % of 300 is what a scale's tolerance allows
		{"g", "315.1", true},
		{"p", "33", false},
		{"p", "33.1", true}, // within the tolerance, but past its maximum
	} {
		w := newWorld(t)
		f := scrub()
		f.Lines[2].Percent = "1,1"
		b := w.do("batch.start", m{"formula": w.do("formula.save", f, "key"), "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}, "key")
		for _, l := range []string{"w", "g", "p"} {
			w.do("batch.weigh", m{"batch": b, "line": l, "asPlanned": l != c.line, "grams": c.grams}, "entry")
		}
		v := view[RescueView](w, "rescue", m{"batch": b})
		if (v.Says != "") != c.offered || (len(v.Ways) > 0) != c.offered {
			t.Errorf("%s g of %s: %s", c.grams, c.line, pretty(v))
		}
	}
}

func TestTakingItBackOutEndsTheRescue(t *testing.T) {
	w, b, _ := tooMuch(t)
	v := view[RescueView](w, "rescue", m{"batch": b})
	if v.Stirred || v.Ways[0].Way != wayTakeBack || v.Ways[0].Lines[0].Line != "g" || v.Ways[0].Lines[0].Add != "−60.0 g" || !strings.Contains(v.Says, "60.0 g too much of") {
		t.Fatalf("not stirred: %s", pretty(v))
	}
	if v := view[RescueView](w, "rescue", m{"batch": b, "stirred": "yes"}); !v.Stirred || v.Ways[0].Way == wayTakeBack || wayOf(t, v, wayTakeBack).Open {
		t.Errorf("stirred: %s", pretty(v))
	}
	w.refused("batch.rescue", m{"batch": b, "way": wayTakeBack}, "weigh it", "way")
	w.do("batch.add", m{"batch": b, "line": "g", "grams": "58", "out": true, "why": "a rescue"}, "entry")
	if v := view[RescueView](w, "rescue", m{"batch": b}); v.Says != "" {
		t.Errorf("it is out again: %s", pretty(v))
	}
	w.refused("batch.rescue", m{"batch": b, "way": wayAccept}, "nothing over", "batch")
}

func TestAcceptingIsANoteAndTheDeviationStays(t *testing.T) {
	w, b, gly := tooMuch(t)
	w.do("batch.rescue", m{"batch": b, "way": wayAccept}, "entry")
	if v := view[RescueView](w, "rescue", m{"batch": b}); v.Says != "" {
		t.Fatalf("it was accepted: %s", pretty(v))
	}
	v := view[BatchView](w, "batch", m{"key": b})
	if row := v.Rows[len(v.Rows)-1]; row.Title != "Too much went in, accepted" || !strings.Contains(row.Value, "60.0 g too much of") {
		t.Errorf("its row: %s", pretty(row))
	}
	w.do("batch.weigh", m{"batch": b, "line": "p", "asPlanned": true}, "entry")
	if f := findingOf(view[BatchView](w, "batch", m{"key": b}), "not as planned"); f.Line != "g" {
		t.Errorf("the deviation is no finding any more: %s", pretty(f))
	}
	// Still more of it is another matter, and is asked about again.
	w.do("batch.add", m{"batch": b, "line": "g", "lot": gly, "grams": "5"}, "entry")
	if v := view[RescueView](w, "rescue", m{"batch": b}); !strings.Contains(v.Says, "65.0 g too much") {
		t.Errorf("5 g more went in: %s", pretty(v))
	}
}

func TestScalingUpSetsNewTargets(t *testing.T) {
	w, b, _ := tooMuch(t)
	w.do("batch.weigh", m{"batch": b, "line": "p", "asPlanned": true}, "entry")
	v := wayOf(t, view[RescueView](w, "rescue", m{"batch": b, "stirred": "yes"}), wayScaleUp)
	if !v.Open || v.Lines[0].Add != "+534.0 g" || v.Lines[1].Add != "" || v.Lines[2].Add != "+6.0 g" || v.Lines[1].Percent.Text != "10.00 %" || v.Lines[1].Percent.Sum == "" {
		t.Fatalf("scale up: %s", pretty(v))
	}
	w.do("batch.rescue", m{"batch": b, "way": wayScaleUp, "stirred": "yes"}, "entry")
	if v := view[RescueView](w, "rescue", m{"batch": b}); v.Says != "" {
		t.Fatalf("it was scaled up: %s", pretty(v))
	}
	water := stepOf(t, w, b, "weigh:w")
	if water.Done || water.Target.Text != "3,204.0 g" || water.Actual != "2,670.0 g" || water.Reads != "534.0" {
		t.Errorf("the water is not topped up: %s", pretty(water))
	}
	if g := stepOf(t, w, b, "weigh:g"); !g.Done || g.Target.Text != "360.0 g" {
		t.Errorf("what was too much is asked for again: %s", pretty(g))
	}
	w.refused("batch.fill", m{"batch": b, "jars": "24"}, "not weighed", "*")
	w.do("batch.weigh", m{"batch": b, "line": "w", "asPlanned": true}, "entry")
	w.do("batch.weigh", m{"batch": b, "line": "p", "grams": "6"}, "entry")
	whole := view[BatchView](w, "batch", m{"key": b})
	for i, want := range []string{"89.00 %", "10.00 %", "1.00 %"} {
		if got := whole.WentIn[i]; got.Percent.Text != want || got.Actual != got.Target {
			t.Errorf("after scaling up: %s", pretty(got))
		}
	}
	if f := findingOf(whole, "not as planned"); f.Rule != "" {
		t.Errorf("a scaled batch is called not as planned: %s", pretty(f))
	}
	w.do("batch.fill", m{"batch": b, "jars": "28"}, "entry")
}

func TestDiscardingIsAStateWithItsReason(t *testing.T) {
	w, b, _ := tooMuch(t)
	w.refused("batch.rescue", m{"batch": b, "way": "pray"}, "way unknown", "way")
	w.do("batch.rescue", m{"batch": b, "way": wayDiscard}, "entry")
	v := view[BatchView](w, "batch", m{"key": b})
	if v.Row.State != Discarded || !strings.Contains(v.Row.Says, "60.0 g too much of") {
		t.Errorf("discarded: %s", pretty(v.Row))
	}
	w.refused("batch.rescue", m{"batch": b, "way": wayAccept}, "discarded", "batch")
}

// A fat that is too little now, in a pot that has cooled, has to be melted again: then other ways stand first (E16).
func TestAColdPotIsNotScaledUpFirst(t *testing.T) {
	w := newWorld(t)
	f := scrub()
	f.Lines[0].Percent, f.Lines[0].QS = "", true
	f.Lines = append(f.Lines, f.Lines[1])
	f.Lines[3].ID, f.Lines[3].Ingredient, f.Lines[3].Percent = "s", "stearic-50", "8"
	w.lot("stearic-50", "S-1")
	b := w.do("batch.start", m{"formula": w.do("formula.save", f, "key"), "purpose": "trial", "jars": "2", "fill": "100", "step": "0.1"}, "key")
	for _, l := range []string{"w", "g", "s"} {
		w.do("batch.weigh", m{"batch": b, "line": l, "asPlanned": true}, "entry")
	}
	w.do("batch.temperature", m{"batch": b, "phase": "B", "value": "36"}, "entry")
	w.do("batch.weigh", m{"batch": b, "line": "p", "grams": "3"}, "entry")
	v := view[RescueView](w, "rescue", m{"batch": b, "stirred": "yes"})
	up := wayOf(t, v, wayScaleUp)
	if v.Ways[0].Way == wayScaleUp || !strings.Contains(up.Why, "melted or dissolved again") {
		t.Errorf("ways %s, and scaling up says %q", ways(v), up.Why)
	}
}

// What the formula does not name has no plan: all of it is too much, and no larger batch makes it right.
func TestWhatWentInByMistakeCanBeRescuedToo(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	w.do("batch.add", m{"batch": b, "ingredient": "citric-acid", "phase": "B", "grams": "12", "why": "for the pH"}, "entry")
	if v := view[RescueView](w, "rescue", m{"batch": b}); v.Says != "" {
		t.Fatalf("what was meant is called too much: %s", v.Says)
	}
	w.do("batch.add", m{"batch": b, "ingredient": "parfum", "phase": "B", "grams": "40", "why": "by mistake"}, "entry")
	v := view[RescueView](w, "rescue", m{"batch": b})
	back, up := wayOf(t, v, wayTakeBack), wayOf(t, v, wayScaleUp)
	if !strings.Contains(v.Says, "40.0 g too much of") || !back.Open || back.Lines[0].Line != "+parfum" || up.Open || !strings.Contains(up.Why, "the formula has no") {
		t.Fatalf("the wrong tub: %s", pretty(v))
	}
	if accept := wayOf(t, v, wayAccept); len(accept.Lines) != 4 || accept.Lines[3].Percent.Text == "" {
		t.Errorf("accepted, it has no true share: %s", pretty(accept))
	}
	w.do("batch.add", m{"batch": b, "ingredient": "parfum", "grams": "30", "out": true, "why": "a rescue"}, "entry")
	if v = view[RescueView](w, "rescue", m{"batch": b}); !strings.Contains(v.Says, "10.0 g too much of") {
		t.Errorf("30 g are out again: %s", v.Says)
	}
	w.do("batch.rescue", m{"batch": b, "way": wayAccept}, "entry")
	if v = view[RescueView](w, "rescue", m{"batch": b}); v.Says != "" {
		t.Errorf("it was accepted: %s", v.Says)
	}
}

func TestScalingUpAsksWhetherItFitsTheVessel(t *testing.T) {
	w, b, _ := tooMuch(t)
	finding := func(room string) (RescueView, string) {
		v := view[RescueView](w, "rescue", m{"batch": b, "room": room})
		for _, f := range wayOf(t, v, wayScaleUp).Findings {
			if f.Rule == "rescue-vessel" {
				return v, string(f.Level)
			}
		}
		return v, ""
	}
	if v, level := finding(""); level != "unchecked" || v.Room != "" {
		t.Errorf("nothing said of the vessel: %q, %q", level, v.Room)
	}
	if v, level := finding("5000"); level != "unchecked" || !strings.Contains(v.Room, "density is missing") {
		t.Errorf("no density: %q, %q", level, v.Room)
	}
	w.do("batch.density", m{"batch": b, "stage": stageWhipped, "value": "0.6"}, "entry")
	if v, level := finding("5000"); level != "stop" || v.Room != "5000 mL at 0.60 g/mL, as measured, hold 3,000 g." || wayOf(t, v, wayScaleUp).Open {
		t.Errorf("3,600 g do not fit: %q, %q", level, v.Room)
	}
	w.refused("batch.rescue", m{"batch": b, "way": wayScaleUp, "room": "5000"}, "way closed", "way")
	if v, level := finding("7000"); level != "" {
		t.Errorf("3,600 g fit: %q, %q", level, v.Room)
	}
	if v, _ := finding("wide"); v.Room == "" {
		t.Error("what cannot be read is not said")
	}
}
