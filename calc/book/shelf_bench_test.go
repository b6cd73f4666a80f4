package book

import (
	"fmt"
	"testing"

	"stillroom/sync"
)

// shelfOf is a busy workshop's years: 60,000 jars in batches of 20, three a day until today, each taken out, sold one by
// one in part and counted, all of them made with one lot. Of three sales one names no batch.
func shelfOf(b testing.TB, jars int) *State {
	b.Helper()
	s := New()
	heads := map[string]uint64{}
	at := int64(0)
	put := func(kind uint32, body visitable) {
		d, no := draft(kind, body)
		if no != nil {
			b.Fatal(no)
		}
		heads[d.Stream]++
		e := entryOf(d, heads[d.Stream])
		e.At = at
		s.Apply(d.Stream, device(1), &sync.Envelope{Seq: heads[d.Stream], At: at}, e)
	}
	put(KindLotReceived, &LotReceived{Key: "LLLL0001", Ingredient: "glycerin", Code: "G-1", Mass: 5000000})
	rev := Ref{device(1), heads[Workshop] + 1}
	f := &FormulaSaved{Key: "FFFF0001", Name: "Plain rinse", Phases: []Phase{{Letter: "A"}}, Lines: []Line{{ID: "g", Phase: "A", Ingredient: "glycerin", Percent: 1000000}}}
	put(KindFormulaSaved, f)
	for n := range jars / 20 {
		at = noon - int64(jars/20-1-n)/3*24*60*60*1000
		day := dayOf(at, 0)
		key := fmt.Sprintf("K%04d", n)
		put(KindBatchStarted, &BatchStarted{Key: key, Code: "261112-B1", Formula: "FFFF0001", Revision: rev, Mass: 3000000, Targets: []Target{{"g", 1000}}, Letter: "B"})
		put(KindBatchWeighed, &BatchWeighed{Batch: key, Line: "g", Lot: "LLLL0001", Mass: 1000, AsPlanned: true})
		put(KindBatchFilled, &BatchFilled{Batch: key, Jars: 20, Day: day, Keys: []JarRun{{key, 20}}})
		put(KindJarsMinted, &JarsMinted{Batch: key, Code: "261112-B1", Product: fmt.Sprint("product ", n%30), Keys: []JarRun{{key, 20}}, Place: "home"})
		put(KindBatchBarred, &BatchBarred{Batch: key, State: Released})
		put(KindJarMoved, &JarMoved{Batch: key, From: "home", To: "stall", Count: 15})
		for i := range 6 {
			sale := &Sold{Place: "stall", Product: fmt.Sprint("product ", n%30), Batch: key, Count: 2 - int64(i%2), Price: 1200, Day: day}
			if i%3 == 2 {
				sale.Batch = ""
			}
			put(KindSold, sale)
		}
		put(KindJarCounted, &JarCounted{Place: "stall", Batch: key, Count: 5, Expected: 9})
		put(KindJarMoved, &JarMoved{Batch: key, From: "stall", To: "home", Count: 5})
	}
	return s
}

func BenchmarkShelf(b *testing.B) {
	for _, jars := range []int{600, 6000, 60000} {
		s := shelfOf(b, jars)
		ctx := Context{Device: device(1), Now: noon}
		show := func(b *testing.B, s *State, name, args string) {
			if _, no := s.View(ctx, name, []byte(args)); no != nil {
				b.Fatal(no)
			}
		}
		b.Run(fmt.Sprint("the first look after opening/", jars), func(b *testing.B) {
			for b.Loop() {
				s.shelfChanges()
				show(b, s, "stall", `{}`)
			}
		})
		b.Run(fmt.Sprint("trace/", jars), func(b *testing.B) {
			for b.Loop() {
				show(b, s, "lot", `{"key":"LLLL0001"}`)
			}
		})
		b.Run(fmt.Sprint("stall/", jars), func(b *testing.B) {
			for b.Loop() {
				show(b, s, "stall", `{}`)
			}
		})
		b.Run(fmt.Sprint("stall after a sale on this phone/", jars), func(b *testing.B) {
			sale, _ := draft(KindSold, &Sold{Place: "stall", Product: "product 0", Batch: "K0000", Count: 1, Day: 20261112})
			e := entryOf(sale, s.Head(Shelf, device(1))+1)
			for b.Loop() {
				over := s.Overlay()
				over.Apply(Shelf, device(1), nil, e)
				show(b, over, "stall", `{}`)
			}
		})
		b.Run(fmt.Sprint("batch/", jars), func(b *testing.B) {
			for b.Loop() {
				show(b, s, "batch", `{"key":"K0000"}`)
			}
		})
	}
}
