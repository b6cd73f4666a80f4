package server

import (
	"context"
	"fmt"
	gosync "sync"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/sync"
)

// shelf is the book as the store's own entries add up to it, kept in memory for labels and cards. It is folded from the
// journal when the store opens and goes on whenever somebody asks.
type shelf struct {
	store store.Store
	mu    gosync.Mutex
	state *book.State
	at    map[string]uint64
}

func newShelf(s store.Store) *shelf {
	return &shelf{store: s, state: book.New(), at: map[string]uint64{}}
}

// streams are folded in this order; neither needs the other.
var streams = []string{book.Workshop, book.Shelf}

// foldBytes is how much is read at a time.
const foldBytes = 1 << 20

// catchUp folds what the journal got since the last time.
func (b *shelf) catchUp(ctx context.Context) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, stream := range streams {
		for b.at[stream] < b.store.Head(stream).Seq {
			items, err := b.store.Read(ctx, stream, b.at[stream], 0, foldBytes)
			if err != nil {
				return err
			}
			for _, item := range items {
				v, err := sync.ParseEnvelope(item)
				if err != nil {
					return fmt.Errorf("entry %d of %s cannot be read: %w", b.at[stream]+1, stream, err)
				}
				e, err := sync.ParseEntry(v.Entry)
				if err != nil {
					return fmt.Errorf("entry %d of %s cannot be read: %w", v.Seq, stream, err)
				}
				b.state.Apply(stream, v.Device, &v, e)
				b.at[stream] = v.Seq
			}
		}
	}
	return nil
}

// look folds to the end and lets f read the book. f must not keep the state.
func (b *shelf) look(ctx context.Context, f func(*book.State)) error {
	if err := b.catchUp(ctx); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	f(b.state)
	return nil
}
