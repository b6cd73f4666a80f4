package sync

import (
	"bytes"
	"testing"
)

// What parses is written back to the same bytes: two spellings of one thing would be two things to a hash.

func fuzzLayout(f *testing.F, name string) {
	for _, file := range []string{name} {
		for _, v := range vecFiles()[file].(layoutFile).Vectors {
			f.Add(unhex(v.Bytes))
		}
		for _, v := range vecFiles()[file].(layoutFile).Refused {
			f.Add(unhex(v.Bytes))
		}
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		got, err := reencode[name](b)
		if err == nil && !bytes.Equal(got, b) {
			t.Fatalf("read  %x\nwrote %x", b, got)
		}
	})
}

func FuzzEntry(f *testing.F)    { fuzzLayout(f, "entry.json") }
func FuzzEnvelope(f *testing.F) { fuzzLayout(f, "envelope.json") }
func FuzzMessage(f *testing.F)  { fuzzLayout(f, "message.json") }

// Whatever a stranger sends, at any moment of a connection: no panic, nothing unsent is gone, nothing of it persisted
// unless it adds up, and the honest phone gets through afterwards.
func FuzzStranger(f *testing.F) {
	for _, v := range vecMessages() {
		f.Add(unhex(v.Bytes), true)
		f.Add(unhex(v.Bytes), false)
	}
	f.Fuzz(func(t *testing.T, msg []byte, toStore bool) {
		e := newEnds(t, nil, phoneA)
		e.connect()
		e.settle()
		e.write("workshop", "one")
		before := e.phone.Unsent()
		if toStore {
			e.atStore(e.link.Receive(e.now, msg))
		} else {
			e.onPhone(e.phone.Receive(e.now, msg))
			if m, err := ParseMessage(msg); err == nil {
				if a, ok := m.(Ack); ok && a == (Ack{"workshop", Up, 1}) {
					return // a store that acknowledges what it has not: nothing on this side can tell
				}
			}
			if e.phone.Unsent() != before {
				t.Fatal("an entry is gone")
			}
		}
		if len(e.refused)+len(e.stops) == 0 {
			return
		}
		e.phone.Closed()
		if n := e.store.logs["workshop"].durable; n > 1 {
			t.Fatalf("%d entries of one", n)
		}
		e.connect()
		e.settle()
		if len(e.stops) > 0 && !e.stops[0].Fatal {
			t.Fatalf("the phone does not get through: %+v", e.stops)
		}
	})
}
