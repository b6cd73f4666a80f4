package door

import (
	"context"
	"slices"
	"testing"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/server/store/memory"
	"stillroom/sync"
)

// home is a home store in memory and one line to each phone, carried by hand: message by message, so that a test can
// cut it anywhere.
type home struct {
	t     *testing.T
	st    *memory.Store
	lines map[*phone]*homeLine
	order []*phone // in which lines are served, so that every run is the same
	now   int64
	asks  map[sync.DeviceID]string // role of a device
	knows uint32                   // its schema; 0 does not say
}

type homeLine struct {
	link   *sync.Link
	device sync.DeviceID
	offset int64
	out    [][]byte
}

func newHome(t *testing.T) *home {
	return &home{t: t, st: memory.New(sync.Epoch{7}, []byte("key of the test")), lines: map[*phone]*homeLine{}, now: morning, asks: map[sync.DeviceID]string{}}
}

type homeSource struct {
	st *memory.Store
	l  *homeLine
}

func (s homeSource) Head(stream string, log sync.Log) (uint64, sync.Hash) {
	h := s.st.Head(stream)
	if log == sync.Up {
		h = s.st.DeviceHead(stream, s.l.device)
	}
	return h.Seq, h.Hash
}

func (s homeSource) HashAt(stream string, log sync.Log, seq uint64) (sync.Hash, bool) {
	if log == sync.Up {
		return s.st.DeviceHashAt(stream, s.l.device, seq)
	}
	return s.st.HashAt(stream, seq)
}

func (s homeSource) Read(stream string, log sync.Log, after uint64, maxItems, maxBytes int) [][]byte {
	items, err := s.st.Read(context.Background(), stream, after, maxItems, maxBytes)
	if err != nil || log == sync.Up {
		return nil
	}
	return items
}

// connect opens a line; nothing travels yet.
func (h *home) connect(p *phone) {
	h.t.Helper()
	h.cut(p)
	h.open(p)
	p.act(p.must(OpConnect, nil, nil))
}

// open is the store's end of a new line.
func (h *home) open(p *phone) *homeLine {
	h.t.Helper()
	l := &homeLine{}
	l.link = sync.Accept(sync.StoreConfig{Name: "the test's home", Epoch: h.st.Epoch(), Key: h.st.Key(), Schema: h.knows}, homeSource{h.st, l})
	h.lines[p] = l
	h.order = append(h.order, p)
	h.do(l, l.link.Start(h.now))
	return l
}

// cut ends a line; what is under way on it is gone.
func (h *home) cut(p *phone) {
	if h.lines[p] == nil {
		return
	}
	h.drop(p)
	p.out = nil
	p.act(p.must(OpClosed, nil, nil))
}

// drop is the store's end of a line that is gone.
func (h *home) drop(p *phone) {
	delete(h.lines, p)
	h.order = slices.DeleteFunc(h.order, func(o *phone) bool { return o == p })
}

// carry takes at most n messages across each line, both ways, and says whether any is left.
func (h *home) carry(n int) bool {
	h.t.Helper()
	for range n {
		moved := false
		for _, p := range h.order {
			l := h.lines[p]
			if len(p.out) > 0 {
				m := p.out[0]
				p.out, moved = p.out[1:], true
				h.do(l, l.link.Receive(h.now, m))
			}
			if len(l.out) > 0 {
				m := l.out[0]
				l.out, moved = l.out[1:], true
				p.act(p.must(OpReceive, nil, m))
			}
		}
		if !moved {
			return false
		}
	}
	return true
}

func (h *home) settle() {
	h.t.Helper()
	if h.carry(10_000) {
		h.t.Fatal("the lines do not come to rest")
	}
}

func (h *home) do(l *homeLine, todo []sync.Action) {
	h.t.Helper()
	for _, a := range todo {
		switch a := a.(type) {
		case sync.Send:
			l.out = append(l.out, a.Bytes)
		case sync.Authenticate:
			l.device, l.offset = a.Device, a.Offset
			h.do(l, l.link.Authenticated(h.role(a.Device), string(rune('A'+a.Device[0]-1)), book.Reads(h.role(a.Device))))
		case sync.Persist:
			_, err := h.st.Append(context.Background(), a.Stream, l.device, a.After, a.Items, store.Meta{At: h.now, Offset: l.offset, Last: a.Hash})
			if err != nil {
				h.t.Fatalf("the store refused: %v", err)
			}
			h.do(l, l.link.Stored(a.Stream, sync.Up, a.After+uint64(len(a.Items))))
			for _, p := range h.order {
				other := h.lines[p]
				h.do(other, other.link.Grew(a.Stream, sync.Down))
			}
		case sync.Heal:
			keep, _, err := store.TakeBack(context.Background(), h.st, a.Stream, a.After, a.Items, a.Repair)
			if err != nil {
				h.t.Fatalf("the store took nothing back: %v", err)
			}
			h.do(l, l.link.Healed(a.Stream, keep))
		case sync.Stop:
			h.t.Logf("store stops %s: %s %s", l.device, a.Code, a.Says)
		}
	}
}

func (h *home) role(d sync.DeviceID) string {
	if r := h.asks[d]; r != "" {
		return r
	}
	return book.Owner
}
