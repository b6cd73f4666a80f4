package book

import (
	"slices"
	"strings"
	"testing"

	"stillroom/calc"
)

// twoPots is an emulsion: water phase and fat phase are heated side by side, and a cool phase follows.
func twoPots() calc.Draft {
	d := scrub()
	d.Name = "Two pots"
	d.Phases = []calc.DraftPhase{{Letter: "A", Treatment: calc.DraftTreatment{Do: "heat", To: "75 C"}}, {Letter: "B", Treatment: calc.DraftTreatment{Do: "melt", To: "158 F"}},
		{Letter: "C", Treatment: calc.DraftTreatment{Do: "cool", To: "40 C"}}}
	d.Lines[2].Phase = "C"
	d.Lines = append(d.Lines, calc.DraftLine{ID: "s", Phase: "B", Ingredient: "stearic-50", Percent: "8"})
	return d
}

func (w *world) startTwoPots(change func(*calc.Draft)) string {
	w.t.Helper()
	d := twoPots()
	if change != nil {
		change(&d)
	}
	key := w.do("formula.save", d, "key")
	return w.do("batch.start", m{"formula": key, "purpose": "trial", "jars": "10", "fill": "100", "step": "0.1"}, "key")
}

func stepsOf(w *world, batch string) (ids []string, now string) {
	v := view[BenchView](w, "bench", m{"key": batch})
	for _, s := range v.Steps {
		if s.What != "wear" {
			ids = append(ids, s.ID)
		}
	}
	now = "the end"
	if v.Now < len(v.Steps) {
		now = v.Steps[v.Now].ID
	}
	return ids, now
}

func TestTwoPotsStandSideBySideUntilCombined(t *testing.T) {
	w := newWorld(t)
	b := w.startTwoPots(nil)
	ids, _ := stepsOf(w, b)
	if got, want := strings.Join(ids, " "), "weigh:w weigh:g weigh:s heat:A melt:B combine:B cool:C weigh:p ph fill"; got != want {
		t.Fatalf("steps:\n %s\nwant\n %s", got, want)
	}
	pots := func() []Pot { return view[BenchView](w, "bench", m{"key": b}).Pots }
	if p := pots(); len(p) != 2 || p[0].Name != "pot A" || p[1].Aim != "158 °F (70 °C)" || p[0].Ready || p[0].Temperature != "" || !slices.Equal(p[1].Phases, []string{"B"}) {
		t.Fatalf("pots: %s", pretty(p))
	}
	for _, l := range []string{"w", "g", "s"} {
		w.do("batch.weigh", m{"batch": b, "line": l, "asPlanned": true}, "entry")
	}
	wearAll(w, b)
	for _, c := range []struct {
		phase, value string
		ready        bool
		says         string
	}{
		{"A", "71.9", false, "too cold to combine; in range from 72 °C to 85 °C"},
		{"A", "72", true, "in range, 72 °C to 85 °C"},
		{"A", "85", true, "in range, 72 °C to 85 °C"},
		{"A", "85.1", false, "too hot to combine; in range from 72 °C to 85 °C"},
		{"B", "152.5 F", false, "too cold to combine; in range from 152.6 °F to 176 °F"},
		{"B", "152.6 F", true, "in range, 152.6 °F to 176 °F"},
	} {
		w.do("batch.temperature", m{"batch": b, "phase": c.phase, "value": c.value}, "entry")
		p := pots()[map[string]int{"A": 0, "B": 1}[c.phase]]
		if p.Ready != c.ready || p.Says != c.says || p.Temperature == "" {
			t.Errorf("%s in pot %s: %s", c.value, c.phase, pretty(p))
		}
	}
	if _, now := stepsOf(w, b); now != "combine:B" {
		t.Fatalf("both were heated, and the step now is %s", now)
	}
	no := w.refused("batch.treated", m{"batch": b, "phase": "B", "do": "combine"}, "not ready", "phase")
	if !strings.Contains(no.Says, "pot A 85.1 °C") {
		t.Errorf("it does not name the pot: %s", no.Says)
	}
	w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "75"}, "entry")
	entry := w.do("batch.treated", m{"batch": b, "phase": "B", "says": "A into B"}, "entry") // the last pot is hot already, so this is the combining
	if step := stepOf(t, w, b, "combine:B"); !step.Done || step.Entry != entry {
		t.Fatalf("after combining: %s", pretty(step))
	}
	if again := w.do("batch.treated", m{"batch": b, "phase": "A", "do": "combine"}, "entry"); again != entry {
		t.Errorf("a key pressed twice combines twice: %s, %s", entry, again)
	}
	if p := pots(); len(p) != 0 {
		t.Errorf("combined pots still stand: %s", pretty(p))
	}
	rows := view[BatchView](w, "batch", m{"key": b}).Rows
	if last := rows[len(rows)-1]; last.Title != "Pots combined" || last.Detail != "A into B" {
		t.Errorf("the row: %s", pretty(last))
	}
	next := w.do("batch.start", m{"formula": view[BatchView](w, "batch", m{"key": b}).Formula, "purpose": "trial", "jars": "10", "fill": "100", "step": "0.1"}, "key")
	if got := stepOf(t, w, next, "combine:B").Last; got != "last time combined; A into B (261112-B1)" {
		t.Errorf("last time: %q", got)
	}
}

func wearAll(w *world, batch string) {
	for _, s := range view[BenchView](w, "bench", m{"key": batch}).Steps {
		if s.What == "wear" && !s.Done {
			w.do("batch.wear", m{"batch": batch, "phase": s.Phase, "line": s.Line}, "entry")
		}
	}
}

func TestOnePotHasNothingToCombine(t *testing.T) {
	for name, change := range map[string]func(*calc.Draft){
		"the second phase is not heated":     func(d *calc.Draft) { d.Phases[1].Treatment = calc.DraftTreatment{Do: "mix"} },
		"nothing stands in the second pot":   func(d *calc.Draft) { d.Lines[3].Phase = "A" },
		"nothing follows that is not heated": func(d *calc.Draft) { d.Phases = d.Phases[:2]; d.Lines[2].Phase = "B" },
		"what follows comes between the two": func(d *calc.Draft) { d.Phases[1], d.Phases[2] = d.Phases[2], d.Phases[1] },
	} {
		t.Run(name, func(t *testing.T) {
			w := newWorld(t)
			b := w.startTwoPots(change)
			ids, _ := stepsOf(w, b)
			if slices.ContainsFunc(ids, func(s string) bool { return strings.HasPrefix(s, "combine") }) || len(view[BenchView](w, "bench", m{"key": b}).Pots) != 0 {
				t.Fatalf("steps: %v", ids)
			}
			w.refused("batch.treated", m{"batch": b, "phase": "A", "do": "combine"}, "nothing to combine", "phase")
		})
	}
}

// Books from before pots stood side by side hold no row that says combined: the bench must not go back to it.
func TestABatchThatWentOnIsNotSentBack(t *testing.T) {
	w := newWorld(t)
	b := w.startTwoPots(nil)
	w.weighAll(b)
	step := stepOf(t, w, b, "combine:B")
	if !step.Done || step.Entry != "" || step.Says != "not written down; the batch went on" || len(view[BenchView](w, "bench", m{"key": b}).Pots) != 0 {
		t.Fatalf("after phase C was weighed: %s", pretty(step))
	}
}

// A pot without an aim is closed by saying that it is done, and is ready with any temperature that was measured.
func TestAPotWithoutAnAim(t *testing.T) {
	w := newWorld(t)
	b := w.startTwoPots(func(d *calc.Draft) { d.Phases[1].Treatment.To = "" })
	w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "75"}, "entry")
	w.do("batch.treated", m{"batch": b, "phase": "B"}, "entry")
	if s := stepOf(t, w, b, "treat:B"); !s.Done {
		t.Fatalf("said to be done: %s", pretty(s))
	}
	w.refused("batch.treated", m{"batch": b, "phase": "B"}, "not ready", "phase")
	w.do("batch.temperature", m{"batch": b, "phase": "B", "value": "68"}, "entry")
	w.do("batch.treated", m{"batch": b, "phase": "B"}, "entry")
	if s := stepOf(t, w, b, "combine:B"); !s.Done || s.Entry == "" {
		t.Fatalf("combined: %s", pretty(s))
	}
}

// A formula may name the pot of each phase: two phases in one are one pot.
func TestPhasesShareANamedPot(t *testing.T) {
	w := newWorld(t)
	b := w.startTwoPots(nil)
	mk := w.s.making(b)
	for i, name := range []string{"bath", "bath", ""} {
		mk.rev.Phases[i].Pot = name
	}
	if g := mk.groups(); len(g) != 0 {
		t.Fatalf("one pot stands beside itself: %+v", g)
	}
	mk.rev.Phases[1].Pot = "bowl"
	if g := mk.groups(); len(g) != 1 || g[0].pots[0].name != "bath" || g[0].pots[1].name != "bowl" || g[0].last() != "B" {
		t.Fatalf("groups: %+v", g)
	}
}

func TestLotsNearestExpiryFirst(t *testing.T) {
	w := newWorld(t)
	lot := func(code, grams, expiry string) string {
		return w.do("lot.receive", m{"ingredient": "glycerin", "code": code, "grams": grams, "expiry": expiry}, "key")
	}
	lot("undated-old", "5000", "")
	lot("late", "5000", "2028-01-31")
	low := lot("low", "12", "2027-01-31")
	empty := lot("empty", "300", "2026-12-31")
	lot("soon", "5000", "2027-03-31")
	lot("soon-later", "5000", "2027-03-31")
	lot("undated-new", "5000", "")
	lot("past", "5000", "2026-11-01")
	held := lot("held", "5000", "2026-11-30")
	w.do("lot.hold", m{"lot": held, "held": true, "reason": "smell"}, "")
	_, first := w.start()
	w.do("batch.weigh", m{"batch": first, "line": "g", "lot": empty, "grams": "300"}, "entry")
	b := w.do("batch.start", m{"formula": view[[]FormulaRow](w, "formulas", nil)[0].Key, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}, "key")
	lots := stepOf(t, w, b, "weigh:g").Lots
	var codes []string
	says := map[string]string{}
	for _, l := range lots {
		codes = append(codes, l.Code)
		says[l.Code] = l.Says
	}
	if got, want := strings.Join(codes, " "), "past low soon soon-later late undated-old undated-new empty held"; got != want {
		t.Fatalf("order:\n %s\nwant\n %s", got, want)
	}
	for code, want := range map[string]string{
		"low":   "lot low has 12.0 g left; this line needs 300.0 g: weigh what is there, then take another lot; use by 31 Jan 2027",
		"past":  "5,000.0 g left; use by 1 Nov 2026; past its date",
		"held":  "held: smell; 5,000.0 g left; use by 30 Nov 2026",
		"empty": "0.0 g left; use by 31 Dec 2026; empty by the book; if there is some, weigh it and count the lot",
	} {
		if says[code] != want {
			t.Errorf("%s: %q", code, says[code])
		}
	}
	// The book does not know better than the scale: what was weighed is written down, whatever the book says is left.
	w.do("batch.weigh", m{"batch": b, "line": "g", "lot": low, "grams": "12.4", "more": true}, "entry")
	if got := stepOf(t, w, b, "weigh:g"); got.ToGo != "287.6 g" {
		t.Errorf("after what was there: %s", pretty(got))
	}
}
