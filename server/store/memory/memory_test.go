package memory

import (
	"context"
	"testing"

	"stillroom/server/store"
	"stillroom/server/store/storetest"
	"stillroom/sync"
)

func TestContract(t *testing.T) {
	storetest.Run(t, func(*testing.T) storetest.Opener {
		return storetest.Opener{Open: func(*testing.T) store.Store { return New(sync.Epoch{1}, make([]byte, 32)) }}
	})
}

// F19: a page that is read otherwise than it was written gives no hash, whichever line it is of; those that need not
// read it are as they were.
func TestABadPageGivesNoHash(t *testing.T) {
	s := New(sync.Epoch{1}, make([]byte, 32))
	d, entries := storetest.Device(1), storetest.Entries(1, 200, 17)
	if _, err := s.Append(t.Context(), "workshop", d, 0, entries, store.Meta{}); err != nil {
		t.Fatal(err)
	}
	log := s.Log
	s.Log = func(ctx context.Context, stream string, after uint64, maxItems, maxBytes int) ([][]byte, error) {
		items, err := log(ctx, stream, after, maxItems, maxBytes)
		for i := range items {
			if after+uint64(i)+1 == 70 {
				items[i] = append([]byte{}, items[i]...)
				items[i][9] ^= 1
			}
		}
		return items, err
	}
	for seq, good := range map[uint64]bool{10: true, 64: true, 65: false, 69: false, 70: false, 90: false, 128: true, 150: true, 200: true} {
		if _, ok := s.HashAt("workshop", seq); ok != good {
			t.Errorf("hash at %d: %v", seq, ok)
		}
	}
	one := s.One
	s.One = func(stream string, seq uint64) ([]byte, error) {
		raw, err := one(stream, seq)
		if seq == 190 {
			raw = append([]byte{}, raw...)
			raw[len(raw)-1] ^= 1
		}
		return raw, err
	}
	for seq, good := range map[uint64]bool{100: true, 128: true, 150: false, 191: false, 192: true, 193: true, 200: true} {
		if _, ok := s.DeviceHashAt("workshop", d, seq); ok != good {
			t.Errorf("chain at %d: %v", seq, ok)
		}
	}
}
