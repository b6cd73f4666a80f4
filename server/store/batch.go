package store

import (
	"bytes"
	"fmt"

	"stillroom/sync"
)

// Addition is one Append as it was asked for.
type Addition struct {
	Stream  string
	Device  sync.DeviceID
	After   uint64
	Entries [][]byte
	Meta    Meta
}

// Bytes is the size of all its entries.
func (a Addition) Bytes() int {
	n := 0
	for _, e := range a.Entries {
		n += len(e)
	}
	return n
}

// Check refuses what no store takes: another epoch, no stream, too much at once.
func (a Addition) Check(epoch sync.Epoch) error {
	if a.Meta.Epoch != (sync.Epoch{}) && a.Meta.Epoch != epoch {
		return &Epoch{Have: epoch, Given: a.Meta.Epoch}
	}
	if n := len(a.Stream); n == 0 || n > sync.MaxName {
		return &Malformed{Seq: a.After + 1, Why: fmt.Sprintf("the name of its stream has %d bytes", n)}
	}
	if n := len(a.Entries); n > sync.MaxBatchEntries {
		return &Malformed{Seq: a.After + 1, Why: fmt.Sprintf("%d entries came at once and %d are allowed", n, sync.MaxBatchEntries)}
	}
	if n := a.Bytes(); n > sync.MaxBatchBytes {
		return &Malformed{Seq: a.After + 1, Why: fmt.Sprintf("%d bytes came at once and %d are allowed", n, sync.MaxBatchBytes)}
	}
	return nil
}

// Batch gathers additions that become durable together. Until Take the ledger shows none of them.
type Batch struct {
	ledger *Ledger
	// Lines are the streams that grow, in the order of their first addition.
	Lines []*Growth
}

// Growth is what a batch adds to one stream.
type Growth struct {
	Stream string
	// From is the head before the batch, Head the one after it.
	From, Head Head
	// Envelopes are the canonical bytes of the numbers From.Seq+1 to Head.Seq, Hashes the running hash after each.
	Envelopes [][]byte
	Hashes    []sync.Hash

	devices map[sync.DeviceID]*grown
}

type grown struct {
	from, head Head
	entries    [][]byte
	hashes     []sync.Hash
	numbers    []uint64
}

// NewBatch starts a batch on a ledger.
func NewBatch(l *Ledger) *Batch { return &Batch{ledger: l} }

// Empty tells that nothing would be written.
func (b *Batch) Empty() bool {
	for _, g := range b.Lines {
		if len(g.Envelopes) > 0 {
			return false
		}
	}
	return true
}

func (b *Batch) line(stream string) *Growth {
	for _, g := range b.Lines {
		if g.Stream == stream {
			return g
		}
	}
	head := b.ledger.Head(stream)
	g := &Growth{Stream: stream, From: head, Head: head, devices: map[sync.DeviceID]*grown{}}
	b.Lines = append(b.Lines, g)
	return g
}

func (b *Batch) device(g *Growth, d sync.DeviceID) *grown {
	w := g.devices[d]
	if w == nil {
		head := b.ledger.DeviceHead(g.Stream, d)
		w = &grown{from: head, head: head}
		g.devices[d] = w
	}
	return w
}

// Add checks one addition against the book and what the batch holds already, and takes it in whole or not at all. read
// fetches the envelope with a number of the stream's log; it is asked only for entries that are there already. The Ack
// is true once the batch is durable. Errors are those of Store.Append.
func (b *Batch) Add(a Addition, read func(stream string, seq uint64) ([]byte, error)) (Ack, error) {
	parsed := make([]sync.Entry, len(a.Entries))
	for i, raw := range a.Entries {
		want := a.After + 1 + uint64(i)
		if len(raw) > sync.MaxEntryBytes {
			return Ack{}, &Malformed{Seq: want, Why: fmt.Sprintf("it has %d bytes and %d are allowed", len(raw), sync.MaxEntryBytes)}
		}
		e, err := sync.ParseEntry(raw)
		if err != nil {
			return Ack{}, &Malformed{Seq: want, Why: err.Error()}
		}
		if e.Seq != want {
			return Ack{}, &Malformed{Seq: want, Why: fmt.Sprintf("it is numbered %d", e.Seq)}
		}
		parsed[i] = e
	}
	g := b.line(a.Stream)
	w := b.device(g, a.Device)
	if a.After > w.head.Seq {
		return Ack{}, &Gap{Stream: a.Stream, Device: a.Device, After: a.After, Have: w.head}
	}
	fresh, err := b.same(g, w, a, read)
	if err != nil {
		return Ack{}, err
	}
	if err := checkLast(w, a, fresh); err != nil {
		return Ack{}, err
	}
	if fresh < len(a.Entries) {
		b.open(g, max(a.Meta.At, 0))
	}
	ack := Ack{Device: w.head}
	for i := fresh; i < len(a.Entries); i++ {
		seq := g.Head.Seq + 1
		held := a.Meta.Held != nil && a.Meta.Held(parsed[i])
		envelope := sync.Envelope{Seq: seq, Device: a.Device, Held: held, At: max(a.Meta.At, 0), Offset: a.Meta.Offset, Entry: a.Entries[i]}.Append(nil)
		g.add(envelope, w, a.Entries[i])
		if ack.First == 0 {
			ack.First = seq
		}
		ack.Last = seq
	}
	ack.Device = w.head
	return ack, nil
}

// open writes the store's own entry where it is due.
func (b *Batch) open(g *Growth, at int64) {
	o := b.ledger.Opening
	if o == nil || g.Head.Seq == 0 {
		return
	}
	w := b.device(g, o.Device)
	if w.head.Seq > 0 {
		return
	}
	if entry := o.Entry(g.Stream, g.Head.Seq, at); entry != nil {
		g.add(sync.Envelope{Seq: g.Head.Seq + 1, Device: o.Device, At: at, Entry: entry}.Append(nil), w, entry)
	}
}

// same compares the entries that are there already and gives the index of the first that is not.
func (b *Batch) same(g *Growth, w *grown, a Addition, read func(string, uint64) ([]byte, error)) (int, error) {
	overlap := int(min(w.head.Seq-a.After, uint64(len(a.Entries))))
	if overlap == 0 {
		return 0, nil
	}
	numbers := b.ledger.Numbers(a.Stream, a.Device, a.After, overlap)
	for i := 0; i < overlap; i++ {
		seq := a.After + 1 + uint64(i)
		var there []byte
		if seq > w.from.Seq {
			there = w.entries[seq-w.from.Seq-1]
		} else {
			raw, err := read(a.Stream, numbers[i])
			if err != nil {
				return 0, err
			}
			v, err := sync.ParseEnvelope(raw)
			if err != nil {
				return 0, &Damaged{Stream: a.Stream, First: numbers[i], Last: numbers[i], How: NotRead}
			}
			there = v.Entry
		}
		if !bytes.Equal(there, a.Entries[i]) {
			return 0, &Fork{Stream: a.Stream, Device: a.Device, Seq: seq}
		}
	}
	return overlap, nil
}

// checkLast compares the device's own chain with what its line would be, before anything is taken in.
func checkLast(w *grown, a Addition, fresh int) error {
	if a.Meta.Last == (sync.Hash{}) || fresh == len(a.Entries) && a.After+uint64(fresh) != w.head.Seq {
		return nil
	}
	h := w.head.Hash
	for _, raw := range a.Entries[fresh:] {
		h = h.Next(raw)
	}
	if h != a.Meta.Last {
		return &Fork{Stream: a.Stream, Device: a.Device, Seq: w.head.Seq}
	}
	return nil
}

// Take makes the batch part of the ledger, once it is durable.
func (l *Ledger) Take(b *Batch) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, g := range b.Lines {
		if len(g.Envelopes) == 0 {
			continue
		}
		s := l.stream(g.Stream)
		for _, h := range g.Hashes {
			s.log.add(h)
		}
		for d, w := range g.devices {
			o := s.device(g.Stream, d)
			for _, h := range w.hashes {
				o.add(h)
			}
			o.numbers = append(o.numbers, w.numbers...)
		}
	}
}
