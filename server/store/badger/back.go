package badger

import (
	"context"

	"stillroom/server/store"
)

// TakeBack is store.Store's.
func (s *Store) TakeBack(ctx context.Context, t store.Tail) (store.Back, error) {
	if s.refusal != nil {
		return store.Back{}, s.refusal
	}
	r := &request{Addition: store.Addition{Stream: t.Stream}, tail: &t, answer: make(chan answer, 1)}
	if err := s.handOn(ctx, r); err != nil {
		return store.Back{}, err
	}
	got := <-r.answer
	return r.back, got.err
}

// commitEach makes a group durable in its order: additions together, and a log's end alone, since it is taken in whole or
// not at all.
func (s *Store) commitEach(group []*request) error {
	var failed error
	for from := 0; from < len(group); {
		to := from
		for to < len(group) && group[to].tail == nil {
			to++
		}
		run := group[from:max(to, from+1)]
		switch {
		case failed != nil:
			for _, r := range run {
				r.answer <- answer{err: failed}
			}
		case run[0].tail != nil:
			failed = s.commitTail(run[0])
		default:
			failed = s.commit(run)
		}
		from += len(run)
	}
	return failed
}

func (s *Store) commitTail(r *request) (failed error) {
	batch := store.NewBatch(s.Ledger)
	back, err := batch.AddBack(*r.tail, s.envelope)
	if err == nil {
		err, failed = s.settle(batch)
	}
	if err == nil {
		r.back = back
	}
	r.answer <- answer{err: err}
	return failed
}
