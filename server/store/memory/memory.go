// Package memory is a store.Store that keeps nothing when it ends: for tests, and to show what the contract asks
// without a disk.
package memory

import (
	"context"
	"fmt"
	gosync "sync"

	"stillroom/server/store"
	"stillroom/sync"
)

// Store is a store.Store in memory.
type Store struct {
	mu       gosync.Mutex
	closed   bool
	logs     map[string][][]byte
	ledger   *store.Ledger
	watchers store.Watchers
	epoch    sync.Epoch
	key      []byte
}

var _ store.Store = (*Store)(nil)

// New makes an empty store with the epoch and key given.
func New(epoch sync.Epoch, key []byte) *Store {
	return &Store{logs: map[string][][]byte{}, ledger: store.NewLedger(), epoch: epoch, key: key}
}

// Append is store.Store's.
func (s *Store) Append(ctx context.Context, stream string, device sync.DeviceID, after uint64, entries [][]byte, meta store.Meta) (store.Ack, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return store.Ack{}, &store.Closed{}
	}
	if err := ctx.Err(); err != nil {
		return store.Ack{}, err
	}
	a := store.Addition{Stream: stream, Device: device, After: after, Entries: copies(entries), Meta: meta}
	if err := a.Check(s.epoch); err != nil {
		return store.Ack{}, err
	}
	batch := store.NewBatch(s.ledger)
	ack, err := batch.Add(a, s.envelope)
	if err != nil {
		return store.Ack{}, err
	}
	for _, g := range batch.Lines {
		s.logs[g.Stream] = append(s.logs[g.Stream], g.Envelopes...)
	}
	s.ledger.Take(batch)
	if ack.First > 0 {
		s.watchers.Grew(stream)
	}
	return ack, nil
}

func copies(items [][]byte) [][]byte {
	out := make([][]byte, len(items))
	for i, item := range items {
		out[i] = append([]byte(nil), item...)
	}
	return out
}

func (s *Store) envelope(stream string, seq uint64) ([]byte, error) {
	log := s.logs[stream]
	if seq == 0 || seq > uint64(len(log)) {
		return nil, fmt.Errorf("there is no envelope %d in %s", seq, stream)
	}
	return log[seq-1], nil
}

// Read is store.Store's.
func (s *Store) Read(ctx context.Context, stream string, after uint64, maxItems, maxBytes int) ([][]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	log := s.logs[stream]
	cut := store.Cut{MaxBytes: maxBytes}
	for seq := after; seq < uint64(len(log)) && (maxItems <= 0 || len(cut.Items) < maxItems); seq++ {
		if !cut.Take(log[seq]) {
			break
		}
	}
	return cut.Items, ctx.Err()
}

// ReadDevice is store.Store's.
func (s *Store) ReadDevice(ctx context.Context, stream string, device sync.DeviceID, after uint64, maxItems, maxBytes int) ([][]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	cut := store.Cut{MaxBytes: maxBytes}
	for _, seq := range s.ledger.Numbers(stream, device, after, maxItems) {
		envelope, err := s.envelope(stream, seq)
		if err != nil {
			return nil, err
		}
		v, err := sync.ParseEnvelope(envelope)
		if err != nil {
			return nil, err
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
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = true
	return nil
}
