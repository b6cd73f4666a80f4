package server

import (
	"context"

	"stillroom/server/store"
	"stillroom/sync"
)

// source is what one connection's Link reads: the stream's log, and the line of the device that it authenticated as.
type source struct {
	store  store.Store
	device sync.DeviceID
	// failed keeps the first error of a read; the connection ends with it, since a log that cannot be read must not look
	// like one that ends.
	failed error
}

var _ sync.Source = (*source)(nil)

// Head is sync.Source's.
func (s *source) Head(stream string, log sync.Log) (uint64, sync.Hash) {
	h := s.store.Head(stream)
	if log == sync.Up {
		h = s.store.DeviceHead(stream, s.device)
	}
	return h.Seq, h.Hash
}

// HashAt is sync.Source's.
func (s *source) HashAt(stream string, log sync.Log, seq uint64) (sync.Hash, bool) {
	if log == sync.Up {
		return s.store.DeviceHashAt(stream, s.device, seq)
	}
	return s.store.HashAt(stream, seq)
}

// Read is sync.Source's.
func (s *source) Read(stream string, log sync.Log, after uint64, maxItems, maxBytes int) [][]byte {
	var items [][]byte
	var err error
	if log == sync.Up {
		items, err = s.store.ReadDevice(context.Background(), stream, s.device, after, maxItems, maxBytes)
	} else {
		items, err = s.store.Read(context.Background(), stream, after, maxItems, maxBytes)
	}
	if err != nil && s.failed == nil {
		s.failed = err
	}
	return items
}
