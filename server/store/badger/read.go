package badger

import (
	"context"
	"errors"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/sync"
)

// few is how many envelopes are fetched one by one: an iterator costs as much as about this many look-ups.
const few = 4

// Read is store.Store's.
func (s *Store) Read(ctx context.Context, stream string, after uint64, maxItems, maxBytes int) ([][]byte, error) {
	head := s.Ledger.Head(stream).Seq
	if after >= head || s.db == nil {
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
		it := txn.NewIterator(engine.IteratorOptions{Prefix: linePrefix(tagLog, stream)})
		defer it.Close()
		seq := after
		for it.Seek(lineKey(tagLog, stream, after+1)); it.Valid() && seq < last; it.Next() {
			_, got, err := parseLineKey(it.Item().Key())
			if err != nil {
				return err
			}
			if got != seq+1 {
				return &store.Damaged{Stream: stream, First: seq + 1, Last: got - 1, How: store.Missing}
			}
			envelope, err := it.Item().ValueCopy(nil)
			if err != nil {
				return &store.Damaged{Stream: stream, First: got, Last: got, How: store.NotRead}
			}
			if !cut.Take(envelope) {
				return ctx.Err()
			}
			seq = got
		}
		if seq < last {
			return &store.Damaged{Stream: stream, First: seq + 1, Last: last, How: store.Missing}
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
		return nil, &store.Damaged{Stream: stream, First: seq, Last: seq, How: store.NotRead}
	}
	return envelope, nil
}

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
	return s.release()
}

// release lets go of everything that was opened.
func (s *Store) release() error {
	err := s.closeWitness()
	if s.db != nil && s.askSpace(s.dir, keepToClose) == nil {
		err = errors.Join(err, s.db.Close())
	}
	return errors.Join(err, s.dropCopy(), s.unlock())
}
