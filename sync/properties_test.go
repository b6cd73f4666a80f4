package sync

import (
	"bytes"
	"testing"

	"pgregory.net/rapid"
)

func drawEntry(t *rapid.T) Entry {
	e := Entry{
		Seq: rapid.Uint64Min(1).Draw(t, "seq"), At: rapid.Int64Range(0, 1<<62).Draw(t, "at"),
		Kind: rapid.Uint32().Draw(t, "kind"), V: rapid.Uint32().Draw(t, "v"),
		Body: rapid.SliceOfN(rapid.Byte(), 0, 80).Draw(t, "body"),
	}
	e.Seen.Seq = rapid.Uint64().Draw(t, "seen")
	copy(e.Seen.Epoch[:], rapid.SliceOfN(rapid.Byte(), 8, 8).Draw(t, "epoch"))
	return e
}

func TestEntryComesBackAsItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := drawEntry(t)
		got, err := ParseEntry(e.Append(nil))
		if err != nil || got.Seq != e.Seq || got.Seen != e.Seen || got.At != e.At || got.Kind != e.Kind || got.V != e.V || !bytes.Equal(got.Body, e.Body) {
			t.Fatalf("%+v became %+v, %v", e, got, err)
		}
	})
}

func TestEnvelopeComesBackAsItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Envelope{Seq: rapid.Uint64Min(1).Draw(t, "seq"), Held: rapid.Bool().Draw(t, "held"), At: rapid.Int64Range(0, 1<<62).Draw(t, "at"),
			Offset: rapid.Int64().Draw(t, "offset"), Entry: drawEntry(t).Append(nil)}
		got, err := ParseEnvelope(v.Append(nil))
		if err != nil || got.Seq != v.Seq || got.Held != v.Held || got.At != v.At || got.Offset != v.Offset || !bytes.Equal(got.Entry, v.Entry) {
			t.Fatalf("%+v became %+v, %v", v, got, err)
		}
	})
}

// One changed byte in an item, a swap, or another address gives another hash.
func TestHashNoticesEveryChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 1, 40), 1, 6).Draw(t, "items")
		sum := func(h Hash) Hash {
			for _, b := range items {
				h = h.Next(b)
			}
			return h
		}
		h := sum(RunningSeed("workshop"))
		if h == sum(RunningSeed("shelf")) || h == sum(ChainSeed("workshop", phoneA)) {
			t.Fatal("the seed does not matter")
		}
		i := rapid.IntRange(0, len(items)-1).Draw(t, "item")
		at := rapid.IntRange(0, len(items[i])-1).Draw(t, "byte")
		items[i][at] ^= byte(rapid.IntRange(1, 255).Draw(t, "change"))
		if h == sum(RunningSeed("workshop")) {
			t.Fatal("a changed byte gives the same hash")
		}
	})
}

// Whatever order a person, a disk and a network choose between one phone and a store, in the end both have the same,
// each entry once, and whatever was committed is there (F1, F2, F3, F10, F11).
func TestAnyOrderEndsWithEverythingOnce(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		e := newEnds(t, nil, phoneA)
		e.slow = true
		e.connect()
		want, done := 0, 0
		pull := func(q *[][]byte, at int) (m []byte) {
			if len(*q) == 0 {
				return nil
			}
			at %= len(*q)
			m = (*q)[at]
			*q = append((*q)[:at:at], (*q)[at+1:]...)
			return m
		}
		rt.Repeat(map[string]func(*rapid.T){
			"write": func(*rapid.T) {
				e.write("workshop", "body")
				want++
			},
			"write and fail": func(*rapid.T) {
				e.phone.Write("workshop", e.now, 1, 1, []byte("never kept"))
				e.phone.Forget()
			},
			"to the store": func(t *rapid.T) {
				if m := pull(&e.up, rapid.IntRange(0, 3).Draw(t, "at")); m != nil {
					e.atStore(e.link.Receive(e.now, m))
				}
			},
			"to the phone": func(t *rapid.T) {
				if m := pull(&e.down, rapid.IntRange(0, 3).Draw(t, "at")); m != nil {
					e.onPhone(e.phone.Receive(e.now, m))
				}
			},
			"twice": func(t *rapid.T) {
				if len(e.up) > 0 {
					e.up = append(e.up, e.up[0])
				}
				if len(e.down) > 0 {
					e.down = append(e.down, e.down[0])
				}
			},
			"lost": func(t *rapid.T) {
				pull(&e.up, 0)
				pull(&e.down, 0)
			},
			"disk": func(t *rapid.T) {
				// A disk that was asked for n..m may tell of any number up to m, and again of an older one.
				if done < len(e.writes) {
					w := e.writes[done]
					upTo := w.After + uint64(rapid.IntRange(1, len(w.Items)).Draw(t, "items"))
					e.onPhone(e.phone.Stored(w.Stream, Down, upTo))
					if upTo == w.After+uint64(len(w.Items)) {
						done++
					}
				}
			},
			"cut": func(*rapid.T) { e.connect() },
			"crash": func(t *rapid.T) {
				r, err := NewReplica(phoneA, e.parts()...)
				if err != nil {
					t.Fatal(err)
				}
				e.phone, done = r, len(e.writes)
				e.connect()
			},
			"time": func(*rapid.T) {
				e.now += 2_000
				e.onPhone(e.phone.Tick(e.now))
				e.atStore(e.link.Tick(e.now))
			},
			"": func(t *rapid.T) {
				for _, s := range append(append([]Stop(nil), e.stops...), e.refused...) {
					if s.Fatal {
						t.Fatalf("stopped: %+v", s)
					}
				}
				if len(e.stops)+len(e.refused) > 0 {
					e.connect()
				}
			},
		})
		e.slow, e.writes = false, nil
		from := e.phone.Part("workshop").Down.Seq
		e.connect()
		e.settle()
		if len(e.stops)+len(e.refused) > 0 || e.phone.Unsent() != 0 || len(e.phone.Pending("workshop")) != 0 {
			rt.Fatalf("%v %v, %d unsent", e.stops, e.refused, e.phone.Unsent())
		}
		g := e.store.logs["workshop"]
		if g.durable != want || len(g.entries[phoneA]) != want {
			rt.Fatalf("%d committed and %d in the store", want, g.durable)
		}
		var tail [][]byte
		for _, w := range e.writes {
			tail = append(tail, w.Items...)
		}
		if at := differ(tail, g.envelopes[from:]); at >= 0 {
			rt.Fatalf("the phone's envelope %d is not the store's", int(from)+at+1)
		}
	})
}
