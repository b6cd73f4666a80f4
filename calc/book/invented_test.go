package book

import (
	"encoding/json"
	"strings"
	"testing"

	"stillroom/sync"
)

// demoWorld is a maker's phone before the demo, and a released batch of the demo with jars at the stall and at home.
func demoWorld(t *testing.T) (w *world, batch string) {
	t.Helper()
	w = newWorld(t)
	w.s, _ = demo(t)
	for _, x := range view[PlacesView](w, "places", nil).Standings {
		if x.Place == "home" && x.State == Released && x.Count > 1 {
			batch = x.Batch
		}
	}
	if batch == "" {
		t.Fatal("no released jar of the demo stands at home")
	}
	return w, batch
}

func TestJarsOfTheDemoStayAmongThemselves(t *testing.T) {
	w, b := demoWorld(t)
	product := w.s.minted.get(b).body.Product
	code := w.s.PublicJars(b)[0].Code
	tiles := 0
	for _, tile := range view[StallView](w, "stall", nil).Tiles {
		if tile.Left == "0" {
			continue
		}
		tiles++
		if tile.CanSell || tile.Barred != notForSale || len(tile.Batches) == 0 || tile.Batches[0].Barred != notForSale {
			t.Errorf("a tile of the demo: %s", pretty(tile))
		}
		w.refused("stall.sell", m{"product": tile.Product}, "demo", "batch")
		w.refused("stall.sell", m{"product": tile.Product, "price": "given"}, "demo", "batch")
	}
	if tiles == 0 {
		t.Fatal("the demo has no jar at the stall")
	}
	w.refused("stall.sell", m{"product": product, "batch": b, "place": "home"}, "demo", "batch")
	w.refused("stall.sell", m{"batch": b, "place": "home", "price": "given"}, "demo", "batch")
	w.refused("stall.sell", m{"jar": code, "place": "home"}, "demo", "batch")
	for _, to := range []string{"sold", "given", "stall", "Quay Corner shop (invented)"} {
		w.refused("jars.move", m{"batch": b, "from": "home", "to": to, "count": "1"}, "demo", "batch")
	}
	if v := view[BatchView](w, "batch", m{"key": b}); v.Barred != notForSale || v.CanGive {
		t.Errorf("the batch: barred %q, given %v", v.Barred, v.CanGive)
	}
	for _, x := range view[PlacesView](w, "places", nil).Standings {
		if x.Barred != notForSale {
			t.Errorf("a standing of the demo: %s", pretty(x))
		}
	}
	// What the demo is for: they may be moved about at home and counted.
	w.do("jars.move", m{"batch": b, "from": "home", "to": "Crate 1", "count": "1"}, "entry")
	w.do("jars.count", m{"place": "home", "batch": b, "count": "0"}, "entry")
}

// A phone of the stall sees the shelf alone, and knows the demo all the same.
func TestTheShelfAloneKnowsTheDemo(t *testing.T) {
	_, out := demo(t)
	s := New()
	for _, e := range out {
		if e.Stream == Shelf {
			s.Apply(Shelf, device(9), &sync.Envelope{}, e.Entry)
		}
	}
	w := newWorld(t)
	w.s, w.ctx.Role = s, Stall
	barred := 0
	for _, tile := range view[StallView](w, "stall", nil).Tiles {
		if tile.Left != "0" && tile.Barred == notForSale {
			w.refused("stall.sell", m{"product": tile.Product}, "demo", "batch")
			barred++
		}
	}
	if barred == 0 {
		t.Fatal("the stall sees no jar of the demo as one")
	}
}

func TestABatchOfTheDemoThatAMakerFillsStaysTheDemos(t *testing.T) {
	w, _ := demoWorld(t)
	making := view[TodayView](w, "today", nil).Making[0].Key
	for _, step := range view[BenchView](w, "bench", m{"key": making}).Steps {
		if step.What == "weigh" && !step.Done {
			w.do("batch.weigh", m{"batch": making, "line": step.Line, "lot": "", "asPlanned": true}, "entry")
		}
	}
	w.do("batch.fill", m{"batch": making, "jars": "5"}, "entry")
	w.do("batch.release", m{"batch": making, "by": "Imke"}, "")
	w.refused("stall.sell", m{"batch": making, "place": "home"}, "demo", "batch")
	if jars := w.s.PublicJars(making); len(jars) != 5 || !jars[0].Demo {
		t.Fatalf("jars of an invented batch: %s", pretty(jars))
	}
	w.do("demo.remove", m{}, "")
	if jars := w.s.PublicJars(making); len(jars) != 0 || w.s.cards.get(making) != nil || w.s.bars.get(making) != nil {
		t.Fatal("jars of an invented batch outlast the demo")
	}
	if missing := w.s.Missing(w.ctx); missing != nil {
		t.Fatalf("%d drafts of the removed demo are missing", len(missing))
	}
	// What the maker's device wrote of that batch is the demo's for ever; what it wrote of its own is not.
	own := w.jars()
	for _, stream := range []string{Workshop, Shelf} {
		for _, env := range w.log[stream] {
			e := mustEntry(t, env.Entry)
			var of struct{ Batch, Key string }
			if text, err := Describe(e.Kind, e.V, e.Body); err != nil || json.Unmarshal(text, &of) != nil {
				t.Fatal(err)
			}
			if got := w.s.Invented(stream, env.Device, e); got != (of.Batch == making) {
				t.Errorf("invented %v: %+v; own batch %s", got, of, own)
			}
		}
	}
}

// An entry that removes a demo names a device. Whatever it names, nothing of a maker's goes.
func TestRemovingADemoTakesNothingOfAMakers(t *testing.T) {
	w := newWorld(t)
	b := w.jars()
	w.out(b, "3")
	// The maker's own device says later, by an entry that no command writes, that it invents: too late to be believed.
	mark, _ := encode(&PlaceNamed{Key: "home", Name: "home", What: "home", Demo: true})
	w.write(Draft{Shelf, KindPlaceNamed, 1, mark})
	name, _ := encode(&WorkshopNamed{Maker: "x", Demo: true})
	w.write(Draft{Workshop, KindWorkshopNamed, 1, name})
	before := pretty(view[PlacesView](w, "places", nil)) + pretty(view[[]BatchRow](w, "batches", nil))
	gone, _ := encode(&DemoRemoved{device(1).String()})
	w.arrive(Shelf, device(2), sync.Entry{Seq: 1, At: noon, Kind: KindShelfDemoGone, V: 1, Body: gone}, false)
	w.arrive(Workshop, device(2), sync.Entry{Seq: 1, At: noon, Kind: KindDemoRemoved, V: 1, Body: gone}, false)
	if after := pretty(view[PlacesView](w, "places", nil)) + pretty(view[[]BatchRow](w, "batches", nil)); after != before {
		t.Fatalf("a maker's rows went with a demo:\n%s", after)
	}
	clashes := 0
	for _, c := range w.s.Clashes() {
		if strings.Contains(c.Says, "that device wrote none") {
			clashes++
		}
	}
	if clashes != 2 {
		t.Fatalf("the removals are not shown as clashes: %s", pretty(w.s.Clashes()))
	}
}

func TestATrialIsSoldOnlyOnPurpose(t *testing.T) {
	w := newWorld(t)
	f := w.do("formula.save", scrub(), "key")
	b := w.do("batch.start", m{"formula": f, "purpose": "trial", "jars": "4", "fill": "120", "step": "0.1"}, "key")
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "4"}, "entry")
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	jars := w.s.PublicJars(b)
	if v := view[BatchView](w, "batch", m{"key": b}); !jars[0].Trial() || !v.CanRelease || !v.CanGive || !strings.Contains(v.Barred, "trial: not for sale") || !strings.Contains(v.Row.Says, "not for sale") {
		t.Fatalf("a released trial: %s", pretty(v.Row))
	}
	w.refused("jars.move", m{"batch": b, "from": "home", "to": "stall", "count": "1"}, "trial", "batch")
	w.refused("stall.sell", m{"batch": b, "place": "home"}, "trial", "batch")
	w.do("stall.sell", m{"batch": b, "place": "home", "price": "given"}, "entry")
	w.refused("batch.release", m{"batch": b, "by": "Imke", "sale": " "}, "released", "sale")
	w.do("batch.release", m{"batch": b, "by": "Imke", "sale": "three weeks on the sill and steady"}, "")
	if v := view[BatchView](w, "batch", m{"key": b}); v.CanRelease || v.Barred != "" || w.s.PublicJars(b)[0].Trial() || !strings.Contains(lastRow(w, b).Detail, "for sale: three weeks") {
		t.Fatalf("a trial released for sale: %s", pretty(v.Rows))
	}
	w.refused("batch.release", m{"batch": b, "by": "Imke", "sale": "again"}, "released", "batch")
	w.out(b, "2")
	w.do("stall.sell", m{"product": "Plain rinse"}, "entry")
	// Held and released anew, it is a trial again until someone says otherwise.
	w.do("batch.hold", m{"batch": b, "reason": "smells"}, "")
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	w.refused("stall.sell", m{"product": "Plain rinse"}, "trial", "batch")
	if missing := w.s.Missing(w.ctx); missing != nil {
		t.Fatalf("%d drafts are missing", len(missing))
	}
}

func TestOnlyTheBarredBatchesOfAProductAreBarred(t *testing.T) {
	w := newWorld(t)
	a, b, c := w.jars(), w.jars(), w.jars()
	for _, k := range []string{a, b, c} {
		w.out(k, "2")
	}
	for _, k := range []string{a, b} {
		w.do("batch.hold", m{"batch": k, "reason": "smells"}, "")
	}
	tile := view[StallView](w, "stall", nil).Tiles[0]
	if tile.CanSell || tile.Batches[0].Barred == "" || tile.Batches[1].Barred == "" || tile.Batches[2].Barred != "" {
		t.Fatalf("two of three are held: %s", pretty(tile))
	}
	w.refused("stall.sell", m{"product": "Plain rinse", "batch": a}, "barred", "batch")
	w.do("stall.sell", m{"product": "Plain rinse", "batch": c}, "entry")
}
