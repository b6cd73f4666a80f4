package badger

import (
	"context"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/sync"
)

// few is how many envelopes are fetched one by one: an iterator costs as much as about this many look-ups.
const few = 4

// Read is store.Store's.
func (s *Store) Read(ctx context.Context, stream string, after uint64, maxItems, maxBytes int) ([][]byte, error) {
	head := s.ledger.Head(stream).Seq
	if after >= head {
		return nil, nil
	}
	last := head
	if maxItems > 0 {
		last = min(last, after+uint64(maxItems))
	}
	cut := store.Cut{MaxBytes: maxBytes}
	if last-after <= few {
		for seq := after + 1; seq <= last; seq++ {
			envelope, err := s.envelope(stream, seq)
			if err != nil {
				return nil, err
			}
			if !cut.Take(envelope) {
				break
			}
		}
		return cut.Items, ctx.Err()
	}
	err := s.db.View(func(txn *engine.Txn) error {
		it := txn.NewIterator(engine.IteratorOptions{PrefetchValues: true, PrefetchSize: int(min(last-after, 256)), Prefix: linePrefix(tagLog, stream)})
		defer it.Close()
		seq := after
		for it.Seek(lineKey(tagLog, stream, after+1)); it.Valid() && seq < last; it.Next() {
			_, got, err := parseLineKey(it.Item().Key())
			if err != nil {
				return err
			}
			if got != seq+1 {
				return &store.Damaged{Stream: stream, First: seq + 1, Last: got - 1, How: "are missing"}
			}
			envelope, err := it.Item().ValueCopy(nil)
			if err != nil {
				return &store.Damaged{Stream: stream, First: got, Last: got, How: "cannot be read"}
			}
			if !cut.Take(envelope) {
				return ctx.Err()
			}
			seq = got
		}
		if seq < last {
			return &store.Damaged{Stream: stream, First: seq + 1, Last: last, How: "are missing"}
		}
		return ctx.Err()
	})
	if err != nil {
		return nil, err
	}
	return cut.Items, nil
}

// envelope fetches one.
func (s *Store) envelope(stream string, seq uint64) (envelope []byte, err error) {
	err = s.db.View(func(txn *engine.Txn) error {
		envelope, err = value(txn, lineKey(tagLog, stream, seq))
		return err
	})
	if err != nil {
		return nil, &store.Damaged{Stream: stream, First: seq, Last: seq, How: "cannot be read"}
	}
	return envelope, nil
}

// ReadDevice is store.Store's.
func (s *Store) ReadDevice(ctx context.Context, stream string, device sync.DeviceID, after uint64, maxItems, maxBytes int) ([][]byte, error) {
	cut := store.Cut{MaxBytes: maxBytes}
	for _, seq := range s.ledger.Numbers(stream, device, after, maxItems) {
		envelope, err := s.envelope(stream, seq)
		if err != nil {
			return nil, err
		}
		v, err := sync.ParseEnvelope(envelope)
		if err != nil {
			return nil, &store.Damaged{Stream: stream, First: seq, Last: seq, How: "cannot be read"}
		}
		if !cut.Take(v.Entry) {
			break
		}
	}
	return cut.Items, ctx.Err()
}

// Head is store.Store's.
func (s *Store) Head(stream string) store.Head { return s.ledger.Head(stream) }

// DeviceHead is store.Store's.
func (s *Store) DeviceHead(stream string, d sync.DeviceID) store.Head {
	return s.ledger.DeviceHead(stream, d)
}

// HashAt is store.Store's.
func (s *Store) HashAt(stream string, seq uint64) (sync.Hash, bool) {
	from, ok := s.ledger.Kept(stream, seq)
	if !ok || from.Seq == seq {
		return from.Hash, ok
	}
	items, err := s.Read(context.Background(), stream, from.Seq, int(seq-from.Seq), 0)
	return store.Through(from, items), err == nil
}

// DeviceHashAt is store.Store's.
func (s *Store) DeviceHashAt(stream string, d sync.DeviceID, seq uint64) (sync.Hash, bool) {
	from, ok := s.ledger.DeviceKept(stream, d, seq)
	if !ok || from.Seq == seq {
		return from.Hash, ok
	}
	items, err := s.ReadDevice(context.Background(), stream, d, from.Seq, int(seq-from.Seq), 0)
	return store.Through(from, items), err == nil
}

// Streams is store.Store's.
func (s *Store) Streams() []string { return s.ledger.Streams() }

// Devices is store.Store's.
func (s *Store) Devices(stream string) []sync.DeviceID { return s.ledger.Devices(stream) }

// Watch is store.Store's.
func (s *Store) Watch(stream string) (<-chan struct{}, func()) { return s.watchers.Watch(stream) }

// Epoch is store.Store's.
func (s *Store) Epoch() sync.Epoch { return s.epoch }

// Key is store.Store's.
func (s *Store) Key() []byte { return s.key }

// Close is store.Store's.
func (s *Store) Close() error {
	s.closing.Lock()
	if s.closed {
		s.closing.Unlock()
		return nil
	}
	s.closed = true
	close(s.requests)
	s.closing.Unlock()
	<-s.done
	return s.db.Close()
}
