package book

import (
	"strings"
	"testing"
)

// cleanser is what cares about its pH: water, betaine and benzoate, 1 % of it.
func (w *world) cleanser() string {
	w.t.Helper()
	d := scrub()
	d.Name, d.Lines[1].Ingredient, d.Lines[2].Ingredient = "Plain wash", "betaine-30", "sodium-benzoate"
	d.Lines[1].Percent = "85" // so that the water of a solution is much beside its line
	b := w.do("batch.start", m{"formula": w.do("formula.save", d, "key"), "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}, "key")
	w.weighAll(b)
	return b
}

func point(added, pH string) m { return m{"added": added, "ph": pH} }

func TestAPHIsBroughtToWhereItShouldBe(t *testing.T) {
	w := newWorld(t)
	acid := w.lot("citric-acid", "C-1")
	b := w.cleanser()
	bench := func() BenchView { return view[BenchView](w, "bench", m{"key": b}) }
	adjust := func(of m) Adjust {
		of["batch"] = b
		return view[Adjust](w, "adjust", of)
	}
	read := func(pH string) {
		w.do("batch.ph", m{"batch": b, "value": pH, "method": "meter", "step": "0.1"}, "entry")
	}
	if bench().PH != "" {
		t.Fatal("nothing was measured, and it stands outside")
	}
	read("6.4")
	if got := bench().PH; got != "pH 6.4 stands outside 4.5 to 5.0" {
		t.Fatalf("6.4 with benzoate: %q", got)
	}
	v := adjust(m{})
	if v.Stage != "what" || v.Wanted != "4.5 to 5.0" || len(v.Offers) == 0 || v.Offers[0].Key != "citric-acid" || v.Findings[0].Level != "wear" {
		t.Fatalf("what brings it down: %s", pretty(v))
	}
	for _, o := range v.Offers {
		if o.Key == "naoh-10" {
			t.Error("a base is offered to bring it down")
		}
	}
	typed := m{"ingredient": "citric-acid"}
	if v = adjust(typed); v.Stage != "trial" || v.Begun || v.Says != "" || v.Low != "4.5" || v.High != "5.0" || v.Strength != "" || v.Pot != "3000" {
		t.Fatalf("nothing typed: %s", pretty(v))
	}
	typed["strength"], typed["sample"] = "20", "50"
	if v = adjust(typed); !v.Begun || v.Ready || v.Pot != "2950" || !strings.Contains(v.PotSum, "3,000.0 g weighed in, less 50.0 g") || v.Name != "citric acid, 20 % in water" {
		t.Fatalf("the sample: %s", pretty(v))
	}
	points := []m{point("0", "6.4"), point("0.5", "5.9"), point("1.0", "5.2")}
	typed["points"], typed["pot"], typed["low"], typed["high"] = points, v.Pot, v.Low, v.High
	if v = adjust(typed); !v.Ready || !strings.Contains(v.Says, "did not reach") {
		t.Fatalf("a trial that ended too early: %s", pretty(v))
	}
	typed["points"] = append(points, point("1.5", "4.7"))
	if v = adjust(typed); !v.Ready || !strings.Contains(v.Says, "80 %") {
		t.Fatalf("the trial: %s", pretty(v))
	}
	w.do("batch.trial", typed, "entry")
	// 1.45 g take 50 g to 4.75; the pot of 2,950 g takes 85.5 g, of which 80 % go in first.
	v = adjust(m{})
	if v.Stage != "add" || v.Add != "68.4" || len(v.Points) != 4 || len(v.Lots) != 1 || !strings.Contains(v.Says, "85.5 g") {
		t.Fatalf("kept: %s", pretty(v))
	}
	if v = adjust(m{"grams": "100"}); v.Findings[0].Level != "care" || !strings.Contains(v.Findings[0].Says, "more than the trial") {
		t.Errorf("100 g are more than it says: %s", pretty(v.Findings))
	}
	w.do("batch.adjust", m{"batch": b, "grams": "68.4", "lot": acid}, "entry")
	rec := view[BatchView](w, "batch", m{"key": b})
	last := rec.WentIn[len(rec.WentIn)-1]
	if last.Line != "+citric-acid" || last.Actual != "13.68 g" || last.Lots[0].Code != "C-1" || rec.WentIn[0].Actual != "474.72 g" {
		t.Fatalf("acid and its water: %s", pretty(rec.WentIn))
	}
	if f := findingOf(rec, "not in the formula"); !strings.Contains(f.Says, "citric acid") {
		t.Errorf("release does not hear of it: %s", pretty(rec.Findings))
	}
	if f := view[RescueView](w, "rescue", m{"batch": b}); f.Says != "" {
		t.Errorf("what was meant is called too much: %s", f.Says)
	}
	row := rec.Rows[4]
	if row.What != "trial" || row.Value != "6.4 → 4.7" || !strings.Contains(row.Detail, "1.5 g pH 4.7") || !strings.Contains(row.Detail, "sample of 50 g") {
		t.Errorf("the trial on the record: %s", pretty(row))
	}
	w.refused("correct", m{"entry": row.Entry, "value": "x", "reason": "y"}, "not corrected", "entry")
	if v = adjust(m{}); v.Stage != "measure" || v.Add != "" {
		t.Fatalf("after the first part: %s", pretty(v))
	}
	read("5.2")
	if v = adjust(m{}); v.Stage != "add" || v.Add != "26.5" || bench().PH == "" {
		t.Fatalf("the rest: %s", pretty(v))
	}
	w.do("batch.adjust", m{"batch": b, "grams": "26.5", "lot": acid}, "entry")
	read("4.8")
	if v = adjust(m{}); v.Stage != "done" || !strings.Contains(v.Says, "add no more") || bench().PH != "" {
		t.Fatalf("where it should be: %s", pretty(v))
	}
	if v = adjust(m{"fresh": true, "ingredient": "naoh-10"}); v.Stage != "trial" || v.Strength != "100" {
		t.Errorf("a new trial with what comes dissolved: %s", pretty(v))
	}
	w.do("batch.fill", m{"batch": b, "jars": "24"}, "entry")
	if card := w.s.PublicJars(b)[0].Card; !strings.Contains(card.Ingredients, "Citric Acid") {
		t.Errorf("the list is not of what went in: %s", card.Ingredients)
	}
	w.refused("batch.adjust", m{"batch": b, "grams": "1"}, "filled", "batch")
}

func TestATrialIsRefusedWhole(t *testing.T) {
	w := newWorld(t)
	b := w.cleanser()
	w.refused("batch.adjust", m{"batch": b, "grams": "5"}, "no trial", "batch")
	whole := m{"batch": b, "ingredient": "citric-acid", "strength": "20", "sample": "50", "pot": "2950", "low": "4.5", "high": "5", "points": []m{point("0", "6.4"), point("1", "4.6")}}
	for _, c := range []struct {
		change      m
		code, field string
	}{
		{m{"ingredient": "q"}, "ingredient missing", "ingredient"},
		{m{"strength": ""}, "misread", "strength"},
		{m{"strength": "0"}, "misread", "strength"},
		{m{"sample": "-"}, "misread", "sample"},
		{m{"sample": "1600"}, "too heavy", "sample"},
		{m{"low": "5.5"}, "upside down", "low"},
		{m{"high": "99"}, "misread", "high"},
		{m{"points": []m{point("0", "6.4")}}, "misread", "points"},
		{m{"points": []m{point("0", "6.4"), point("1", "4.9"), point("2", "5.8")}}, "misread", "points[2].ph"},
		{m{"points": []m{point("0", "6.4"), point("x", "4.9")}}, "misread", "added"},
	} {
		args := m{}
		for k, v := range whole {
			args[k] = v
		}
		for k, v := range c.change {
			args[k] = v
		}
		w.refused("batch.trial", args, c.code, c.field)
	}
	w.do("batch.trial", whole, "entry")
	w.refused("batch.adjust", m{"batch": b, "grams": "5000"}, "too heavy", "grams")
	w.refused("batch.adjust", m{"batch": b, "grams": "0"}, "misread", "grams")
	if n := len(view[BatchView](w, "batch", m{"key": b}).Rows); n != 4 {
		t.Errorf("%d rows", n)
	}
}

// What the bench says is gone in is what was typed, to the milligram, however weak the solution; what holds no milligram of the acid is refused.
func TestAWeakSolutionLosesNothing(t *testing.T) {
	for _, c := range []struct{ strength, typed, acid, water string }{
		{"1", "5.05", "0.051", "4.999"}, // 50.5 mg
		{"1", "0.1", "0.001", "0.099"},
		{"1", "0.05", "", ""}, // half a milligram
		{"1", "0.099", "", ""},
		{"0.3", "5.05", "0.015", "5.035"}, // 15.15 mg
		{"20", "68.4", "13.68", "54.72"},
	} {
		w := newWorld(t)
		b := w.cleanser()
		w.do("batch.trial", m{"batch": b, "ingredient": "citric-acid", "strength": c.strength, "sample": "50", "pot": "2950", "low": "4.5", "high": "5", "points": []m{point("0", "6.4"), point("1", "4.6")}}, "entry")
		args, before := m{"batch": b, "grams": c.typed}, len(w.log[Workshop])
		if c.acid == "" {
			w.refused("batch.adjust", args, "too little", "grams")
			if len(w.log[Workshop]) != before || w.s.making(b).trying().went != 0 {
				t.Errorf("%v: refused, and something was written", c)
			}
			continue
		}
		entry := w.do("batch.adjust", args, "entry")
		went := w.s.making(b).trying().went
		rows := view[BatchView](w, "batch", m{"key": b}).Rows
		if plain(went, 3) != c.typed {
			t.Errorf("%v: %s g are said to be in", c, plain(went, 3))
		}
		mass := func(g string) int64 { v, _ := readWeighing(g, 0, ""); return v }
		var acid, water int64
		w.s.making(b).b.stands(func(_ *row, body visitable) {
			if x, ok := body.(*BatchWeighed); ok && strings.HasPrefix(x.Why, whyPH) {
				if x.Ingredient == "citric-acid" {
					acid = x.Mass
				} else {
					water = x.Mass
				}
			}
		})
		if acid != mass(c.acid) || water != mass(c.water) {
			t.Errorf("%v: %d mg of acid, %d mg of water; %s", c, acid, water, pretty(rows))
		}
		// A corrected mass of the acid says nothing of the solution: it is worked back.
		w.do("correct", m{"entry": entry, "value": "0.2", "reason": "slip"}, "entry")
		if got := w.s.making(b).trying().went; got != dissolved(200, w.s.making(b).trying().of.Strength) {
			t.Errorf("%v: corrected to 0.2 g, %d mg are said to be in", c, got)
		}
	}
}
