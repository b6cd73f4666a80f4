package sync

// receiver is the incoming half of a line.
type receiver struct {
	head    Head     // taken in, also what is not on disk yet
	durable uint64   // on disk
	waiting []uint64 // last numbers of the batches that were handed out to persist
}

func newReceiver(h Head) receiver { return receiver{head: h, durable: h.Seq} }

// stored takes the caller's word that items are on disk, and tells whether that is news to the other side.
func (in *receiver) stored(seq uint64) bool {
	// What another connection of the same device brought is not this one's to acknowledge: its hash was not compared.
	seq = min(seq, in.head.Seq)
	for len(in.waiting) > 0 && in.waiting[0] <= seq {
		in.waiting = in.waiting[1:]
	}
	if seq <= in.durable {
		return false
	}
	in.durable = seq
	return true
}

// onBatch takes a batch in when it follows what is here and adds up; otherwise it says what is here. A hole is
// impossible, a duplicate harmless.
func (l *Link) onBatch(ln *line, b Batch) []Action {
	if ln.heal != nil {
		return nil
	}
	in := &ln.in
	last := b.Prev + uint64(len(b.Items))
	if b.Prev != in.head.Seq {
		// Another connection of this device may have brought more.
		if h := l.head(ln.name, b.Log); h.Seq > in.head.Seq {
			in.head, in.durable = h, h.Seq
		}
	}
	if b.Prev != in.head.Seq {
		return l.sayHave(ln, b, last)
	}
	if len(in.waiting) >= 2*Window {
		return nil // a sender beyond its window; as though lost, so that memory stays bounded
	}
	if err := dense(b); err != nil {
		return l.stop(stopMalformed(err))
	}
	h := in.head.Hash
	for _, item := range b.Items {
		h = h.Next(item)
	}
	if h != b.Last {
		return l.stop(stopHash(ln.name, b.Log, b.Prev))
	}
	in.head = Head{last, h}
	in.waiting = append(in.waiting, last)
	return []Action{Persist{Stream: ln.name, Log: b.Log, Epoch: ln.epoch, After: b.Prev, Items: b.Items, Hash: h, MAC: b.MAC}}
}

func (l *Link) sayHave(ln *line, b Batch, last uint64) []Action {
	in := &ln.in
	if last <= in.head.Seq {
		h, ok := in.head.Hash, last == in.head.Seq
		if !ok {
			h, ok = l.src.HashAt(ln.name, b.Log, last)
		}
		if ok && h != b.Last {
			return l.stop(stopFork(ln.name, b.Log, last))
		}
	}
	out := []Action{l.send(Have{ln.name, b.Log, in.head})}
	if in.durable > 0 {
		out = append(out, l.send(Ack{ln.name, b.Log, in.durable}))
	}
	return out
}

// dense checks that every item parses and carries the number that its place asks for.
func dense(b Batch) error {
	for i, item := range b.Items {
		want := b.Prev + uint64(i) + 1
		var got uint64
		if b.Log == Up { // Down and Back are envelopes
			e, err := ParseEntry(item)
			if err != nil {
				return malformed("item %d of %s: %v", want, b.Stream, err)
			}
			got = e.Seq
		} else {
			v, err := ParseEnvelope(item)
			if err != nil {
				return malformed("item %d of %s: %v", want, b.Stream, err)
			}
			got = v.Seq
		}
		if got != want {
			return malformed("number %d in %s where %d belongs", got, b.Stream, want)
		}
	}
	return nil
}
