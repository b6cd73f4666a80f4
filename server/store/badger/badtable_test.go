package badger

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"stillroom/server/store"
	"stillroom/server/store/storetest"
)

// F19: a flipped bit in one of several tables. Badger refuses the journal as a whole; what the other tables and blocks hold is
// read all the same, as far as the hashes prove it, for reading alone.
func TestABadTableLeavesTheOthers(t *testing.T) {
	dir := filepath.Join(inMemory(t), "journal")
	fill(t, dir, Options{})
	for n := range uint64(2) {
		s := mustOpen(t, dir, Options{})
		fillTo(t, s, 300*(n+1), 300*(n+2))
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	whole := mustOpen(t, dir, Options{ReadOnly: true})
	want, err := whole.Read(context.Background(), "workshop", 0, 0, 0)
	if err := errors.Join(err, whole.Close()); err != nil {
		t.Fatal(err)
	}
	tables, err := filepath.Glob(filepath.Join(dir, "*.sst"))
	if err != nil || len(tables) < 3 {
		t.Fatalf("%d tables, %v", len(tables), err)
	}
	// The first look ends its process, which the program starts for it (F19, the damage matrix).
	check := func(copied, witness string, loosely bool) (bool, error) {
		if !loosely {
			return false, errors.New("its engine stopped")
		}
		return Examine(copied, witness, loosely)
	}
	keys, most := 0, 0
	for _, table := range tables {
		data, err := os.ReadFile(table)
		if err != nil {
			t.Fatal(err)
		}
		for at := 20; at < len(data)*2/3; at += len(data) / 6 { // behind lies its index
			spoiled := bytes.Clone(data)
			spoiled[at] ^= 1
			if err := os.WriteFile(table, spoiled, 0o600); err != nil {
				t.Fatal(err)
			}
			for _, readOnly := range []bool{true, false} {
				s := mustOpen(t, dir, Options{ReadOnly: readOnly, Check: check})
				items, err := s.Read(context.Background(), "workshop", 0, 0, 0)
				if err != nil || len(s.Damage()) == 0 || len(items) > len(want) {
					t.Fatalf("%s at %d: %d entries, damage %v, %v", filepath.Base(table), at, len(items), s.Damage(), err)
				}
				for i := range items {
					if !bytes.Equal(items[i], want[i]) {
						t.Fatalf("%s at %d: entry %d is not what was written", filepath.Base(table), at, i+1)
					}
				}
				if _, err := s.Append(context.Background(), "workshop", storetest.Device(1), 900, storetest.Entries(901, 901, 17), store.Meta{}); err == nil {
					t.Fatalf("%s at %d: it takes more", filepath.Base(table), at)
				}
				if most = max(most, len(items)); s.Key() != nil {
					keys++
				}
				if err := s.Close(); err != nil {
					t.Fatal(err)
				}
			}
		}
		if err := os.WriteFile(table, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if keys == 0 || most < 300 {
		t.Errorf("the key was read %d times, and at most %d entries", keys, most)
	}
	t.Logf("the key %d times, at most %d of %d entries", keys, most, len(want))
}
