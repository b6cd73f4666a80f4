package sync

import (
	"bytes"
	"fmt"
	"testing"
)

// ends is one phone and one store joined by hand, so that a test decides what arrives. Disks take no time unless
// slow is set; then the test says when.
type ends struct {
	t       *testing.T
	store   *simStore
	phone   *Replica
	link    *Link
	device  DeviceID
	now     int64
	up      [][]byte // on the way to the store
	down    [][]byte // on the way to the phone
	stops   []Stop   // the phone's
	refused []Stop   // the store's
	acked   uint64
	writes  []Persist // the phone's, all that were asked for
	swaps   []Swap
	kept    map[string][][]byte // envelopes that the phone began with
	slow    bool
}

func newEnds(t *testing.T, store *simStore, device DeviceID, parts ...Part) *ends {
	t.Helper()
	if store == nil {
		store = newSimStore(&simWorld{seen: map[string]int{}}, []string{"shelf", "workshop"})
	}
	r, err := NewReplica(device, parts...)
	if err != nil {
		t.Fatal(err)
	}
	return &ends{t: t, store: store, phone: r, device: device, now: 1_790_000_000_000}
}

func (e *ends) write(stream string, body string) Entry {
	n := e.phone.Write(stream, e.now, 3, 1, []byte(body))
	e.onPhone(e.phone.Committed(e.now, stream, n.Seq))
	return n
}

func (e *ends) connect() {
	e.up, e.down, e.stops, e.refused = nil, nil, nil, nil
	e.link = Accept(StoreConfig{Name: "Book", Epoch: e.store.epoch, Key: e.store.key}, simSource{e.store, &simConn{device: e.device}})
	e.atStore(e.link.Start(e.now))
	e.onPhone(e.phone.Connect(e.now, []byte("token")))
}

func (e *ends) onPhone(todo []Action) {
	for _, a := range todo {
		switch a := a.(type) {
		case Send:
			e.up = append(e.up, a.Bytes)
		case Acked:
			e.acked = a.Seq
		case Fetch:
			e.onPhone(e.phone.Fetched(e.now, a.Stream, a.After, e.disk(a.Stream)[a.After:a.Through]))
		case Swap:
			e.swaps = append(e.swaps, a)
		case Persist:
			e.writes = append(e.writes, a)
			if !e.slow {
				e.onPhone(e.phone.Stored(a.Stream, Down, a.After+uint64(len(a.Items))))
			}
		case Stop:
			e.stops = append(e.stops, a)
		}
	}
}

func (e *ends) atStore(todo []Action) {
	for _, a := range todo {
		switch a := a.(type) {
		case Send:
			e.down = append(e.down, a.Bytes)
		case Authenticate:
			if string(a.Token) != "token" {
				e.atStore(e.link.Rejected(CodeToken, "This phone is not known here.", "Pair it again."))
				continue
			}
			e.atStore(e.link.Authenticated("maker", "A", e.store.names))
		case Heal:
			keep, err := e.store.heal(a)
			if err != nil {
				e.atStore(e.link.Fail(CodeFork, err.Error(), "Look after it."))
				continue
			}
			e.store.logs[a.Stream].sync()
			e.atStore(e.link.Healed(a.Stream, keep))
		case Persist:
			if err := e.store.append(a.Stream, e.device, a.After, a.Items, e.link.offset); err != nil {
				e.atStore(e.link.Fail(CodeFork, err.Error(), "Look after it."))
				continue
			}
			e.store.logs[a.Stream].sync()
			e.atStore(e.link.Stored(a.Stream, Up, a.After+uint64(len(a.Items))))
			e.atStore(e.link.Grew(a.Stream, Down))
		case Stop:
			e.refused = append(e.refused, a)
		}
	}
}

// step delivers one message, the store's side first, and tells whether there was one.
func (e *ends) step() bool {
	switch {
	case len(e.up) > 0:
		m := e.up[0]
		e.up = e.up[1:]
		e.atStore(e.link.Receive(e.now, m))
	case len(e.down) > 0:
		m := e.down[0]
		e.down = e.down[1:]
		e.onPhone(e.phone.Receive(e.now, m))
	default:
		return false
	}
	return true
}

func (e *ends) settle() {
	for e.step() {
	}
}

// agree checks that all is said: nothing pending, equal heads, the same envelopes.
func (e *ends) agree(stream string, n int) {
	e.t.Helper()
	if len(e.stops)+len(e.refused) > 0 {
		e.t.Fatalf("stopped: phone %v, store %v", e.stops, e.refused)
	}
	if e.phone.Unsent() != 0 || len(e.phone.Pending(stream)) != 0 {
		e.t.Fatalf("%d unsent and %d pending", e.phone.Unsent(), len(e.phone.Pending(stream)))
	}
	g := e.store.logs[stream]
	if want := (Head{uint64(g.durable), g.running[g.durable]}); e.phone.Part(stream).Down != want || g.durable != n {
		e.t.Fatalf("phone holds %d of %s, store %d, want %d", e.phone.Part(stream).Down.Seq, stream, g.durable, n)
	}
	if at := differ(e.disk(stream), g.envelopes); at >= 0 {
		e.t.Fatalf("envelope %d differs between phone and store", at+1)
	}
}

// disk is what the phone's host has written of a stream.
func (e *ends) disk(stream string) [][]byte {
	got := e.kept[stream]
	for _, w := range e.writes {
		if w.Stream == stream && w.After == uint64(len(got)) {
			got = append(got, w.Items...)
		}
	}
	return got
}

// stopped checks that both sides ended with a code and a sentence.
func (e *ends) stopped(code string) {
	e.t.Helper()
	for side, s := range map[string][]Stop{"phone": e.stops, "store": e.refused} {
		if len(s) != 1 || s[0].Code != code || s[0].Says == "" || s[0].Hint == "" || s[0].Fatal != fatal(code) {
			e.t.Fatalf("%s: %+v, want one stop with code %s", side, s, code)
		}
	}
}

func (e *ends) sent(of byte) (n int) {
	for _, m := range append(append([][]byte(nil), e.up...), e.down...) {
		if m[0] == of {
			n++
		}
	}
	return n
}

var phoneA, phoneB = DeviceID{0xA}, DeviceID{0xB}

func bodies(n int) (out []string) {
	for i := range n {
		out = append(out, fmt.Sprint("body ", i))
	}
	return out
}

func same(t *testing.T, got, want []byte) {
	t.Helper()
	if !bytes.Equal(got, want) {
		t.Fatalf("got  %x\nwant %x", got, want)
	}
}
