package sync

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// Envelope is an entry as the store keeps and passes it on.
type Envelope struct {
	Seq    uint64 // the store's own number in the stream, dense from 1
	Device DeviceID
	Held   bool  // written by a role that may not: kept, not applied until the owner accepts it
	At     int64 // the store's clock, ms since 1970 UTC
	Offset int64 // the device's clock minus the store's, ms, first measured for that connection; 0 when unknown
	Entry  []byte
}

const envelopeHeld = 0x01

// Append adds the envelope's bytes to dst: uvarint seq, 8 bytes of device, a byte of flags, uvarint at,
// zigzag offset, then the entry to the end.
func (v Envelope) Append(dst []byte) []byte {
	dst = binary.AppendUvarint(dst, v.Seq)
	dst = append(dst, v.Device[:]...)
	var flags byte
	if v.Held {
		flags |= envelopeHeld
	}
	dst = append(dst, flags)
	dst = binary.AppendUvarint(dst, uint64(v.At))
	dst = binary.AppendVarint(dst, v.Offset)
	return append(dst, v.Entry...)
}

// ParseEnvelope reads the bytes of an envelope and checks that the entry in it parses. Entry shares memory with b.
func ParseEnvelope(b []byte) (Envelope, error) {
	var v Envelope
	if len(b) > MaxEnvelopeBytes {
		return v, fmt.Errorf("an envelope of %d bytes is larger than %d", len(b), MaxEnvelopeBytes)
	}
	r := reader{b: b}
	v.Seq = r.uvarint()
	copy(v.Device[:], r.take(8))
	flags := r.byte()
	at := r.uvarint()
	v.Offset = r.varint()
	if r.err != nil {
		return Envelope{}, fmt.Errorf("envelope: %w", r.err)
	}
	if v.Seq == 0 || flags&^envelopeHeld != 0 || at > 1<<62 {
		return Envelope{}, errors.New("envelope: number, flags or clock out of range")
	}
	v.Held = flags&envelopeHeld != 0
	v.At = int64(at)
	v.Entry = r.rest()
	if _, err := ParseEntry(v.Entry); err != nil {
		return Envelope{}, fmt.Errorf("envelope %d: %w", v.Seq, err)
	}
	return v, nil
}
