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

// threeTables is a journal of 900 entries in three tables, with what is in it.
func threeTables(t *testing.T) (dir string, want [][]byte) {
	t.Helper()
	dir = filepath.Join(inMemory(t), "journal")
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
	if tables, err := filepath.Glob(filepath.Join(dir, "*.sst")); err != nil || len(tables) < 3 || len(want) != 900 {
		t.Fatalf("%d tables, %d entries, %v", len(tables), len(want), err)
	}
	return dir, want
}

// damagedReads opens a journal that must be for reading and give nothing but a beginning of what was written: how much of it,
// and whether its key.
func damagedReads(t *testing.T, dir string, want [][]byte, o Options) (n int, key bool) {
	t.Helper()
	s := mustOpen(t, dir, o)
	items, err := s.Read(context.Background(), "workshop", 0, 0, 0)
	if err != nil || len(s.Damage()) == 0 || len(items) > len(want) {
		t.Fatalf("%d entries, damage %v, %v", len(items), s.Damage(), err)
	}
	for i := range items {
		if !bytes.Equal(items[i], want[i]) {
			t.Fatalf("entry %d is not what was written", i+1)
		}
	}
	n, key = len(items), s.Key() != nil
	if _, err := s.Append(context.Background(), "workshop", storetest.Device(1), uint64(n), storetest.Entries(uint64(n)+1, uint64(n)+1, 17), store.Meta{}); err == nil {
		t.Fatal("it takes more")
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(dir), copyPattern)); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	return n, key
}

// F19: a flipped bit in one of several tables. Badger refuses the journal as a whole; what the other tables and blocks hold is
// read all the same, as far as the hashes prove it, for reading alone.
func TestABadTableLeavesTheOthers(t *testing.T) {
	dir, want := threeTables(t)
	// The first look ends its process, which the program starts for it (F19, the damage matrix).
	check := func(copied, witness, rebuilt string) (bool, error) {
		if rebuilt == "" {
			return false, errors.New("its engine stopped")
		}
		return Examine(copied, witness, rebuilt)
	}
	tables, err := filepath.Glob(filepath.Join(dir, "*.sst"))
	if err != nil {
		t.Fatal(err)
	}
	tries, keys, most := 0, 0, 0
	for _, table := range tables {
		data, err := os.ReadFile(table)
		if err != nil {
			t.Fatal(err)
		}
		for at := 20; at < len(data); at += len(data) / 6 {
			spoiled := bytes.Clone(data)
			spoiled[at] ^= 1
			if err := os.WriteFile(table, spoiled, 0o600); err != nil {
				t.Fatal(err)
			}
			for _, readOnly := range []bool{true, false} {
				n, key := damagedReads(t, dir, want, Options{ReadOnly: readOnly, Check: check})
				if tries, most = tries+1, max(most, n); key {
					keys++
				}
			}
		}
		if err := os.WriteFile(table, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if keys < tries/2 || most < 300 {
		t.Errorf("the key was read %d times of %d, and at most %d entries", keys, tries, most)
	}
	t.Logf("the key %d times of %d, at most %d of %d entries", keys, tries, most, len(want))
}

// F19: without the list of its tables, or with a spoiled one, all of a journal is read, and nothing is written into it.
func TestAJournalWithoutItsListOfTablesIsRead(t *testing.T) {
	for name, spoil := range map[string]func(path string) error{
		"gone":     os.Remove,
		"cut off":  func(path string) error { return os.Truncate(path, 9) },
		"no list":  func(path string) error { return os.WriteFile(path, []byte("no list of tables"), 0o600) },
		"an empty": func(path string) error { return os.Truncate(path, 0) },
	} {
		dir, want := threeTables(t)
		if err := spoil(filepath.Join(dir, "MANIFEST")); err != nil {
			t.Fatal(err)
		}
		for _, readOnly := range []bool{true, false} {
			if n, key := damagedReads(t, dir, want, Options{ReadOnly: readOnly}); n != len(want) || !key {
				t.Errorf("%s: %d entries, the key %v", name, n, key)
			}
		}
	}
}
