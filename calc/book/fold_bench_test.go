package book

import (
	"fmt"
	"testing"
	"time"

	"stillroom/sync"
)

// bookOf is a workshop's years: batches of 15 rows each on 50 lots.
func bookOf(b *testing.B, entries int) []placed {
	b.Helper()
	var out []placed
	put := func(kind uint32, body visitable) {
		d, no := draft(kind, body)
		if no != nil {
			b.Fatal(no)
		}
		out = append(out, placed{d.Stream, device(1), entryOf(d, uint64(len(out)+1)), false})
	}
	for i := range 50 {
		put(KindLotReceived, &LotReceived{Key: fmt.Sprintf("LLLL%04d", i), Ingredient: "glycerin", Code: fmt.Sprintf("G-%d", i), Mass: 5000000})
	}
	targets := []Target{}
	for i := range 12 {
		targets = append(targets, Target{fmt.Sprint(i), 250000})
	}
	for n := 0; len(out) < entries; n++ {
		key := fmt.Sprintf("K%04d", n)
		put(KindBatchStarted, &BatchStarted{Key: key, Code: "261112-B1", Formula: "FFFF0001", Mass: 3000000, Targets: targets, Letter: "B"})
		for i := range 12 {
			put(KindBatchWeighed, &BatchWeighed{Batch: key, Line: fmt.Sprint(i), Lot: fmt.Sprintf("LLLL%04d", (n+i)%50), Mass: 250000, AsPlanned: true})
		}
		put(KindBatchRead, &BatchRead{Batch: key, What: "ph", Value: 5600, Text: "5.6"})
		put(KindBatchFilled, &BatchFilled{Batch: key, Jars: 23, Keys: []JarRun{{key, 23}}})
	}
	return out[:entries]
}

func BenchmarkFold(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000} {
		all := bookOf(b, n)
		env := &sync.Envelope{}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s := New()
				for _, p := range all {
					s.Apply(p.stream, p.dev, env, p.e)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/entry")
		})
	}
}

func BenchmarkLotTrace(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000} {
		s := New()
		apply(s, bookOf(b, n)...)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if len(s.reach("LLLL0001")) == 0 {
					b.Fatal("the lot reached nothing")
				}
			}
		})
	}
}

// A quick start: what a book of its snapshot takes, and the snapshot of a book.
func BenchmarkSnapshot(b *testing.B) {
	for _, n := range []int{10000, 100000, 200000} {
		s := New()
		apply(s, bookOf(b, n)...)
		raw := s.Snapshot()
		b.Run(fmt.Sprintf("restore/%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Restore(raw); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(raw))/float64(n), "bytes/entry")
		})
		b.Run(fmt.Sprintf("save/%d", n), func(b *testing.B) {
			b.ReportAllocs()
			longest := time.Duration(0)
			for b.Loop() {
				w := s.Save()
				for more := true; more; {
					began := time.Now()
					_, more = w.Piece(256 << 10)
					longest = max(longest, time.Since(began))
				}
			}
			b.ReportMetric(longest.Seconds()*1000, "ms-longest-piece")
		})
	}
}
