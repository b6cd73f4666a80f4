package sync

import (
	"bytes"
	"fmt"
)

// written is one own entry that did not come back yet, with the chain's hash after it.
type written struct {
	bytes []byte
	hash  Hash
}

// chunk is a batch that was handed out to persist.
type chunk struct {
	after uint64
	items [][]byte
	end   Head
	mac   [32]byte
	own   Head // own chain after what came back in it
}

// held is one stream as a phone holds it.
type held struct {
	part      Part // without Mine
	mine      []written
	committed uint64 // own entries on disk; those after it are being written
	queue     []chunk
	// marks are the store's marks by the number they stand at, of batches that were handed out: a write of an earlier
	// connection may end inside a batch of this one.
	marks map[uint64][32]byte
}

func hold(p Part, device DeviceID) (*held, error) {
	h := &held{part: p, committed: p.Own.Seq, marks: map[uint64][32]byte{}}
	h.part.Mine, h.part.Acked = nil, max(p.Acked, p.Own.Seq)
	if p.Own.Seq == 0 {
		h.part.Own.Hash = ChainSeed(p.Stream, device)
	}
	if p.Down.Seq == 0 {
		h.part.Down.Hash = RunningSeed(p.Stream)
	}
	for _, b := range p.Mine {
		e, err := ParseEntry(b)
		if err != nil {
			return nil, err
		}
		if e.Seq <= p.Own.Seq {
			continue
		}
		if e.Seq != h.last()+1 {
			return nil, malformed("this phone's own number %d in %s stands where %d belongs", e.Seq, p.Stream, h.last()+1)
		}
		h.add(b)
		h.committed = e.Seq
	}
	if h.part.Acked > h.last() {
		// Writing on would give a number away twice.
		return nil, fmt.Errorf("a home store has this phone's entries in %s up to %d, and the phone itself up to %d", p.Stream, h.part.Acked, h.last())
	}
	return h, nil
}

// last is the number of the last own entry, on disk or not.
func (h *held) last() uint64 { return h.part.Own.Seq + uint64(len(h.mine)) }

func (h *held) add(b []byte) {
	at, _ := h.chainAt(h.last())
	h.mine = append(h.mine, written{b, at.Next(b)})
}

// chainAt is the own chain's hash after number seq; false where it is not kept.
func (h *held) chainAt(seq uint64) (Hash, bool) {
	switch {
	case seq == h.part.Own.Seq:
		return h.part.Own.Hash, true
	case seq < h.part.Own.Seq || seq > h.last():
		return Hash{}, false
	}
	return h.mine[seq-h.part.Own.Seq-1].hash, true
}

// pending are the own entries on disk that did not come back.
func (h *held) pending(after uint64) []written {
	if after < h.part.Own.Seq || after >= h.committed {
		return nil
	}
	return h.mine[after-h.part.Own.Seq : h.committed-h.part.Own.Seq]
}

// take queues a batch that is to be persisted, when its own entries are the ones that this device wrote.
func (h *held) take(device DeviceID, p Persist) (Stop, bool) {
	c := chunk{after: p.After, items: p.Items, end: Head{p.After + uint64(len(p.Items)), p.Hash}, mac: p.MAC, own: h.part.Own}
	if n := len(h.queue); n > 0 {
		c.own = h.queue[n-1].own
	}
	for _, item := range p.Items {
		entry, seq, mine := ownEntry(device, item)
		if !mine {
			continue
		}
		if seq > h.committed {
			return stopBehind(p.Stream, h.committed, seq), false
		}
		if seq != c.own.Seq+1 {
			return stopUnreadable(p.Stream, Up, c.own.Seq+1), false
		}
		w := h.mine[seq-h.part.Own.Seq-1]
		if !bytes.Equal(w.bytes, entry) {
			return stopFork(p.Stream, Up, seq), false
		}
		c.own = Head{seq, w.hash}
	}
	h.queue = append(h.queue, c)
	h.marks[c.end.Seq] = c.mac
	if h.part.Epoch.IsZero() {
		h.part.Epoch = p.Epoch
	}
	return Stop{}, true
}

// fits tells whether the own entries in a new end of the log are those that this device wrote.
func (h *held) fits(device DeviceID, s Swap) (Stop, bool) {
	if s.Acked > h.committed {
		return stopBehind(s.Stream, h.committed, s.Acked), false
	}
	for _, item := range s.Items {
		entry, seq, mine := ownEntry(device, item)
		switch {
		case !mine || seq <= h.part.Own.Seq:
		case seq > h.committed:
			return stopBehind(s.Stream, h.committed, seq), false
		case !bytes.Equal(h.mine[seq-h.part.Own.Seq-1].bytes, entry):
			return stopFork(s.Stream, Up, seq), false
		}
	}
	return Stop{}, true
}

// stored moves the head to number seq as far as it was handed out, which may be inside a batch: a write of an earlier
// connection may end after the same items were handed out again in other batches.
func (h *held) stored(device DeviceID, seq uint64) bool {
	moved := false
	for len(h.queue) > 0 && h.queue[0].end.Seq <= seq {
		c := h.queue[0]
		h.queue = h.queue[1:]
		h.advance(c.items, c.end)
		h.back(c.own.Seq)
		moved = true
	}
	if len(h.queue) == 0 || seq <= h.part.Down.Seq {
		return moved
	}
	c := &h.queue[0]
	n := int(seq - c.after)
	own := h.part.Own.Seq
	for _, item := range c.items[:n] {
		h.advance([][]byte{item}, Head{h.part.Down.Seq + 1, h.part.Down.Hash.Next(item)})
		if _, s, mine := ownEntry(device, item); mine {
			own = s
		}
	}
	c.after, c.items = seq, c.items[n:]
	h.back(own)
	return true
}

// advance moves the head over items, which end at a head that is known, and keeps the checkpoint that they cross.
func (h *held) advance(items [][]byte, end Head) {
	if at := end.Seq / StepEvery * StepEvery; at > h.part.Down.Seq {
		hash := chainOver(h.part.Down.Hash, items[:at-h.part.Down.Seq])
		h.part.Steps = append(h.part.Steps[:len(h.part.Steps):len(h.part.Steps)], Head{at, hash})
	}
	h.part.Down, h.part.MAC = end, h.marks[end.Seq]
	for seq := range h.marks {
		if seq <= end.Seq {
			delete(h.marks, seq)
		}
	}
}

// back lets go of own entries that are now held in envelopes.
func (h *held) back(seq uint64) {
	if seq <= h.part.Own.Seq {
		return
	}
	hash, _ := h.chainAt(seq)
	h.mine = h.mine[seq-h.part.Own.Seq:]
	h.part.Own = Head{seq, hash}
	h.part.Acked = max(h.part.Acked, seq)
}

// OwnNumbers gives the own numbers of a device's entries among envelopes.
func OwnNumbers(device DeviceID, items [][]byte) []uint64 {
	var out []uint64
	for _, item := range items {
		if _, seq, mine := ownEntry(device, item); mine {
			out = append(out, seq)
		}
	}
	return out
}

// ownEntry reads an envelope that a Link has already checked. It looks at the device first, since most envelopes of a
// first sync are of others.
func ownEntry(device DeviceID, item []byte) (entry []byte, seq uint64, mine bool) {
	r := reader{b: item}
	r.uvarint()
	if !bytes.Equal(r.take(len(device)), device[:]) {
		return nil, 0, false
	}
	v, err := ParseEnvelope(item)
	if err != nil || v.Device != device {
		return nil, 0, false
	}
	e, err := ParseEntry(v.Entry)
	return v.Entry, e.Seq, err == nil
}
