package sync

import (
	"encoding/binary"
	"fmt"
)

// Return is a store's question for the end of its own log that a phone holds: from the highest of these checkpoints on
// that the phone's log passes through, or from the beginning.
type Return struct {
	Stream string
	Every  uint64 // a multiple of StepEvery
	Hashes []Hash // of the store's log after Every, 2·Every, … items
}

// Renumber says how the phone's log becomes the store's again: what follows Keep is replaced by what comes in batches of
// the log Back, up to Through.
type Renumber struct {
	Stream  string
	Epoch   Epoch // the store's
	Keep    uint64
	Through Head
	MAC     [32]byte // HeadMAC of Through
	Up      Head     // what the store has of this device's own entries by now
}

// Append adds the message's bytes to dst.
func (m Return) Append(dst []byte) []byte {
	dst = appendString(append(dst, typeReturn), m.Stream)
	dst = binary.AppendUvarint(dst, m.Every)
	dst = binary.AppendUvarint(dst, uint64(len(m.Hashes)))
	for _, h := range m.Hashes {
		dst = append(dst, h[:]...)
	}
	return dst
}

func readReturn(r *reader) Return {
	m := Return{Stream: r.name(), Every: r.uvarint()}
	n := r.uvarint()
	if n > MaxSteps || m.Every == 0 || m.Every%StepEvery != 0 || m.Every > 1<<50 {
		r.fail(fmt.Errorf("%d checkpoints at every %d", n, m.Every))
	}
	for i := uint64(0); i < n && r.err == nil; i++ {
		var h Hash
		r.fixed(h[:])
		m.Hashes = append(m.Hashes, h)
	}
	return m
}

// Append adds the message's bytes to dst.
func (m Renumber) Append(dst []byte) []byte {
	dst = appendString(append(dst, typeRenumber), m.Stream)
	dst = binary.AppendUvarint(append(dst, m.Epoch[:]...), m.Keep)
	dst = append(m.Through.append(dst), m.MAC[:]...)
	return m.Up.append(dst)
}

func readRenumber(r *reader) Renumber {
	m := Renumber{Stream: r.name()}
	r.fixed(m.Epoch[:])
	m.Keep = r.uvarint()
	m.Through = r.head()
	r.fixed(m.MAC[:])
	m.Up = r.head()
	if r.err == nil && (m.Epoch.IsZero() || m.Keep > m.Through.Seq) {
		r.fail(fmt.Errorf("a log is kept to %d and ends at %d", m.Keep, m.Through.Seq))
	}
	return m
}
