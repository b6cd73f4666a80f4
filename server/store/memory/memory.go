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
	store.Lookups
	mu     gosync.Mutex
	closed bool
	logs   map[string][][]byte
	epoch  sync.Epoch
	key    []byte
}

var _ store.Store = (*Store)(nil)

// New makes an empty store with the epoch and key given.
func New(epoch sync.Epoch, key []byte) *Store {
	s := &Store{logs: map[string][][]byte{}, epoch: epoch, key: key}
	s.Lookups = store.Lookups{Ledger: store.NewLedger(), Log: s.Read, One: func(stream string, seq uint64) ([]byte, error) {
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.envelope(stream, seq)
	}}
	return s
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
	batch := store.NewBatch(s.Ledger)
	ack, err := batch.Add(a, s.envelope)
	if err != nil {
		return store.Ack{}, err
	}
	for _, g := range batch.Lines {
		s.logs[g.Stream] = append(s.logs[g.Stream], g.Envelopes...)
	}
	s.Ledger.Take(batch)
	if ack.First > 0 {
		s.Grew(stream)
	}
	return ack, nil
}

// TakeBack is store.Store's.
func (s *Store) TakeBack(ctx context.Context, t store.Tail) (store.Back, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return store.Back{}, &store.Closed{}
	}
	if err := ctx.Err(); err != nil {
		return store.Back{}, err
	}
	t.Envelopes = copies(t.Envelopes)
	batch := store.NewBatch(s.Ledger)
	back, err := batch.AddBack(t, s.envelope)
	if err != nil {
		return store.Back{}, err
	}
	for _, g := range batch.Lines {
		s.logs[g.Stream] = append(s.logs[g.Stream], g.Envelopes...)
	}
	s.Ledger.Take(batch)
	if back.Added > 0 {
		s.Grew(t.Stream)
	}
	return back, nil
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
