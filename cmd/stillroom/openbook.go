package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/sync"
)

// reading opens a book to read and closes it again, whatever became of what was done with it.
func reading(ctx context.Context, dir string, do func(*folder.Folder) error) error {
	return opened(ctx, dir, folder.Options{ReadOnly: true}, do)
}

// opened is reading for any way to open. A book that is damaged is not used: the first damage is the error.
func opened(ctx context.Context, dir string, o folder.Options, do func(*folder.Folder) error) (err error) {
	f, err := openWhole(ctx, dir, o)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return do(f)
}

func openWhole(ctx context.Context, dir string, o folder.Options) (*folder.Folder, error) {
	o.Now, o.Check = time.Now, checkInChild(ctx)
	f, err := folder.Open(dir, o)
	if err != nil {
		return nil, err
	}
	if found := f.Store.Damage(); found != nil {
		return nil, errors.Join(found[0], f.Close())
	}
	return f, nil
}

// fold is what all entries of a book add up to.
func fold(ctx context.Context, f *folder.Folder) (*book.State, error) {
	state := book.New()
	for _, stream := range []string{book.Workshop, book.Shelf} {
		err := each(ctx, f, stream, func(k kept) error {
			state.Apply(stream, k.envelope.Device, &k.envelope, k.entry)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return state, nil
}

// kept is one entry as it lies in the book.
type kept struct {
	stream   string
	envelope sync.Envelope
	entry    sync.Entry
	raw      []byte // the envelope's bytes
}

// each gives every entry of a stream in order.
func each(ctx context.Context, f *folder.Folder, stream string, do func(kept) error) error {
	for after, head := uint64(0), f.Store.Head(stream).Seq; after < head; {
		items, err := f.Store.Read(ctx, stream, after, 0, 1<<20)
		if err != nil {
			return err
		}
		for _, raw := range items {
			v, err := sync.ParseEnvelope(raw)
			if err != nil {
				return fmt.Errorf("entry %d of %s cannot be read: %w", after+1, stream, err)
			}
			e, err := sync.ParseEntry(v.Entry)
			if err != nil {
				return fmt.Errorf("entry %d of %s cannot be read: %w", after+1, stream, err)
			}
			if err := do(kept{stream, v, e, raw}); err != nil {
				return err
			}
			after = v.Seq
		}
	}
	return nil
}
