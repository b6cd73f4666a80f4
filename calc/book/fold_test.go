package book

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"stillroom/sync"
)

// phone is a device in a property test: its own entries in order, with the stream of each.
type phone struct {
	id   sync.DeviceID
	wrte []Written
}

func (p *phone) write(stream string, kind uint32, b visitable) Ref {
	body, err := encode(b)
	if err != nil {
		panic(err)
	}
	n := uint64(1)
	for _, w := range p.wrte {
		if w.Stream == stream {
			n++
		}
	}
	p.wrte = append(p.wrte, Written{stream, sync.Entry{Seq: n, At: noon + int64(len(p.wrte)), Kind: kind, V: 1, Body: body}})
	return Ref{p.id, n}
}

// drawPhones lets three devices write whatever comes to them about the same two batches and lots: much of it clashes,
// which is the point. A tenth is held, some of that accepted; some is of kinds not known here.
func drawPhones(t *rapid.T) []*phone {
	keys := rapid.SampledFrom([]string{"AAAAA", "BBBBB", "CCCCC"})
	lots := rapid.SampledFrom([]string{"", "LLLL0001", "LLLL0002", "LLLL0003"})
	mass := rapid.Int64Range(-500, 500000)
	var out []*phone
	var refs []Ref
	type weighing struct {
		ref   Ref
		batch string
	}
	var weighed []weighing
	for d := byte(1); d <= 3; d++ {
		p := &phone{id: device(d)}
		out = append(out, p)
		for i, n := 0, rapid.IntRange(0, 25).Draw(t, "entries"); i < n; i++ {
			anyRef := func() Ref {
				if len(refs) == 0 {
					return Ref{device(3), 1}
				}
				return rapid.SampledFrom(refs).Draw(t, "ref")
			}
			b := keys.Draw(t, "batch")
			var r Ref
			switch rapid.IntRange(0, 22).Draw(t, "kind") {
			case 0:
				r = p.write(Workshop, KindBatchStarted, &BatchStarted{Key: b, Code: "261112-B1", Letter: string('A' + rune(d)), Mass: 1000, Targets: []Target{{"g", 1000}}})
			case 1, 2, 3:
				r = p.write(Workshop, KindBatchWeighed, &BatchWeighed{Batch: b, Line: "g", Lot: lots.Draw(t, "lot"), Mass: mass.Draw(t, "mass")})
				weighed = append(weighed, weighing{r, b})
			case 4:
				r = p.write(Workshop, KindBatchFilled, &BatchFilled{Batch: b, Jars: 3, Keys: []JarRun{{b, 3}}})
			case 5:
				r = p.write(Workshop, KindBatchState, &BatchState{Batch: b, State: rapid.SampledFrom([]string{Held, Released, Discarded, "odd"}).Draw(t, "state"), By: "Imke"})
			case 6, 7:
				of := anyRef()
				if len(weighed) > 0 && rapid.IntRange(0, 3).Draw(t, "aim") > 0 { // else hardly a correction would ever hit
					hit := rapid.SampledFrom(weighed).Draw(t, "hit")
					of, b = hit.ref, hit.batch
				}
				body, _ := encode(&BatchWeighed{Batch: b, Line: "g", Lot: lots.Draw(t, "lot"), Mass: mass.Draw(t, "mass")})
				r = p.write(Workshop, KindCorrected, &Corrected{Of: of, Reason: "slip", Kind: int64(KindBatchWeighed), V: 1, Body: body})
				weighed = append(weighed, weighing{r, b})
			case 8:
				r = p.write(Workshop, KindLotReceived, &LotReceived{Key: lots.Draw(t, "lot"), Ingredient: "glycerin", Mass: 1000000, SourceBatch: rapid.SampledFrom([]string{"", b}).Draw(t, "source")})
			case 9:
				r = p.write(Workshop, KindLotHeld, &LotHeld{lots.Draw(t, "lot"), rapid.Bool().Draw(t, "held"), "smell"})
			case 10:
				r = p.write(Workshop, KindFormulaSaved, &FormulaSaved{Key: "FFFF0001", Parent: anyRef(), Name: "x"})
			case 11:
				r = p.write(Shelf, KindJarsMinted, &JarsMinted{Batch: b, Keys: []JarRun{{keys.Draw(t, "key"), 3}}})
			case 12:
				r = p.write(Workshop, KindAccepted, &Accepted{Entry: anyRef()})
			case 13:
				own := IngredientDefined{Key: rapid.SampledFrom([]string{"", "JJJJ0001", "glycerin"}).Draw(t, "ingredient"), INCI: rapid.SampledFrom([]string{"", "Mel"}).Draw(t, "inci"),
					Density: rapid.Int64Range(0, 2000).Draw(t, "density"), Charge: rapid.SampledFrom([]string{"", "anionic"}).Draw(t, "charge")}
				if rapid.Bool().Draw(t, "composed") {
					own.Composition = []Part{{INCI: "Mel", Percent: rapid.SampledFrom([]int64{900000, 1000000}).Draw(t, "share")}}
				}
				r = p.write(Workshop, KindIngredientDefined, &own)
			case 14:
				r = p.write(Workshop, KindContainerDefined, &ContainerDefined{Key: rapid.SampledFrom([]string{"", "JJJJ0003"}).Draw(t, "container"), Name: "tin", Word: "tin", Brim: rapid.Int64Range(0, 200000).Draw(t, "brim")})
			case 15, 16:
				r = p.write(Shelf, KindSold, &Sold{Place: "stall", Product: rapid.SampledFrom([]string{"", "x"}).Draw(t, "product"), Batch: rapid.SampledFrom([]string{"", b}).Draw(t, "of"), Count: 1,
					Among: rapid.SampledFrom([][]AmongItem{nil, {{"PPPP0001"}}, {{"stall"}, {"PPPP0001"}}}).Draw(t, "among")})
			case 17:
				r = p.write(Shelf, KindJarMoved, &JarMoved{Batch: b, From: "", To: rapid.SampledFrom([]string{"stall", "PPPP0001", "sold"}).Draw(t, "to"), Count: rapid.Int64Range(0, 3).Draw(t, "count")})
			case 18:
				r = p.write(Shelf, KindJarCounted, &JarCounted{Place: "stall", Batch: b, Count: rapid.Int64Range(0, 3).Draw(t, "count")})
			case 19:
				r = p.write(Shelf, KindPlaceNamed, &PlaceNamed{Key: "PPPP0001", Name: "crate", What: "crate", Inside: rapid.SampledFrom([]string{"stall", "home", "PPPP0001"}).Draw(t, "inside"), Demo: rapid.Bool().Draw(t, "invented")})
			case 20:
				r = p.write(Shelf, KindShelfDemoGone, &DemoRemoved{device(byte(rapid.IntRange(1, 3).Draw(t, "gone"))).String()})
			case 21:
				body, _ := encode(&Sold{Place: "stall", Product: "x", Batch: b})
				r = p.write(Shelf, KindShelfCorrected, &Corrected{Of: anyRef(), Reason: "slip", Kind: int64(KindSold), V: 1, Body: body})
			case 22:
				r = p.write(Shelf, KindBatchBarred, &BatchBarred{Batch: b, Barred: rapid.Bool().Draw(t, "barred"), State: rapid.SampledFrom([]string{Held, Released}).Draw(t, "bar"), ForSale: rapid.Bool().Draw(t, "for sale")})
			default:
				r = p.write(Workshop, 500, &BatchNoted{Batch: b, Text: "from a later program"})
			}
			refs = append(refs, r)
		}
	}
	return out
}

type placed struct {
	stream string
	dev    sync.DeviceID
	e      sync.Entry
	held   bool
}

// drawOrder is one order in which a store may have taken them: each device's own order is kept.
func drawOrder(t *rapid.T, phones []*phone) []placed {
	at := make([]int, len(phones))
	var out []placed
	for {
		var open []int
		for i, p := range phones {
			if at[i] < len(p.wrte) {
				open = append(open, i)
			}
		}
		if len(open) == 0 {
			return out
		}
		i := rapid.SampledFrom(open).Draw(t, "next")
		w := phones[i].wrte[at[i]]
		at[i]++
		out = append(out, placed{w.Stream, phones[i].id, w.Entry, rapid.IntRange(0, 9).Draw(t, "held") == 0})
	}
}

func apply(s *State, all ...placed) {
	for _, p := range all {
		s.Apply(p.stream, p.dev, &sync.Envelope{Device: p.dev, Held: p.held}, p.e)
	}
}

// look shows everything once, so that a view that cannot stand what was folded is found.
func look(t interface{ Fatalf(string, ...any) }, s *State) string {
	ctx := Context{Device: device(1), Letter: "B", Now: noon}
	out := ""
	for _, name := range []string{"today", "formulas", "batches", "lots", "workshop", "containers", "stall", "places", "waiting"} {
		v, no := s.View(ctx, name, nil)
		if no != nil {
			t.Fatalf("view %s: %v", name, no)
		}
		out += pretty(v)
	}
	for _, k := range []string{"AAAAA", "BBBBB", "CCCCC", "LLLL0001", "LLLL0002", "FFFF0001"} {
		for _, name := range []string{"batch", "bench", "lot", "formula"} {
			v, no := s.View(ctx, name, []byte(`{"key":"`+k+`"}`))
			out += pretty(v)
			if no != nil {
				out += no.Says
			}
		}
	}
	for _, k := range []string{"JJJJ0001", "glycerin"} {
		v, no := s.View(ctx, "ingredient", []byte(`{"key":"`+k+`"}`))
		out += pretty(v)
		if no != nil {
			out += no.Says
		}
	}
	return out
}

// F34: three devices and a store, in any interleaving, fold to equal bytes and show the same; the build tool runs this as
// WASM too.
func TestEveryDeviceFoldsToTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		phones := drawPhones(t)
		order := drawOrder(t, phones)
		all := New()
		apply(all, order...)
		want, shown := all.Digest(), look(t, all)

		// Each device held its own entries pending on an overlay until the store's order reached it.
		for _, p := range phones {
			cut := rapid.IntRange(0, len(order)).Draw(t, "cut")
			base := New()
			apply(base, order[:cut]...)
			before := base.Digest()
			over := base.Overlay()
			for _, w := range p.wrte {
				over.Apply(w.Stream, p.id, nil, w.Entry)
			}
			look(t, over)
			if base.Digest() != before {
				t.Fatalf("an overlay changed its base")
			}
			apply(base, order[cut:]...)
			over = base.Overlay()
			for _, w := range p.wrte {
				over.Apply(w.Stream, p.id, nil, w.Entry)
			}
			if base.Digest() != want || over.Digest() != want {
				t.Fatalf("device %s folds to another book than the store", p.id)
			}
			if look(t, over) != shown {
				t.Fatalf("device %s shows another book than the store", p.id)
			}
		}

		// Streams fold alone: one after the other gives the same book as both at once.
		apart := New()
		for _, stream := range []string{Shelf, Workshop} {
			for _, p := range order {
				if p.stream == stream {
					apply(apart, p)
				}
			}
		}
		if apart.Digest() != want || look(t, apart) != shown {
			t.Fatalf("the shelf before the workshop folds to another book")
		}

		// An overlay at any cut is the same as no overlay.
		cut := rapid.IntRange(0, len(order)).Draw(t, "overlay")
		base := New()
		apply(base, order[:cut]...)
		over := base.Overlay()
		apply(over, order[cut:]...)
		if over.Digest() != want {
			t.Fatalf("cut at %d of %d, the fold gives another book", cut, len(order))
		}
	})
}

func TestAnEntryAppliedTwiceChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		order := drawOrder(t, drawPhones(t))
		once, twice := New(), New()
		apply(once, order...)
		for i, p := range order {
			apply(twice, p)
			apply(twice, order[rapid.IntRange(0, i).Draw(t, "again")])
		}
		if once.Digest() != twice.Digest() || look(t, once) != look(t, twice) {
			t.Fatalf("an entry that came twice counts twice")
		}
	})
}

func TestAPendingEntryThatArrivesEndsTheSame(t *testing.T) {
	w := newWorld(t)
	w.lot("glycerin", "G-17")
	direct, pending := New(), New()
	for _, stream := range []string{Workshop, Shelf} {
		for _, env := range w.log[stream] {
			e, err := sync.ParseEntry(env.Entry)
			if err != nil {
				t.Fatal(err)
			}
			pending.Apply(stream, env.Device, nil, e)
		}
	}
	ctx := w.ctx
	lots := func(s *State) []LotRow { v, _ := s.View(ctx, "lots", nil); return v.([]LotRow) }
	if got := lots(pending)[0].Where; got != "phone" {
		t.Fatalf("a pending row is %q", got)
	}
	for _, s := range []*State{direct, pending} {
		for _, env := range w.log[Workshop] {
			e, _ := sync.ParseEntry(env.Entry)
			s.Apply(Workshop, env.Device, &env, e)
		}
	}
	if direct.Digest() != pending.Digest() || lots(pending)[0] != lots(direct)[0] || lots(direct)[0].Where != "book" {
		t.Fatalf("pending, then arrived: %s; arrived: %s", fmt.Sprint(lots(pending)), fmt.Sprint(lots(direct)))
	}
}

func FuzzApplyIsTotal(f *testing.F) {
	for kind, bodies := range samples() {
		for _, b := range bodies {
			body, _ := encode(b)
			f.Add(kind, uint32(1), body, false)
		}
	}
	base, _ := demo(f)
	f.Fuzz(func(t *testing.T, kind, v uint32, body []byte, held bool) {
		s := base.Overlay()
		for _, stream := range []string{Workshop, Shelf, "market"} {
			s.Apply(stream, device(1), &sync.Envelope{Held: held}, sync.Entry{Seq: 1, Kind: kind, V: v, Body: body})
		}
		look(t, s)
		s.Missing(Context{Device: device(1)})
		s.Digest()
	})
}

func TestAnOverlayLeavesItsBaseAsItWas(t *testing.T) {
	w := newWorld(t)
	lot := w.lot("glycerin", "G-17")
	_, b := w.start()
	slip := w.do("batch.weigh", m{"batch": b, "line": "g", "lot": lot, "grams": "330"}, "entry")
	for range 2 { // three rows, so that their slice has room to grow and sharing it would show
		w.do("batch.note", m{"batch": b, "text": "soft"}, "entry")
	}
	base, before, shown := w.s, w.s.Digest(), look(t, w.s)
	w.s = base.Overlay()
	w.do("correct", m{"entry": slip, "value": "300", "reason": "slip"}, "entry")
	w.do("batch.weigh", m{"batch": b, "line": "w", "asPlanned": true}, "entry")
	w.do("lot.hold", m{"lot": lot, "held": true, "reason": "smell"}, "")
	if w.s.Digest() == before {
		t.Fatal("the overlay shows nothing of what was applied to it")
	}
	if base.Digest() != before || look(t, base) != shown {
		t.Fatal("what was applied to the overlay shows in its base")
	}
}
