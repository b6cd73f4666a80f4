package sync

import (
	"fmt"
	"testing"
)

// One entry of the usual size: what a phone does for each while it catches up.
func BenchmarkEntry(b *testing.B) {
	raw := Entry{Seq: 1000, Seen: Seen{Epoch{1}, 20_000}, At: 1_790_000_000_000, Kind: 17, V: 1, Body: make([]byte, 24)}.Append(nil)
	b.Run("parse", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := ParseEntry(raw); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("hash", func(b *testing.B) {
		b.ReportAllocs()
		var h Hash
		for b.Loop() {
			h = h.Next(raw)
		}
	})
}

// A new phone takes a whole log from a store in memory: all work of both links and the replica, disks taking no time.
// Per entry it must stay flat.
func BenchmarkFirstSync(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := newSimStore(&simWorld{seen: map[string]int{}}, []string{"workshop"})
			var items [][]byte
			for i := range n {
				items = append(items, Entry{Seq: uint64(i + 1), Kind: 17, V: 1, Body: make([]byte, 24)}.Append(nil))
			}
			if err := s.append("workshop", phoneB, 0, items, 0); err != nil {
				b.Fatal(err)
			}
			s.logs["workshop"].sync()
			for b.Loop() {
				r, err := NewReplica(phoneA)
				if err != nil {
					b.Fatal(err)
				}
				e := &ends{store: s, phone: r, device: phoneA, now: 1}
				e.connect()
				e.settle()
				if r.Part("workshop").Down.Seq != uint64(n) {
					b.Fatal(e.stops, e.refused)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/entry")
		})
	}
}
