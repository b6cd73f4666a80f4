package store

import (
	"context"

	"stillroom/sync"
)

// Lookups is the part of Store that follows from a Ledger and from reading the log, the same for every implementation,
// which embeds it: heads, hashes, a device's own line, streams, devices, watching.
type Lookups struct {
	Watchers
	Ledger *Ledger
	// Found is what was found damaged at opening.
	Found []*Damaged
	// One gives an envelope's canonical bytes; *Damaged when it ought to be there and cannot be read.
	One func(stream string, seq uint64) ([]byte, error)
	// Log is Store.Read.
	Log func(ctx context.Context, stream string, after uint64, maxItems, maxBytes int) ([][]byte, error)
}

// ReadDevice is Store.ReadDevice.
func (l *Lookups) ReadDevice(ctx context.Context, stream string, device sync.DeviceID, after uint64, maxItems, maxBytes int) ([][]byte, error) {
	cut := Cut{MaxBytes: maxBytes}
	for _, seq := range l.Ledger.Numbers(stream, device, after, maxItems) {
		envelope, err := l.One(stream, seq)
		if err != nil {
			return nil, err
		}
		v, err := sync.ParseEnvelope(envelope)
		if err != nil {
			return nil, &Damaged{Stream: stream, First: seq, Last: seq, How: NotRead}
		}
		if !cut.Take(v.Entry) {
			break
		}
	}
	return cut.Items, ctx.Err()
}

// Head is Store.Head.
func (l *Lookups) Head(stream string) Head { return l.Ledger.Head(stream) }

// DeviceHead is Store.DeviceHead.
func (l *Lookups) DeviceHead(stream string, d sync.DeviceID) Head {
	return l.Ledger.DeviceHead(stream, d)
}

// HashAt is Store.HashAt. What is read for it is compared with the next hash that the ledger keeps: a page that went bad
// gives no hash instead of one that fits it.
func (l *Lookups) HashAt(stream string, seq uint64) (sync.Hash, bool) {
	from, to, ok := l.Ledger.Kept(stream, seq)
	if !ok || from.Seq == seq {
		return from.Hash, ok
	}
	items, err := l.Log(context.Background(), stream, from.Seq, int(to.Seq-from.Seq), 0)
	return between(from, to, seq, items, err)
}

// DeviceHashAt is Store.DeviceHashAt, compared as HashAt.
func (l *Lookups) DeviceHashAt(stream string, d sync.DeviceID, seq uint64) (sync.Hash, bool) {
	from, to, ok := l.Ledger.DeviceKept(stream, d, seq)
	if !ok || from.Seq == seq {
		return from.Hash, ok
	}
	items, err := l.ReadDevice(context.Background(), stream, d, from.Seq, int(to.Seq-from.Seq), 0)
	return between(from, to, seq, items, err)
}

// between is the hash after number seq, of the items that stand between two kept ones.
func between(from, to Head, seq uint64, items [][]byte, err error) (sync.Hash, bool) {
	n := int(seq - from.Seq)
	if err != nil || uint64(len(items)) != to.Seq-from.Seq {
		return sync.Hash{}, false
	}
	at := Head{Seq: seq, Hash: Through(from, items[:n])}
	return at.Hash, Through(at, items[n:]) == to.Hash
}

// Streams is Store.Streams.
func (l *Lookups) Streams() []string { return l.Ledger.Streams() }

// Devices is Store.Devices.
func (l *Lookups) Devices(stream string) []sync.DeviceID { return l.Ledger.Devices(stream) }

// Damage is Store.Damage.
func (l *Lookups) Damage() []*Damaged { return l.Found }
