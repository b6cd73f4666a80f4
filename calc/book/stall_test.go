package book

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stillroom/sync"
)

// jars makes, fills and releases a batch of 23 jars at home.
func (w *world) jars() string {
	w.t.Helper()
	_, b := w.start()
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	return b
}

func (w *world) out(batch, n string) string {
	w.t.Helper()
	return w.do("jars.move", m{"batch": batch, "from": "home", "to": "stall", "count": n}, "entry")
}

func TestMarketDay(t *testing.T) {
	w := newWorld(t)
	b := w.jars()
	w.do("product.price", m{"product": "Plain rinse", "price": "12,00"}, "entry")
	w.out(b, "10")
	for range 3 {
		w.do("stall.sell", m{"product": "Plain rinse"}, "entry")
	}
	slip := w.do("stall.sell", m{"product": "Plain rinse"}, "entry")
	w.do("stall.sell", m{"product": "Plain rinse", "price": "given"}, "entry")
	v := view[StallView](w, "stall", nil)
	if v.Undo == "" || v.Taken != "48.00" {
		t.Fatalf("after four sales: %s", pretty(v))
	}
	w.do("stall.undo", m{"entry": slip, "reason": "wrong key"}, "entry")
	w.refused("stall.undo", m{"entry": slip, "reason": "again"}, "corrected already", "entry")
	v = view[StallView](w, "stall", nil)
	if len(v.Tiles) != 1 || v.Tiles[0].Left != "6" || v.Tiles[0].Of != "10" || v.Tiles[0].Price != "12.00" || !v.Tiles[0].CanSell || v.Tiles[0].Batch != b || v.Taken != "36.00" {
		t.Fatalf("after the undo: %s", pretty(v))
	}
	struck := 0
	for _, r := range v.Rows {
		if r.Struck && r.Entry == slip && strings.Contains(r.Detail, "wrong key") {
			struck++
		}
	}
	if struck != 1 {
		t.Fatalf("the undone sale is not readable, struck, once: %s", pretty(v.Rows))
	}
	count, _ := w.try("jars.count", m{"place": "stall", "batch": b, "count": "5"})
	if c := count.(countValue); c.Expected != "6" || c.Difference != "−1" {
		t.Fatalf("counted: %+v", c)
	}
	w.do("jars.move", m{"batch": b, "from": "stall", "to": "home", "count": "5"}, "entry")
	if says := view[StallView](w, "stall", nil).Says; says != "10 taken: 3 sold, 1 given, 5 brought back, 1 not accounted for" {
		t.Fatalf("the evening says %q", says)
	}
	if got := view[BatchView](w, "batch", m{"key": b}).Places; fmt.Sprint(got) != "[{home 18} {sold 3} {given 1}]" {
		t.Fatalf("places: %v", got)
	}
}

func TestStallIsRefused(t *testing.T) {
	w := newWorld(t)
	b := w.jars()
	w.out(b, "3")
	code := w.s.PublicJars(b)[0].Code
	bad := code[:7] + "0"
	if bad == code {
		bad = code[:7] + "1"
	}
	for _, c := range []struct {
		name, command string
		args          m
		code, field   string
	}{
		{"unknown batch", "jars.move", m{"batch": "NNNNN", "from": "home", "to": "stall", "count": "1"}, "batch unknown", "batch"},
		{"more than there are", "jars.move", m{"batch": b, "from": "home", "to": "stall", "count": "21"}, "more than there are", "count"},
		{"no such place", "jars.move", m{"batch": b, "from": "home", "to": "the moon", "count": "1"}, "place unknown", "to"},
		{"to nowhere", "jars.move", m{"batch": b, "from": "home", "to": "", "count": "1"}, "place missing", "to"},
		{"to where they are", "jars.move", m{"batch": b, "from": "home", "to": "home", "count": "1"}, "same place", "to"},
		{"no count", "jars.move", m{"batch": b, "from": "home", "to": "stall", "count": "-1"}, "misread", "count"},
		{"a wrong check character", "jars.move", m{"from": "home", "to": "stall", "jars": bad}, "misread", "jars"},
		{"more sold than there are", "stall.sell", m{"product": "Plain rinse", "count": "4"}, "more than there are", "*"},
		{"a product that is not there", "stall.sell", m{"product": "Moon dust"}, "more than there are", "product"},
		{"a price in words", "stall.sell", m{"product": "Plain rinse", "price": "cheap"}, "misread", "price"},
		{"an undo of nothing", "stall.undo", m{"entry": "x", "reason": "y"}, "row unknown", "entry"},
		{"a count in words", "jars.count", m{"place": "stall", "batch": b, "count": "some"}, "misread", "count"},
		{"a price of nothing", "product.price", m{"product": "Moon dust", "price": "1"}, "product unknown", "product"},
		{"an empty price", "product.price", m{"product": "Plain rinse", "price": ""}, "misread", "price"},
		{"a place without a name", "place.name", m{"name": " ", "what": "crate"}, "name missing", "name"},
		{"a place of no kind", "place.name", m{"name": "Shed", "what": "moon"}, "not a place", "what"},
		{"a look at nothing", "batch.look", m{"batch": b}, "nothing said", ""},
		{"a look in other words", "batch.look", m{"batch": b, "firm": "wobbly"}, "word unknown", "firm"},
	} {
		t.Run(c.name, func(t *testing.T) { w.t = t; w.refused(c.command, c.args, c.code, c.field) })
	}
	w.t = t
	w.do("stall.sell", m{"jar": code, "place": "home"}, "entry")
	w.refused("stall.sell", m{"jar": code, "place": "home"}, "jar gone", "jar")
	w.do("batch.hold", m{"batch": b, "reason": "smells"}, "")
	w.refused("stall.sell", m{"product": "Plain rinse"}, "barred", "batch")
	w.refused("jars.move", m{"batch": b, "from": "home", "to": "stall", "count": "1"}, "not released", "batch")
	if tile := view[StallView](w, "stall", nil).Tiles[0]; tile.CanSell || !strings.Contains(tile.Barred, "do not sell") {
		t.Fatalf("a held batch on the table: %s", pretty(tile))
	}
	w.ctx.Role = Stall
	w.refused("product.price", m{"product": "Plain rinse", "price": "9"}, "role", "")
	w.do("jars.count", m{"place": "stall", "batch": b, "count": "0"}, "entry")
}

func TestASecondSaleOfOneJarIsAClash(t *testing.T) {
	w := newWorld(t)
	b := w.jars()
	w.out(b, "3")
	code := w.s.PublicJars(b)[0].Code
	w.do("stall.sell", m{"jar": code}, "entry")
	body, _ := encode(&Sold{Place: "stall", Product: "Plain rinse", Batch: b, Jar: code, Count: 1, Day: 20261112})
	w.arrive(Shelf, device(2), sync.Entry{Seq: 1, At: w.ctx.Now, Kind: KindSold, V: 1, Body: body}, false)
	v := view[StallView](w, "stall", nil)
	if v.Rows[0].Clash == "" || v.Tiles[0].Left != "2" {
		t.Fatalf("the second sale: %s", pretty(v))
	}
}

func TestTwoBatchesOutGiveBounds(t *testing.T) {
	w := newWorld(t)
	a, b := w.jars(), w.jars()
	w.out(a, "9")
	w.out(b, "6")
	for range 8 {
		w.do("stall.sell", m{"product": "Plain rinse"}, "entry")
	}
	tile := view[StallView](w, "stall", nil).Tiles[0]
	if tile.Batch != "" || tile.Left != "7" || tile.Batches[0].Left != "1 to 7" || tile.Batches[1].Left != "0 to 6" {
		t.Fatalf("two batches out: %s", pretty(tile))
	}
	code := tile.Batches[0].Code
	for _, c := range [][2]string{
		{tile.Sum, "9 of " + code + " + 6 of " + tile.Batches[1].Code + " − 8 sold with no batch said = 7"},
		{tile.Batches[0].Sum, "of 8 sold with no batch said, " + code + " can have been at most 8, since 9 were here, and at least 2, since the others can have been at most 6: 9 − 8 = 1 to 9 − 2 = 7"},
	} {
		if c[0] != c[1] {
			t.Errorf("the sum is %q, want %q", c[0], c[1])
		}
	}
	says := view[BatchView](w, "batch", m{"key": a}).JarsSays
	if !strings.Contains(says, "between 2 and 8 of ") {
		t.Fatalf("the batch says %q", says)
	}
	w.do("jars.count", m{"place": "stall", "batch": a, "count": "4"}, "entry")
	tile = view[StallView](w, "stall", nil).Tiles[0]
	if tile.Left != "7" || tile.Batches[0].Left != "4" || tile.Batches[1].Left != "3" {
		t.Fatalf("one counted, the other follows: %s", pretty(tile))
	}
	if got := tile.Batches[0].Sum; got != "9 brought − 5 sold, taken away or not found by a count = 4" {
		t.Errorf("the counted one's sum is %q", got)
	}
}

func TestPlacesStandInsidePlaces(t *testing.T) {
	w := newWorld(t)
	crate := w.do("place.name", m{"name": "Blue crate", "what": "crate", "inside": "stall"}, "key")
	w.refused("place.name", m{"name": "blue crate", "what": "crate"}, "name taken", "name")
	w.refused("place.name", m{"key": crate, "name": "Blue crate", "what": "crate", "inside": crate}, "inside itself", "inside")
	_, b := w.start()
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.refused("jars.move", m{"batch": b, "from": "home", "to": crate, "count": "1"}, "not released", "batch")
	for _, p := range view[PlacesView](w, "places", nil).Places {
		if p.Key == crate && (p.Inside != "stall" || p.What != "crate") {
			t.Fatalf("the crate: %s", pretty(p))
		}
	}
}

func TestLookOnTheNextDay(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.refused("batch.look", m{"batch": b, "firm": "same"}, "not filled", "batch")
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.ctx.Now += 86400000
	if r := view[TodayView](w, "today", nil).Resting[0]; !strings.HasPrefix(r.Says, "to look at") {
		t.Fatalf("the next day: %s", r.Says)
	}
	w.do("batch.look", m{"batch": b, "firm": "firmer", "level": "sunk", "ph": "5,4", "note": "a ring at the rim"}, "entry")
	v := view[BatchView](w, "batch", m{"key": b})
	if len(v.Looks) != 1 || !v.CanLook || v.Looks[0].Value != "firmness firmer, surface sunk, pH 5.4, a ring at the rim" {
		t.Fatalf("the look: %s", pretty(v.Looks))
	}
	w.do("batch.release", m{"batch": b, "by": "Imke"}, "")
	if last := lastRow(w, b); !strings.Contains(last.Detail, "firmness firmer") {
		t.Fatalf("the release says %q", last.Detail)
	}
	c := w.jars()
	if last := lastRow(w, c); last.Detail != noLook {
		t.Fatalf("a release without a look says %q", last.Detail)
	}
}

func lastRow(w *world, batch string) RowView {
	rows := view[BatchView](w, "batch", m{"key": batch}).Rows
	return rows[len(rows)-1]
}

func TestStockIsTheSameInEveryOrderOfArrival(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var phones []*phone
		for d := byte(1); d <= 3; d++ {
			p := &phone{id: device(d)}
			phones = append(phones, p)
			if d == 1 {
				p.write(Shelf, KindJarsMinted, &JarsMinted{Batch: "AAAAA", Product: "x", Keys: []JarRun{{"AAAAA", 30}}, Place: "home"})
				p.write(Shelf, KindJarsMinted, &JarsMinted{Batch: "BBBBB", Product: "x", Keys: []JarRun{{"BBBBB", 30}}, Place: "home"})
			}
			for range rapid.IntRange(0, 8).Draw(t, "n") {
				b := rapid.SampledFrom([]string{"AAAAA", "BBBBB", ""}).Draw(t, "batch")
				switch rapid.IntRange(0, 3).Draw(t, "kind") {
				case 0:
					p.write(Shelf, KindJarMoved, &JarMoved{Batch: b, From: "home", To: "stall", Count: rapid.Int64Range(0, 9).Draw(t, "count")})
				case 1:
					p.write(Shelf, KindJarCounted, &JarCounted{Place: "stall", Batch: b, Count: rapid.Int64Range(0, 9).Draw(t, "count")})
				case 2:
					p.write(Shelf, KindSold, &Sold{Place: "stall", Product: "x", Batch: b, Count: 1})
				case 3:
					if n := len(p.wrte); n > 0 && p.wrte[n-1].Entry.Kind == KindSold {
						body, _ := encode(&Sold{Place: "stall", Product: "x"})
						p.write(Shelf, KindShelfCorrected, &Corrected{Of: Ref{p.id, uint64(n)}, Reason: "slip", Kind: int64(KindSold), V: 1, Body: body})
					}
				}
			}
		}
		order := drawOrder(t, phones)
		// Each entry has its place in the store's log, and its writer had read some of what stood before it.
		envs := make([]sync.Envelope, len(order))
		for i := range order {
			order[i].held = false
			order[i].e.Seen.Seq = uint64(rapid.IntRange(0, i).Draw(t, "seen"))
			envs[i] = sync.Envelope{Seq: uint64(i + 1), Device: order[i].dev}
		}
		final := New()
		for i, p := range order {
			final.Apply(p.stream, p.dev, &envs[i], p.e)
		}
		ctx := Context{Device: device(1), Now: noon}
		show := func(s *State) string {
			v, _ := s.View(ctx, "stall", nil)
			return pretty(v) + pretty(s.viewPlaces(ctx))
		}
		want := show(final)
		for _, own := range phones {
			// a phone that first had its own entries pending, laid again whenever the store moves
			base := New()
			for i, p := range order {
				over := base.Overlay()
				for _, w := range own.wrte {
					over.Apply(w.Stream, own.id, nil, w.Entry)
				}
				show(over)
				base.Apply(p.stream, p.dev, &envs[i], p.e)
			}
			if show(base) != want {
				t.Fatalf("device %s shows other stock than the store", own.id)
			}
		}

		// An order of the journal in which streams and devices interleave otherwise: each entry keeps its place in the log,
		// its device's own order and what it had seen, and comes at another moment. Cut anywhere, summed before and after.
		turns := make([]int, len(order))
		for i := range turns {
			turns[i] = i
		}
		turns = rapid.Permutation(turns).Draw(t, "turns")
		next := map[sync.DeviceID]int{}
		other := New()
		for _, turn := range turns {
			dev, n := order[turn].dev, 0
			for i, p := range order { // the next of this device, so that its entries come dense
				if p.dev != dev {
					continue
				}
				if n++; n > next[dev] {
					other.Apply(p.stream, p.dev, &envs[i], p.e)
					break
				}
			}
			next[dev]++
			if rapid.IntRange(0, 3).Draw(t, "look between") == 0 {
				show(other)
			}
		}
		if got, sum := stockOf(other), stockOf(final); got != sum {
			t.Fatalf("in another order of arrival there is other stock:\n%s\nwant\n%s", got, sum)
		}
	})
}

// stockOf is what is on hand, told in an order of its own.
func stockOf(s *State) string {
	x := s.shelfStock()
	var out []string
	for _, k := range x.all("") {
		if h := x.hand.get(k); h.N != 0 || h.Counted {
			out = append(out, fmt.Sprint(k, h.N, h.Counted, h.Expected))
		}
	}
	slices.Sort(out)
	return strings.Join(out, "\n")
}

func TestDemoIsRemovedAndTheMakersOwnStays(t *testing.T) {
	s, out := demo(t)
	w := newWorld(t)
	w.s = s
	var sold string
	for _, e := range out {
		if e.Entry.Kind == KindJarsMinted {
			b := &JarsMinted{}
			if decode(e.Entry.V, e.Entry.Body, b) == nil {
				sold = b.Batch
			}
		}
	}
	if j := s.PublicJars(sold); len(j) == 0 || !j[0].Demo {
		t.Fatal("a jar of the demo is not marked")
	}
	w.refused("stall.sell", m{"batch": sold, "place": "home"}, "demo", "batch")
	formula, batch := w.start()
	w.do("demo.remove", m{}, "")
	if v := view[TodayView](w, "today", nil); v.Maker != "" || v.Demo || v.Formulas != 1 || v.Lots != 0 || len(v.Making) != 1 {
		t.Fatalf("after the demo: %s", pretty(v))
	}
	if v := view[[]BatchRow](w, "batches", nil); len(v) != 1 || v[0].Key != batch {
		t.Fatalf("batches after the demo: %s", pretty(v))
	}
	if v := view[[]FormulaRow](w, "formulas", nil); len(v) != 1 || v[0].Key != formula {
		t.Fatalf("formulas after the demo: %s", pretty(v))
	}
	if v := view[PlacesView](w, "places", nil); len(v.Standings) != 0 {
		t.Fatalf("jars after the demo: %s", pretty(v))
	}
	if _, known := w.s.PublicJar("AAAAAAAA"); known {
		t.Fatal("the demo is still there")
	}
	if drafts, _, no := w.s.Decide(w.ctx, "demo.remove", nil); no != nil || len(drafts) != 0 {
		t.Fatalf("removing it twice: %v %v", drafts, no)
	}
	w.do("workshop.name", m{"maker": "Imke"}, "")
}
