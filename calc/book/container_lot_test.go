package book

import (
	"slices"
	"strings"
	"testing"
)

func TestAHeldLotOfContainersHoldsWhatMayBeFilledIntoThem(t *testing.T) {
	w := newWorld(t)
	tin := w.do("container.define", m{"name": "Glass jar", "word": "jar", "brimful": "150", "count": "100"}, "key")
	f := w.do("formula.save", scrub(), "key")
	start := func() string {
		b := w.do("batch.start", m{"formula": f, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1", "container": tin}, "key")
		w.weighAll(b)
		w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
		w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
		return b
	}
	b, other := start(), w.jars()
	lot := view[[]LotRow](w, "lots", nil)[0]
	l := view[LotView](w, "lot", m{"key": lot.Key})
	if len(l.Batches) != 1 || l.Batches[0].Batch.Key != b || len(l.Jars) != 23 || !strings.Contains(l.Batches[0].Grams, "may be") {
		t.Fatalf("what a lot of jars went into: %s", pretty(l))
	}
	w.do("lot.hold", m{"lot": lot.Key, "held": true, "reason": "splinters at the rim"}, "")
	if row := view[BatchView](w, "batch", m{"key": b}).Row; row.State != Held || !strings.Contains(row.Says, lot.Code) {
		t.Fatalf("the batch: %s", pretty(row))
	}
	w.refused("jars.move", m{"batch": b, "from": "home", "to": "stall", "count": "1"}, "not released", "batch")
	if state := view[BatchView](w, "batch", m{"key": other}).Row.State; state != Released {
		t.Fatalf("a batch in no such jar is %s", state)
	}
	// What is filled while these are held is filled into others.
	if state := view[BatchView](w, "batch", m{"key": start()}).Row.State; state != Released {
		t.Fatalf("a batch filled after the hold is %s", state)
	}
	w.do("lot.hold", m{"lot": lot.Key, "held": false, "reason": "looked through"}, "")
	w.out(b, "1")
}

// What was filled into doubtful jars is received as a base, goes into another batch, and that into a third: the hold goes
// with it, whatever those are filled into.
func TestAHeldLotOfContainersReachesThroughMadeBases(t *testing.T) {
	w := newWorld(t)
	tin := w.do("container.define", m{"name": "Glass jar", "word": "jar", "brimful": "150", "count": "100"}, "key")
	f := w.do("formula.save", scrub(), "key")
	first := w.do("batch.start", m{"formula": f, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1", "container": tin}, "key")
	w.weighAll(first)
	w.do("batch.fill", m{"batch": first, "jars": "23"}, "entry")
	chain := []string{first}
	for _, name := range []string{"With base", "With base of base", "And once more"} {
		before := view[BatchView](w, "batch", m{"key": chain[len(chain)-1]})
		made := w.do("lot.receive", m{"ingredient": before.Formula, "code": before.Row.Code, "grams": "1000"}, "key")
		d := scrub()
		d.Name = name
		d.Lines[1].Ingredient, d.Lines[1].Base, d.Lines[1].Percent = "", before.Formula, "30"
		key := w.do("formula.save", d, "key")
		b := w.do("batch.start", m{"formula": key, "purpose": "sale", "jars": "5", "fill": "100", "step": "0.1"}, "key")
		w.weighAllFrom(b, made)
		w.do("batch.fill", m{"batch": b, "jars": "5"}, "entry")
		chain = append(chain, b)
	}
	i := slices.IndexFunc(view[[]LotRow](w, "lots", nil), func(l LotRow) bool { return l.Ingredient == tin })
	lot := view[[]LotRow](w, "lots", nil)[i]
	l := view[LotView](w, "lot", m{"key": lot.Key})
	var reached, how []string
	for _, b := range l.Batches {
		reached, how = append(reached, b.Batch.Key), append(how, b.Grams)
	}
	if !slices.Equal(reached, chain) || how[0] != "may be filled into these" || how[3] != "by way of a made base" {
		t.Fatalf("it reaches %v %q, want %v", reached, how, chain)
	}
	w.do("lot.hold", m{"lot": lot.Key, "held": true, "reason": "splinters at the rim"}, "")
	for _, b := range chain {
		if row := view[BatchView](w, "batch", m{"key": b}).Row; row.State != Held || !strings.Contains(row.Says, lot.Code) {
			t.Errorf("batch %s: %s", b, pretty(row))
		}
	}
	if again := w.s.Missing(w.ctx); again != nil {
		t.Errorf("the shelf was not told of %d of them", len(again))
	}
}

func TestTheCodeOfALotIsOfferedOnce(t *testing.T) {
	w := newWorld(t)
	w.do("lot.receive", m{"ingredient": "glycerin", "grams": "100"}, "key")
	w.do("container.define", m{"name": "Glass jar", "word": "jar", "count": "10"}, "key")
	w.do("lot.receive", m{"ingredient": "glycerin", "grams": "100"}, "key")
	codes := ""
	for _, l := range view[[]LotRow](w, "lots", nil) {
		codes += l.Code + " "
	}
	if codes != "G-3 G-2 G-1 " {
		t.Fatalf("codes of tubs and boxes: %s", codes)
	}
}
