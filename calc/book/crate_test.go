package book

import (
	"fmt"
	"strings"
	"testing"

	"stillroom/sync"
)

func (w *world) crate(name, inside string) string {
	w.t.Helper()
	return w.do("place.name", m{"name": name, "what": "crate", "inside": inside}, "key")
}

// A crate is a place inside a place: what it holds is at the stall as soon as the crate is.
func TestASaleLooksIntoTheCratesOfItsPlace(t *testing.T) {
	w := newWorld(t)
	b := w.jars()
	blue := w.crate("Blue crate", "home")
	w.do("jars.move", m{"batch": b, "from": "home", "to": blue, "count": "4"}, "entry")
	w.refused("stall.sell", m{"product": "Plain rinse"}, "more than there are", "product")
	w.do("place.name", m{"key": blue, "name": "Blue crate", "what": "crate", "inside": "stall"}, "key")
	tile := view[StallView](w, "stall", nil).Tiles[0]
	if tile.Left != "4" || !tile.CanSell || tile.Batch != b {
		t.Fatalf("a crate at the stall: %s", pretty(tile))
	}
	w.do("stall.sell", m{"product": "Plain rinse"}, "entry")
	w.refused("stall.sell", m{"product": "Plain rinse", "count": "4"}, "more than there are", "*")
	green := w.crate("Green crate", "stall")
	w.do("jars.move", m{"batch": b, "from": "home", "to": green, "count": "2"}, "entry")
	w.refused("stall.sell", m{"product": "Plain rinse", "count": "5"}, "in several crates", "count")
	// What was sold stays sold at the stall when the crate goes home.
	w.do("place.name", m{"key": blue, "name": "Blue crate", "what": "crate", "inside": "home"}, "key")
	v := view[StallView](w, "stall", nil)
	if v.Tiles[0].Left != "2" || !strings.Contains(v.Says, "1 sold") {
		t.Fatalf("after the crate went home: %s", pretty(v))
	}
	if got := fmt.Sprint(view[BatchView](w, "batch", m{"key": b}).Places); got != "[{home 17} {Blue crate 3} {sold 1} {Green crate 2}]" {
		t.Fatalf("places: %s", got)
	}
	w.do("jars.count", m{"place": blue, "batch": b, "count": "3"}, "entry")
}

func TestBoundsReachOverCrates(t *testing.T) {
	w := newWorld(t)
	a, b := w.jars(), w.jars()
	blue, green := w.crate("Blue crate", "stall"), w.crate("Green crate", "stall")
	w.do("jars.move", m{"batch": a, "from": "home", "to": blue, "count": "9"}, "entry")
	w.do("jars.move", m{"batch": b, "from": "home", "to": green, "count": "6"}, "entry")
	for range 8 {
		w.do("stall.sell", m{"product": "Plain rinse"}, "entry")
	}
	bounds := func(batch, want string) {
		t.Helper()
		if says := view[BatchView](w, "batch", m{"key": batch}).JarsSays; !strings.Contains(says, want) || want == "" && strings.Contains(says, "between") {
			t.Fatalf("the batch says %q, want %q", says, want)
		}
	}
	bounds(a, "between 2 and 8 of ")
	bounds(b, "between 0 and 6 of ")
	// Home they go uncounted, and nothing is known by that.
	for key, name := range map[string]string{blue: "Blue crate", green: "Green crate"} {
		w.do("place.name", m{"key": key, "name": name, "what": "crate", "inside": "home"}, "key")
	}
	bounds(a, "between 2 and 8 of ")
	w.do("jars.count", m{"place": blue, "batch": a, "count": "4"}, "entry")
	bounds(a, "")
	w.do("jars.count", m{"place": green, "batch": b, "count": "3"}, "entry")
	bounds(b, "")
	whole(w, a, "[{home 14} {Blue crate 4} {sold 5}]")
	whole(w, b, "[{home 17} {Green crate 3} {sold 3}]")
}

// whole checks where all 23 jars of a batch are.
func whole(w *world, batch, want string) {
	w.t.Helper()
	places, sum := view[BatchView](w, "batch", m{"key": batch}).Places, 0
	for _, p := range places {
		sum += p.Count
	}
	if got := fmt.Sprint(places); got != want || sum != 23 {
		w.t.Fatalf("places %s, together %d; want %s", got, sum, want)
	}
}

func TestWhatACountSettledStaysSold(t *testing.T) {
	w := newWorld(t)
	a, b := w.jars(), w.jars()
	w.out(a, "9")
	w.out(b, "6")
	for range 8 {
		w.do("stall.sell", m{"product": "Plain rinse"}, "entry")
	}
	w.do("jars.count", m{"place": "stall", "batch": a, "count": "4"}, "entry")
	whole(w, a, "[{home 14} {stall 4} {sold 5}]")
	w.do("jars.count", m{"place": "stall", "batch": b, "count": "3"}, "entry")
	whole(w, b, "[{home 17} {stall 3} {sold 3}]")
	// A count on a later day finds what is there, and takes back nothing of what the first one showed.
	w.ctx.Now += 86400000
	w.do("jars.count", m{"place": "stall", "batch": a, "count": "4"}, "entry")
	whole(w, a, "[{home 14} {stall 4} {sold 5}]")
}

func TestWhatLacksIsOfItsOwnProductAndPlace(t *testing.T) {
	w := newWorld(t)
	a, b := w.jars(), w.jars()
	d := scrub()
	d.Name = "Other rinse"
	f := w.do("formula.save", d, "key")
	c := w.do("batch.start", m{"formula": f, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}, "key")
	w.weighAll(c)
	w.do("batch.fill", m{"batch": c, "jars": "23"}, "entry")
	w.do("batch.release", m{"batch": c, "by": "Imke"}, "")
	for _, k := range []string{a, b, c} {
		w.out(k, "5")
	}
	for range 2 {
		w.do("stall.sell", m{"product": "Plain rinse"}, "entry")
	}
	w.do("jars.count", m{"place": "stall", "batch": a, "count": "3"}, "entry")
	w.do("jars.count", m{"place": "stall", "batch": b, "count": "5"}, "entry")
	w.do("jars.count", m{"place": "stall", "batch": c, "count": "3"}, "entry")
	if says := view[StallView](w, "stall", nil).Says; says != "15 taken: 2 sold, 2 not accounted for" {
		t.Fatalf("the sales of one product explain what another lacks: %q", says)
	}
	// One product too many does not hide that another lacks.
	w.do("jars.count", m{"place": "stall", "batch": b, "count": "8"}, "entry")
	if says := view[StallView](w, "stall", nil).Says; says != "15 taken: 2 sold, 2 not accounted for, 1 more than expected" {
		t.Fatalf("the evening says %q", says)
	}
}

// After a restore the store numbers anew. A phone that still speaks of the old numbers did not see what now bears them.
func TestNumbersOfAnEarlierEpochAreNotTakenForSeen(t *testing.T) {
	old, now := sync.Epoch{1}, sync.Epoch{2}
	s := New()
	log := uint64(0)
	put := func(dev byte, seq uint64, at int64, seen sync.Seen, kind uint32, b visitable) {
		log++
		body, err := encode(b)
		if err != nil {
			t.Fatal(err)
		}
		s.Apply(Shelf, device(dev), &sync.Envelope{Seq: log, Device: device(dev)}, sync.Entry{Seq: seq, At: at, Seen: seen, Kind: kind, V: 1, Body: body})
	}
	put(1, 1, noon, sync.Seen{Epoch: old}, KindJarsMinted, &JarsMinted{Batch: "AAAAA", Product: "x", Keys: []JarRun{{"AAAAA", 30}}, Place: "stall"})
	// The store was restored from a backup that ends here; this sale was made later than the count below.
	put(2, 1, noon+2000, sync.Seen{Epoch: now, Seq: 1}, KindSold, &Sold{Place: "stall", Product: "x", Batch: "AAAAA", Count: 1})
	put(3, 1, noon+1000, sync.Seen{Epoch: old, Seq: 9}, KindJarCounted, &JarCounted{Place: "stall", Batch: "AAAAA", Count: 30, Expected: 30})
	if n := s.shelfStock().hand.get(at{"AAAAA", "stall"}).N; n != 29 {
		t.Fatalf("the count of an earlier epoch is taken to have seen a later sale: %d at the stall, want 29", n)
	}
	put(4, 1, noon+1500, sync.Seen{Epoch: now, Seq: log}, KindJarCounted, &JarCounted{Place: "stall", Batch: "AAAAA", Count: 28, Expected: 29})
	if n := s.shelfStock().hand.get(at{"AAAAA", "stall"}).N; n != 28 {
		t.Fatalf("a count that saw the sale counts it again: %d at the stall, want 28", n)
	}
}
