package sync

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// entryLayout is the first byte of every entry of protocol version 1.
const entryLayout = 0x01

// Seen is what a device had folded of the store's log, in the entry's stream, when it wrote the entry.
type Seen struct {
	Epoch Epoch
	Seq   uint64
}

// Entry is one thing that a device wrote. Stream and device are its address; the seed of the chain binds them in.
type Entry struct {
	Seq  uint64 // the device's own number in the stream, dense from 1
	Seen Seen
	At   int64 // the device's clock, ms since 1970 UTC: data, never order; not negative
	Kind uint32
	V    uint32
	Body []byte
}

// Append adds the entry's bytes to dst. They are written once, by the device, and travel unchanged for ever.
func (e Entry) Append(dst []byte) []byte {
	dst = append(dst, entryLayout)
	dst = binary.AppendUvarint(dst, e.Seq)
	dst = append(dst, e.Seen.Epoch[:]...)
	dst = binary.AppendUvarint(dst, e.Seen.Seq)
	dst = binary.AppendUvarint(dst, uint64(e.At))
	dst = binary.AppendUvarint(dst, uint64(e.Kind))
	dst = binary.AppendUvarint(dst, uint64(e.V))
	return append(dst, e.Body...)
}

// ParseEntry reads the bytes of an entry. It is strict: what it accepts, Append writes again to the same bytes.
// The body shares memory with b.
func ParseEntry(b []byte) (Entry, error) {
	var e Entry
	if len(b) > MaxEntryBytes {
		return e, fmt.Errorf("an entry of %d bytes is larger than %d", len(b), MaxEntryBytes)
	}
	r := reader{b: b}
	if r.byte() != entryLayout && r.err == nil {
		return e, errors.New("an entry begins with the byte 01")
	}
	e.Seq = r.uvarint()
	copy(e.Seen.Epoch[:], r.take(8))
	e.Seen.Seq = r.uvarint()
	at := r.uvarint()
	e.Kind = r.uvarint32()
	e.V = r.uvarint32()
	if r.err != nil {
		return Entry{}, fmt.Errorf("entry: %w", r.err)
	}
	if e.Seq == 0 {
		return Entry{}, errors.New("entry: numbers begin at 1")
	}
	if at > 1<<62 {
		return Entry{}, errors.New("entry: its clock is out of range")
	}
	e.At = int64(at)
	e.Body = r.rest()
	return e, nil
}
