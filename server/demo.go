package server

import (
	"context"
	"crypto/sha256"
	"fmt"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/sync"
	"stillroom/testdata"
)

// writeDemo plays the invented workshop into a book that holds nothing. A book with anything in it is left as it is.
func (s *Server) writeDemo(ctx context.Context) error {
	if len(s.folder.Store.Streams()) > 0 {
		return nil
	}
	now := s.o.Now()
	_, east := now.Zone()
	device := demoDevice(s.folder.Store.Epoch())
	written, err := book.Demo(testdata.Demo, device, now.UnixMilli(), east/60)
	if err != nil {
		return fmt.Errorf("the demo workshop was not written: %w", err)
	}
	lines := map[string][][]byte{}
	for _, w := range written {
		lines[w.Stream] = append(lines[w.Stream], w.Entry.Append(nil))
	}
	for _, stream := range streams {
		if err := s.appendAll(ctx, stream, device, lines[stream], now.UnixMilli()); err != nil {
			return fmt.Errorf("the demo workshop was not written: %w", err)
		}
	}
	return s.shelf.catchUp(ctx)
}

// demoDevice is a writer that no phone can be, one for each epoch.
func demoDevice(epoch sync.Epoch) sync.DeviceID {
	sum := sha256.Sum256(append([]byte("stillroom demo device"), epoch[:]...))
	return sync.DeviceID(sum[:8])
}

// appendAll writes a device's whole line in as many batches as it needs.
func (s *Server) appendAll(ctx context.Context, stream string, device sync.DeviceID, entries [][]byte, at int64) error {
	for done := 0; done < len(entries); {
		cut := store.Cut{MaxBytes: sync.MaxBatchBytes}
		for _, e := range entries[done:] {
			if len(cut.Items) == sync.MaxBatchEntries || !cut.Take(e) {
				break
			}
		}
		if _, err := s.folder.Store.Append(ctx, stream, device, uint64(done), cut.Items, store.Meta{At: at}); err != nil {
			return err
		}
		done += len(cut.Items)
	}
	return nil
}
