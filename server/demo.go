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

// OwnBook: the demo was asked for in a book that holds a maker's own entries.
type OwnBook struct{ Dir string }

func (e *OwnBook) Error() string {
	return fmt.Sprintf("the book in %s holds entries of its own, so the demo workshop is not written into it; nothing was changed", e.Dir)
}

// Hint is the next step.
func (e *OwnBook) Hint() string {
	return "start it without -demo, or give the demo a folder of its own with -book"
}

// writeDemo plays the invented workshop into a book that holds nothing. A book that holds it already is left as it is; one
// that holds others' entries alone is refused with *OwnBook.
func (s *Server) writeDemo(ctx context.Context) error {
	device := demoDevice(s.folder.Store.Epoch())
	if begun := s.folder.Store.Streams(); len(begun) > 0 {
		for _, stream := range begun {
			if s.folder.Store.DeviceHead(stream, device).Seq > 0 {
				return nil
			}
		}
		return &OwnBook{Dir: s.o.Dir}
	}
	now := s.o.Now()
	_, east := now.Zone()
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
