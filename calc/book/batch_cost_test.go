package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

func TestAJarCostsWhatItsLotsCost(t *testing.T) {
	w := newWorld(t)
	first := w.lot("glycerin", "G-17") // 5 kg for 12.50
	w.do("lot.receive", m{"ingredient": "glycerin", "code": "G-18", "grams": "5000", "cost": "37,50"}, "key")
	free := w.do("lot.receive", m{"ingredient": "phenoxyethanol-ehg", "code": "P-1", "grams": "500"}, "key")
	_, b := w.start()
	if v := view[BatchCost](w, "cost", m{"key": b}); v.Says != "" || v.Jar.Text != "" {
		t.Errorf("before it is filled: %s", pretty(v))
	}
	w.do("batch.weigh", m{"batch": b, "line": "w", "asPlanned": true}, "entry")
	w.do("batch.weigh", m{"batch": b, "line": "g", "lot": first, "asPlanned": true}, "entry")
	w.do("batch.weigh", m{"batch": b, "line": "p", "lot": free, "asPlanned": true}, "entry")
	w.do("batch.fill", m{"batch": b, "jars": "24"}, "entry")
	v := view[BatchCost](w, "cost", m{"key": b})
	// 50.00 for 10 kg is 0.50 for 100 g, by the moving average: 300 g are 1.50, and of 24 jars each 0.0625.
	if v.All.Text != "1.50 EUR" && v.All.Text != "1.50" || !strings.HasPrefix(v.Jar.Text, "0.063") || !strings.Contains(v.Jar.Sum, "1.5000 ÷ 24 jars") || v.Rows[0].Cost.Text != "1.50" || !strings.Contains(v.Rows[0].Cost.Sum, "0.5000 for 100 g") {
		t.Errorf("cost: %s", pretty(v))
	}
	said := strings.Join(v.Unchecked, "\n")
	for _, want := range []string{"no lot was said", "lot P-1 has no cost", "not counted: jars and lids"} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %s, in\n%s", want, said)
		}
	}
}

// Nothing that leaves the workshop may hold a cost.
func TestACostStaysInTheWorkshop(t *testing.T) {
	for _, kind := range []uint32{KindCardPublished, KindJarsMinted, KindBatchBarred} {
		for _, body := range samples()[kind] {
			if b, err := encode(body); err != nil || strings.Contains(strings.ToLower(pretty(body)), "cost") {
				t.Errorf("kind %d holds a cost: %s %v %v", kind, pretty(body), b, err)
			}
		}
	}
	for name, reads := range map[string][]string{"stall": Reads("stall")} {
		for _, stream := range reads {
			if stream == Workshop {
				t.Errorf("the role %s reads the workshop, where costs are", name)
			}
		}
	}
}

func TestPotsSayHowWarmTheyWillBeTogether(t *testing.T) {
	w := newWorld(t)
	f := scrub()
	f.Phases[1].Treatment.Do, f.Phases[1].Treatment.To = "melt", "75 C"
	f.Phases = append(f.Phases, calc.DraftPhase{Letter: "C", Treatment: calc.DraftTreatment{Do: "cool", To: "40 C"}})
	f.Lines[2].Phase = "C"
	f.Lines = append(f.Lines, f.Lines[1])
	f.Lines[3].ID, f.Lines[3].Phase, f.Lines[3].Ingredient, f.Lines[3].Percent = "s", "B", "stearic-50", "10"
	b := w.do("batch.start", m{"formula": w.do("formula.save", f, "key"), "purpose": "trial", "jars": "2", "fill": "100", "step": "0.1"}, "key")
	for _, l := range []string{"w", "g", "p", "s"} {
		w.do("batch.weigh", m{"batch": b, "line": l, "asPlanned": true}, "entry")
	}
	ask := m{"batch": b, "phase": "B"}
	w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "75"}, "entry")
	if v := view[Combining](w, "combining", ask); v.Says != "" {
		t.Errorf("one pot was not read: %s", pretty(v))
	}
	w.do("batch.temperature", m{"batch": b, "phase": "B", "value": "74"}, "entry")
	if v := view[Combining](w, "combining", ask); !strings.Contains(v.Says, "Together they come to about 74") && !strings.Contains(v.Says, "about 75") || len(v.Findings) != 0 {
		t.Errorf("both warm: %s", pretty(v))
	}
	w.do("batch.temperature", m{"batch": b, "phase": "A", "value": "50"}, "entry")
	if v := view[Combining](w, "combining", ask); len(v.Findings) != 1 || v.Findings[0].Level != "care" || !strings.Contains(v.Findings[0].Says, "set in lumps") {
		t.Errorf("a cold pot: %s", pretty(v))
	}
}
