package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

func TestAnAimOffersWhatTheFormulaHasAndAsksNothingByItself(t *testing.T) {
	w := newWorld(t)
	v := view[AimView](w, "aim", m{"draft": wash()})
	if v.Asked || len(v.Take) != 0 {
		t.Fatalf("nothing was asked, and it answers %+v", v)
	}
	for _, o := range v.Offers {
		if o.What == "active matter" && o.Now != "11.20" || o.What == "cost" || o.What == "hlb" {
			t.Errorf("offer %+v", o) // 6 + 5.2; no prices, no emulsifier
		}
	}
	if !strings.Contains(v.Cost, "glycerin") || strings.Contains(v.Cost, "water,") {
		t.Errorf("what has no price: %s", v.Cost)
	}
	for _, l := range v.Lines {
		if l.Stays != (l.Line == "p") {
			t.Errorf("%s stays: %v", l.Name, l.Stays)
		}
	}
}

func TestAnAimIsMetOrSaysByHowMuchItFails(t *testing.T) {
	w := newWorld(t)
	v := view[AimView](w, "aim", m{"draft": wash(), "targets": []m{{"what": "active matter", "low": "14", "high": "15"}, {"what": "oil", "low": "", "high": ""}}})
	if !v.Met || len(v.Targets) != 1 || v.Targets[0].After != "14.00" || v.Targets[0].Missed != "" {
		t.Fatalf("%+v", v.Targets)
	}
	d := wash()
	d.Lines = v.Take
	again := view[AimView](w, "aim", m{"draft": d})
	if again.Offers[0].Now != "14.00" {
		t.Errorf("taken, it has %s", again.Offers[0].Now)
	}
	said := false
	for _, n := range v.Notes {
		said = said || strings.Contains(n.Says, "texture and keeping are not among these figures: make 100 g")
	}
	if !said {
		t.Error("it does not say what is not among its figures")
	}
	not := view[AimView](w, "aim", m{"draft": wash(), "targets": []m{{"what": "active matter", "low": "20"}}, "fixed": []string{"b", "d", "p"}})
	if not.Met || not.Targets[0].Missed != "missed by 8.80" {
		t.Errorf("what cannot be met: %+v", not.Targets)
	}
	_, no := w.s.View(w.ctx, "aim", []byte(pretty(m{"draft": wash(), "targets": []m{{"what": "water", "low": "60", "high": "50"}}})))
	if no == nil || no.Field != "water-low" || no.Hint == "" {
		t.Errorf("upside down: %+v", no)
	}
}

// 5,000 g of each cost 12.50: 0.25 for 100 g. 24 jars of 120 g with 4 % loss are 3,000 g.
func TestAnAimKnowsPricesAndTheShelf(t *testing.T) {
	w := newWorld(t)
	w.lot("betaine-30", "B1")
	w.lot("decyl-glucoside", "D1")
	w.lot("phenoxyethanol-ehg", "P1")
	w.do("lot.receive", m{"ingredient": "glycerin", "code": "G1", "supplier": "Tern & Daughter", "supplierLot": "7", "grams": "60", "expiry": "2027-11-30", "cost": "0.60"}, "key")
	v := view[AimView](w, "aim", m{"draft": wash(), "shelf": true, "targets": []m{{"what": "cost", "high": "0.08"}}})
	cost := ""
	for _, o := range v.Offers {
		if o.What == "cost" {
			cost = o.Now // 31 % at 0.25 and 3 % at 1.00, water for nothing: 0.0775 + 0.03
		}
	}
	if cost != "0.11" || !v.Met {
		t.Errorf("it costs %q; met %v %+v", cost, v.Met, v.Targets)
	}
	if g := v.Beside[3]; g.AfterPercent > "2.00" || !strings.Contains(v.Shelf, "water, distilled") {
		t.Errorf("60 g of glycerin are 2 %% of 3,000 g: %+v; %s", g, v.Shelf)
	}
}

func TestHowMuchCanBeMade(t *testing.T) {
	w := newWorld(t)
	none := view[AmountsView](w, "amounts", m{"draft": wash()})
	if none.Stock.Jars != "" || !strings.Contains(none.Stock.Says, "Nothing of this formula is on the shelf") || none.Vessel.Jars != "" {
		t.Fatalf("an empty shelf: %+v", none)
	}
	key := w.lot("betaine-30", "B1")
	v := view[AmountsView](w, "amounts", m{"draft": wash(), "vessel": "4 L", "density": "0,70"})
	// 5,000 g are 20 % of 25,000 g; 24,000 g reach jars of 120 g
	if v.Stock.Jars != "200" || !strings.Contains(v.Stock.Says, "runs out first") || !strings.Contains(v.Stock.Not, "glycerin") {
		t.Errorf("stock: %+v", v.Stock)
	}
	if v.Vessel.Jars != "22" || !strings.Contains(v.Vessel.Mass.Sum, "2,800.0 g at most") {
		t.Errorf("vessel: %+v", v.Vessel)
	}
	w.do("lot.hold", m{"lot": key, "held": true, "reason": "smells"}, "")
	if held := view[AmountsView](w, "amounts", m{"draft": wash()}); held.Stock.Jars != "" || !strings.Contains(held.Stock.Says, "not one jar") {
		t.Errorf("a held lot is not there: %+v", held.Stock)
	}
	if unknown := view[AmountsView](w, "amounts", m{"draft": wash(), "vessel": "4000"}); unknown.Vessel.Jars != "" || !strings.Contains(unknown.Vessel.Says, "density is not known") {
		t.Errorf("a density was guessed: %+v", unknown.Vessel)
	}
}

func TestABatchHasItsReadingsOnItsRuler(t *testing.T) {
	w := newWorld(t)
	b := w.cleanser()
	for _, pH := range []string{"7", "6.4", "5.6", "4.8"} {
		w.do("batch.ph", m{"batch": b, "value": pH, "method": "meter"}, "entry")
	}
	v := view[RulerView](w, "ruler", m{"batch": b})
	if len(v.Notches) != onTheRuler || v.Notches[0].Text != "6.4" || v.Notches[0].Inside || v.Notches[2].Text != "4.8" || !v.Notches[2].Inside {
		t.Fatalf("its readings, the newest last: %s", pretty(v.Notches))
	}
	if len(v.Phases) != len(v.Bars) || v.Phases[0] != "B" || v.Phases[len(v.Bars)-1] != "" {
		t.Errorf("phases %v of %d bars", v.Phases, len(v.Bars))
	}
}

func TestTheRulerShowsTheLastReadings(t *testing.T) {
	s, _ := demo(t)
	w := &world{t: t, s: s, ctx: Context{Device: device(1), Letter: "B", Role: Owner, Now: noon}}
	read := 0
	for _, f := range view[[]FormulaRow](w, "formulas", nil) {
		d := view[FormulaView](w, "formula", m{"key": f.Key}).Draft
		v := view[RulerView](w, "ruler", m{"draft": d})
		if v.Start >= len(v.Stops) || len(v.Ticks) != 8 || len(v.Notches) > onTheRuler {
			t.Errorf("%s: start %d of %d stops, %d ticks, %d notches", f.Name, v.Start, len(v.Stops), len(v.Ticks), len(v.Notches))
		}
		if read += len(v.Notches); len(v.Notches) > 0 && v.Notches[0].Method == "" {
			t.Errorf("%s: a notch of no batch", f.Name)
		}
	}
	if read == 0 {
		t.Error("no batch of the demo has a pH on the ruler")
	}
	half := wash()
	half.Lines[2].Percent = "not a figure"
	if v := view[RulerView](newWorld(t), "ruler", m{"draft": half}); len(v.Bars) == 0 {
		t.Error("a line that cannot be read takes the ruler away")
	}
	if v := view[RulerView](newWorld(t), "ruler", m{"draft": calc.Draft{}}); v.Overlap.Open || v.Overlap.Says == "" {
		t.Errorf("an empty sheet: %+v", v.Overlap)
	}
}
