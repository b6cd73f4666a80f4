package store

import (
	"bytes"
	"context"
	"fmt"

	"stillroom/sync"
)

// Tail is one TakeBack as it was asked for: the envelopes that follow number After of a log of this store in another life,
// or of this one before it lost its end.
type Tail struct {
	Stream    string
	After     uint64
	Envelopes [][]byte
	// Common tells that the log up to After is the same here.
	Common bool
	// Repair tells that it is this same life: what differs is a second history.
	Repair bool
}

// Back is how a TakeBack ended.
type Back struct {
	// Common tells that the log is the same here up to the last of the envelopes as well.
	Common bool
	// Added counts entries that were not there.
	Added int
}

// AddBack takes in a part of a log's end, whole or not at all: what is there stays, what follows keeps its number, and
// where the log has moved on the rest comes behind in its old order. Errors are those of Store.TakeBack.
func (b *Batch) AddBack(t Tail, read func(stream string, seq uint64) ([]byte, error)) (Back, error) {
	if len(b.Lines) > 0 {
		return Back{}, fmt.Errorf("a log's end is taken back in a batch of its own")
	}
	back := Back{Common: t.Common}
	g := b.line(t.Stream)
	give := func(err error) (Back, error) {
		b.Lines = nil
		return Back{}, err
	}
	for i, raw := range t.Envelopes {
		seq := t.After + 1 + uint64(i)
		v, err := sync.ParseEnvelope(raw)
		if err == nil && v.Seq != seq {
			err = fmt.Errorf("it is numbered %d", v.Seq)
		}
		if err != nil {
			return give(&Malformed{Seq: seq, Why: err.Error()})
		}
		e, err := sync.ParseEntry(v.Entry)
		if err != nil {
			return give(&Malformed{Seq: seq, Why: err.Error()})
		}
		if back.Common && seq <= g.Head.Seq {
			there, err := b.envelope(g, seq, read)
			if err != nil {
				return give(err)
			}
			back.Common = bytes.Equal(there, raw)
		} else if seq > g.Head.Seq+1 {
			back.Common = false
		}
		if t.Repair && !back.Common {
			return give(&Fork{Stream: t.Stream, Device: v.Device, Seq: e.Seq})
		}
		w := b.device(g, v.Device)
		if e.Seq > w.head.Seq+1 {
			return give(&Gap{Stream: t.Stream, Device: v.Device, After: e.Seq - 1, Have: w.head})
		}
		if e.Seq <= w.head.Seq {
			a := Addition{Stream: t.Stream, Device: v.Device, After: e.Seq - 1, Entries: [][]byte{v.Entry}}
			if _, err := b.same(g, w, a, read); err != nil {
				return give(err)
			}
			continue
		}
		v.Seq = g.Head.Seq + 1
		g.add(v.Append(nil), w, v.Entry)
		back.Added++
	}
	return back, nil
}

// envelope is one of the log as the batch would leave it.
func (b *Batch) envelope(g *Growth, seq uint64, read func(string, uint64) ([]byte, error)) ([]byte, error) {
	if seq > g.From.Seq {
		return g.Envelopes[seq-g.From.Seq-1], nil
	}
	return read(g.Stream, seq)
}

// add puts one envelope at the end of the stream, and its entry at the end of its device's line.
func (g *Growth) add(envelope []byte, w *grown, entry []byte) {
	g.Head = Head{Seq: g.Head.Seq + 1, Hash: g.Head.Hash.Next(envelope)}
	g.Envelopes, g.Hashes = append(g.Envelopes, envelope), append(g.Hashes, g.Head.Hash)
	w.head = Head{Seq: w.head.Seq + 1, Hash: w.head.Hash.Next(entry)}
	w.entries, w.hashes, w.numbers = append(w.entries, entry), append(w.hashes, w.head.Hash), append(w.numbers, g.Head.Seq)
}

// TakeBack takes back a whole end of a log in as many steps as it needs. keep is the last number up to which that log
// and this one are the same afterwards; the log up to after is. When it is cut in the middle, the same call made again
// goes on where it was.
func TakeBack(ctx context.Context, s Store, stream string, after uint64, envelopes [][]byte, repair bool) (keep uint64, added int, err error) {
	t := Tail{Stream: stream, After: after, Common: true, Repair: repair}
	for keep = after; len(envelopes) > 0; {
		cut := Cut{MaxBytes: sync.MaxBatchBytes}
		for _, raw := range envelopes {
			if len(cut.Items) == sync.MaxBatchEntries || !cut.Take(raw) {
				break
			}
		}
		t.Envelopes = cut.Items
		back, err := s.TakeBack(ctx, t)
		if err != nil {
			return 0, added, err
		}
		added += back.Added
		if t.Common && !back.Common {
			if keep, err = lastCommon(ctx, s, t); err != nil {
				return 0, added, err
			}
		}
		if t.After += uint64(len(cut.Items)); back.Common {
			keep = t.After
		}
		t.Common, envelopes = back.Common, envelopes[len(cut.Items):]
	}
	return keep, added, nil
}

func lastCommon(ctx context.Context, s Store, t Tail) (uint64, error) {
	here, err := s.Read(ctx, t.Stream, t.After, len(t.Envelopes), 0)
	n := 0
	for n < len(here) && n < len(t.Envelopes) && bytes.Equal(here[n], t.Envelopes[n]) {
		n++
	}
	return t.After + uint64(n), err
}
