package badger

import (
	"context"
	"errors"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/sync"
)

// groupBytes and groupEntries end a group before Badger's own limit for one transaction (1.2 MB with 8 MB tables).
const (
	groupBytes   = 512 << 10
	groupEntries = 4000
)

type request struct {
	store.Addition
	tail   *store.Tail // instead of an addition
	back   store.Back  // its answer, once answer says that there is one
	answer chan answer
}

type answer struct {
	ack store.Ack
	err error
}

// Append is store.Store's. Calls that arrive while the disk is busy share the next sync.
func (s *Store) Append(ctx context.Context, stream string, device sync.DeviceID, after uint64, entries [][]byte, meta store.Meta) (store.Ack, error) {
	r := &request{
		Addition: store.Addition{Stream: stream, Device: device, After: after, Entries: entries, Meta: meta},
		answer:   make(chan answer, 1),
	}
	if s.refusal != nil {
		return store.Ack{}, s.refusal
	}
	if err := r.Check(s.epoch); err != nil {
		return store.Ack{}, err
	}
	if err := s.handOn(ctx, r); err != nil {
		return store.Ack{}, err
	}
	got := <-r.answer
	return got.ack, got.err
}

func (s *Store) handOn(ctx context.Context, r *request) error {
	s.closing.RLock()
	defer s.closing.RUnlock()
	if s.closed {
		return &store.Closed{}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	select {
	case s.requests <- r:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (s *Store) commitLoop() {
	defer close(s.done)
	var failed error
	for first := range s.requests {
		group := s.gather(first)
		if failed == nil {
			failed = s.commitEach(group)
			continue
		}
		for _, r := range group {
			r.answer <- answer{err: failed}
		}
	}
}

// gather takes what is waiting, without waiting for more: while one group is being synced the next one collects.
func (s *Store) gather(first *request) []*request {
	group, bytes, entries := []*request{first}, first.Bytes(), len(first.Entries)
	for bytes < groupBytes && entries < groupEntries {
		select {
		case r, ok := <-s.requests:
			if !ok {
				return group
			}
			group, bytes, entries = append(group, r), bytes+r.Bytes(), entries+len(r.Entries)
		default:
			return group
		}
	}
	return group
}

// commit makes a group durable, then shows it to readers, then answers. The error is a disk that can no longer be
// trusted: after a failed sync the system may have dropped what was to be written and say yes the next time.
func (s *Store) commit(group []*request) error {
	batch := store.NewBatch(s.Ledger)
	answers := make([]answer, len(group))
	for i, r := range group {
		answers[i].ack, answers[i].err = batch.Add(r.Addition, s.envelope)
	}
	refused, failed := s.settle(batch)
	for i, r := range group {
		if refused != nil && answers[i].ack.Device.Seq > s.Ledger.DeviceHead(r.Stream, r.Device).Seq {
			answers[i] = answer{err: refused}
		}
		r.answer <- answers[i]
	}
	return failed
}

// settle makes a batch durable and shows it, or says why not; failed is a disk that can no longer be trusted.
func (s *Store) settle(batch *store.Batch) (refused, failed error) {
	if !batch.Empty() {
		if err := s.askSpace(s.dir, KeepFree); err != nil {
			return err, nil
		}
		// The witness of the batch before is written meanwhile; it must be on disk before this one is answered.
		if err := errors.Join(s.write(batch), s.witness.wait()); err != nil {
			failed = &store.Failed{Err: err}
			return failed, failed
		}
		s.wal.reserve(s.dir)
	}
	s.Ledger.Take(batch)
	for _, g := range batch.Lines {
		if len(g.Envelopes) > 0 {
			s.Grew(g.Stream)
		}
	}
	if !batch.Empty() {
		s.witness.begin(s.marks())
	}
	return nil, nil
}

// The steps of a batch on a Disk, as a test may fail them.
const (
	stepCommit    = "commit"
	stepCommitted = "answer of the commit"
)

func (s *Store) write(batch *store.Batch) error {
	if err := s.o.Disk.Ask(stepCommit, s.dir); err != nil {
		return err
	}
	txn := s.db.NewTransaction(true)
	defer txn.Discard()
	for _, g := range batch.Lines {
		if err := put(txn, g); err != nil {
			return err
		}
	}
	if err := txn.Commit(); err != nil {
		return err
	}
	return s.o.Disk.Ask(stepCommitted, s.dir)
}

func put(txn *engine.Txn, g *store.Growth) error {
	if len(g.Envelopes) == 0 {
		return nil
	}
	for i, envelope := range g.Envelopes {
		seq := g.From.Seq + 1 + uint64(i)
		if err := txn.Set(lineKey(tagLog, g.Stream, seq), envelope); err != nil {
			return err
		}
		if seq%store.Step == 0 {
			if err := txn.Set(lineKey(tagKept, g.Stream, seq), g.Hashes[i][:]); err != nil {
				return err
			}
		}
	}
	return txn.Set(headKey(g.Stream), headValue(g.Head))
}
