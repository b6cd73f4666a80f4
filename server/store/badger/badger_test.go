package badger

import (
	"context"
	"errors"
	"path/filepath"
	"testing"

	"stillroom/server/store"
	"stillroom/server/store/storetest"
)

func TestContract(t *testing.T) {
	storetest.Run(t, func(t *testing.T) storetest.Opener {
		dir := t.TempDir()
		o := Options{Witness: filepath.Join(t.TempDir(), "witness")}
		return storetest.Opener{Reopen: true, Open: func(t *testing.T) store.Store { return mustOpen(t, dir, o) }}
	})
}

func mustOpen(t testing.TB, dir string, o Options) *Store {
	t.Helper()
	s, err := Open(dir, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// F22.
func TestSecondOpeningIsBusy(t *testing.T) {
	dir := t.TempDir()
	s := mustOpen(t, dir, Options{})
	defer s.Close()
	var busy *store.Busy
	for _, readOnly := range []bool{false, true} {
		if _, err := Open(dir, Options{ReadOnly: readOnly}); !errors.As(err, &busy) {
			t.Errorf("read-only %v: %v", readOnly, err)
		}
	}
}

func TestReadOnly(t *testing.T) {
	dir := t.TempDir()
	if _, err := Open(dir, Options{ReadOnly: true}); !errors.Is(err, ErrNone) {
		t.Errorf("an empty folder: %v", err)
	}
	fill(t, dir, Options{})
	s := mustOpen(t, dir, Options{ReadOnly: true})
	defer s.Close()
	if got := s.Head("workshop").Seq; got != 300 {
		t.Errorf("head %d", got)
	}
	var readOnly *store.ReadOnly
	if _, err := s.Append(context.Background(), "workshop", storetest.Device(1), 300, nil, store.Meta{}); !errors.As(err, &readOnly) {
		t.Errorf("Append: %v", err)
	}
}

// F18, by the answer of the disk; duplicates of what is there are still acknowledged.
func TestFullDiskRefusesAndRecovers(t *testing.T) {
	free := uint64(KeepFree)
	s := mustOpen(t, t.TempDir(), Options{Free: func(string) (uint64, error) { return free, nil }})
	defer s.Close()
	add := func(from, to uint64) error {
		_, err := s.Append(context.Background(), "workshop", storetest.Device(1), from-1, storetest.Entries(from, to, 17), store.Meta{})
		return err
	}
	if err := add(1, 5); err != nil {
		t.Fatal(err)
	}
	free--
	var full *store.Full
	if err := add(6, 8); !errors.As(err, &full) {
		t.Fatalf("got %v", err)
	}
	if err := add(2, 5); err != nil {
		t.Errorf("a duplicate on a full disk: %v", err)
	}
	free++
	if err := add(6, 8); err != nil {
		t.Errorf("after space was made: %v", err)
	}
	if got := s.Head("workshop").Seq; got != 8 {
		t.Errorf("head %d", got)
	}
}
