package sync

import (
	"bytes"
	"crypto/hmac"
)

// tail is the end of a log in memory, read by a sender of Back. It is a Source of that log alone.
type tail struct {
	from   Head
	items  [][]byte
	hashes []Hash // after each item
}

func newTail(from Head, items [][]byte) *tail {
	t := &tail{from: from, items: items, hashes: make([]Hash, len(items))}
	h := from.Hash
	for i, item := range items {
		h = h.Next(item)
		t.hashes[i] = h
	}
	return t
}

func (t *tail) end() Head {
	h, _ := t.HashAt("", Back, t.from.Seq+uint64(len(t.items)))
	return Head{t.from.Seq + uint64(len(t.items)), h}
}

// Head is Source's.
func (t *tail) Head(string, Log) (uint64, Hash) { return t.end().Seq, t.end().Hash }

// HashAt is Source's.
func (t *tail) HashAt(_ string, _ Log, seq uint64) (Hash, bool) {
	switch {
	case seq < t.from.Seq || seq > t.from.Seq+uint64(len(t.items)):
		return Hash{}, false
	case seq == t.from.Seq:
		return t.from.Hash, true
	}
	return t.hashes[seq-t.from.Seq-1], true
}

// Read is Source's.
func (t *tail) Read(_ string, _ Log, after uint64, maxItems, maxBytes int) [][]byte {
	if after < t.from.Seq {
		return nil
	}
	var out [][]byte
	for _, item := range t.items[min(after-t.from.Seq, uint64(len(t.items))):] {
		if maxBytes -= len(item); len(out) > 0 && (len(out) == maxItems || maxBytes < 0) {
			break
		}
		out = append(out, item)
	}
	return out
}

// writer is one entry's address in a stream.
type writer struct {
	device DeviceID
	seq    uint64
}

// missing gives the number of the first envelope of old whose entry is not in log, byte for byte; 0 when all are.
func missing(old, log [][]byte) uint64 {
	have := make(map[writer][]byte, len(log))
	for _, raw := range log {
		if v, err := ParseEnvelope(raw); err == nil {
			e, _ := ParseEntry(v.Entry)
			have[writer{v.Device, e.Seq}] = v.Entry
		}
	}
	for _, raw := range old {
		v, err := ParseEnvelope(raw)
		if err != nil {
			return 1
		}
		e, _ := ParseEntry(v.Entry)
		if there, ok := have[writer{v.Device, e.Seq}]; !ok || !bytes.Equal(there, v.Entry) {
			return v.Seq
		}
	}
	return 0
}

// proved tells whether this store, in whatever life, gave out the head that a phone names.
func (l *Link) proved(s HelloStream) bool {
	want := HeadMAC(l.store.Key, s.Epoch, s.Name, s.Down.Seq, s.Down.Hash)
	return hmac.Equal(want[:], s.MAC[:])
}
