package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// whipped is a formula with a powder that flies, a hot phase and a limit to cool below.
func whipped() calc.Draft {
	d := scrub()
	d.Name = "Whipped"
	d.Lines = append(d.Lines, calc.DraftLine{ID: "s", Phase: "A", Ingredient: "sci-powder", Percent: "20"})
	return d
}

func TestBenchIsALineOfSteps(t *testing.T) {
	w := newWorld(t)
	key := w.do("formula.save", whipped(), "key")
	start := m{"formula": key, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}
	b := w.do("batch.start", start, "key")
	var ids []string
	for _, s := range view[BenchView](w, "bench", m{"key": b}).Steps {
		ids = append(ids, s.ID)
		if s.What == "wear" && (len(s.Wear) == 0 || s.Says == "") {
			t.Errorf("a wear step that says nothing: %s", pretty(s))
		}
	}
	want := "weigh:w weigh:g wear:s weigh:s wear:A heat:A cool:B wear:p weigh:p ph fill"
	if got := strings.Join(ids, " "); got != want {
		t.Fatalf("steps:\n %s\nwant\n %s", got, want)
	}
	now := func(id string) {
		t.Helper()
		v := view[BenchView](w, "bench", m{"key": b})
		got := "the end"
		if v.Now < len(v.Steps) {
			got = v.Steps[v.Now].ID
		}
		if got != id {
			t.Fatalf("the step now is %s, want %s", got, id)
		}
	}
	first := stepOf(t, w, b, "weigh:g")
	if first.Reads != "300.0" || first.Target.Text != "300.0 g" || !strings.Contains(first.Target.Sum, "3,000.0") || first.Before != 0.69 || first.After != 0.79 {
		t.Errorf("glycerin: %s", pretty(first))
	}
	now("weigh:w")
	for _, l := range []string{"w", "g"} {
		w.do("batch.weigh", m{"batch": b, "line": l, "asPlanned": true}, "entry")
	}
	now("wear:s")
	w.do("batch.wear", m{"batch": b, "phase": "A", "line": "s"}, "entry")
	now("weigh:s")
	w.do("batch.weigh", m{"batch": b, "line": "s", "asPlanned": true}, "entry")
	w.do("batch.wear", m{"batch": b, "phase": "A"}, "entry")
	now("heat:A")
	w.do("batch.treated", m{"batch": b, "phase": "A", "says": "warm enough"}, "entry")
	now("heat:A")
	w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "66", "unit": "C"}, "entry")
	now("heat:A")
	if low := stepOf(t, w, b, "heat:A"); low.Actual != "66 °C" || !strings.HasPrefix(low.Says, "not there yet") {
		t.Errorf("a reading below the aim: %s", pretty(low))
	}
	w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "74", "unit": "C"}, "entry")
	now("cool:B")
	w.do("batch.temperature", m{"batch": b, "phase": "B", "value": "104.5", "unit": "F"}, "entry") // 40.3 °C
	now("cool:B")
	w.do("batch.temperature", m{"batch": b, "phase": "B", "value": "104", "unit": "F"}, "entry") // 40.0 °C
	now("wear:p")
	w.do("batch.weigh", m{"batch": b, "line": "p", "asPlanned": true}, "entry")
	now("ph")
	w.do("batch.ph", m{"batch": b, "value": "5,6", "method": "strip"}, "entry")
	now("fill")
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	now("the end")

	next := w.do("batch.start", start, "key")
	for id, says := range map[string]string{"weigh:g": "last time 300.0 g of 300.0 g", "heat:A": "last time 74 °C", "cool:B": "last time 104 °F (40 °C)", "ph": "last time pH 5.6; neat; strip", "fill": "last time 23 jars of 24 planned"} {
		if got := stepOf(t, w, next, id).Last; got != says+" (261112-B1)" {
			t.Errorf("%s: %q", id, got)
		}
	}
	if got := stepOf(t, w, b, "weigh:g").Last; got != "" {
		t.Errorf("the first batch remembers a later one: %q", got)
	}
}

func TestFilledWithoutCoolingIsSaid(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	rules := map[string]bool{}
	for _, f := range view[BatchView](w, "batch", m{"key": b}).Findings {
		rules[f.Rule] = true
	}
	if !rules["not cooled"] || !rules["lot not said"] {
		t.Fatalf("findings: %v", rules)
	}
}

func TestBenchOffersTheLotsOfALine(t *testing.T) {
	w := newWorld(t)
	w.lot("water", "W-1")
	held := w.lot("glycerin", "G-17")
	w.lot("glycerin", "G-18")
	w.do("lot.hold", m{"lot": held, "held": true, "reason": "smell"}, "")
	_, b := w.start()
	lots := stepOf(t, w, b, "weigh:g").Lots
	if len(lots) != 2 || lots[0].Held || !lots[1].Held || lots[0].Says != "5,000.0 g left; use by 30 Nov 2027" {
		t.Fatalf("lots: %s", pretty(lots))
	}
}

func TestIngredientsBestMatchFirst(t *testing.T) {
	w := newWorld(t)
	w.lot("glycerin", "G-17")
	all := view[[]IngredientRow](w, "ingredients", m{"q": ""})
	if len(all) < 20 {
		t.Fatalf("%d ingredients", len(all))
	}
	got := view[[]IngredientRow](w, "ingredients", m{"q": "GLYC"})
	if len(got) < 2 || got[0].Key != "glycerin" || got[0].Lots != 1 || got[0].OnHand != "5,000.0 g" {
		t.Fatalf("for GLYC: %s", pretty(got))
	}
	for word, key := range map[string]string{"phenoxyethanol": "phenoxyethanol-pure", "Phenoxyethanol blend": "phenoxyethanol-ehg", "capb": "betaine-30"} {
		if got := view[[]IngredientRow](w, "ingredients", m{"q": word}); len(got) == 0 || got[0].Key != key {
			t.Errorf("%s finds %+v first, want %s", word, got, key)
		}
	}
	if got := view[[]IngredientRow](w, "ingredients", m{"q": "zzz"}); len(got) != 0 {
		t.Fatalf("for zzz: %s", pretty(got))
	}
}
