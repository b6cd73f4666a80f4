package badger

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/server/store/durable"
	"stillroom/server/store/storetest"
	"stillroom/server/store/witness"
	"stillroom/sync"
)

// fill writes a book of 300 entries and closes it.
func fill(t *testing.T, dir string, o Options) {
	t.Helper()
	s := mustOpen(t, dir, o)
	fillTo(t, s, 0, 300)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func fillTo(t *testing.T, s *Store, from, to uint64) {
	t.Helper()
	for after := from; after < to; after += 100 {
		if _, err := s.Append(context.Background(), "workshop", storetest.Device(1), after, storetest.Entries(after+1, after+100, 17), store.Meta{}); err != nil {
			t.Fatal(err)
		}
	}
}

// inMemory is a folder without a real disk under it, where the system has one: these tests fail the disk themselves, and
// a real one only makes them slow.
func inMemory(t *testing.T) string {
	t.Helper()
	const shared = "/dev/shm"
	if free, err := FreeBytes(shared); err != nil || free < 4*KeepFree {
		return t.TempDir()
	}
	dir, err := os.MkdirTemp(shared, "stillroom-test-*")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// change alters the keys of a closed store behind its back.
func change(t *testing.T, dir string, f func(txn *engine.Txn) error) {
	t.Helper()
	db, err := engine.Open(engineOptions(dir))
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(db.Update(f), db.Close()); err != nil {
		t.Fatal(err)
	}
}

// checkDamaged expects a store that is for reading, names a damage, gives what stands before it and takes nothing.
func checkDamaged(t *testing.T, dir string, o Options, want store.Damaged, readable uint64) {
	t.Helper()
	for _, o.ReadOnly = range []bool{true, false} {
		s := mustOpen(t, dir, o)
		defer s.Close()
		found := s.Damage()
		if len(found) != 1 || *found[0] != want {
			t.Fatalf("names %+v, want %+v", found, want)
		}
		items, err := s.Read(context.Background(), "workshop", 0, 0, 0)
		if head := s.Head("workshop").Seq; err != nil || head != readable || uint64(len(items)) != readable {
			t.Errorf("head %d, %d to be read, %v; want %d", head, len(items), err, readable)
		}
		_, err = s.Append(context.Background(), "workshop", storetest.Device(1), readable, storetest.Entries(readable+1, readable+1, 17), store.Meta{})
		if damaged := new(store.Damaged); !errors.As(err, &damaged) || *damaged != want {
			t.Errorf("Append: %v", err)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(dir), copyPattern)); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// F19, by altering what Badger holds: the first that is missing or altered is named, and what stands before it is read.
func TestDamageIsNamed(t *testing.T) {
	other := sync.Envelope{Seq: 70, Device: storetest.Device(1), Entry: storetest.Entries(70, 70, 99)[0]}.Append(nil)
	tests := []struct {
		name     string
		change   func(txn *engine.Txn) error
		want     store.Damaged
		readable uint64
	}{
		{"the tail is gone", func(txn *engine.Txn) error {
			for seq := uint64(250); seq <= 300; seq++ {
				if err := txn.Delete(lineKey(tagLog, "workshop", seq)); err != nil {
					return err
				}
			}
			return nil
		}, store.Damaged{First: 250, Last: 300, How: store.Missing}, 249},
		{"a hole", func(txn *engine.Txn) error { return txn.Delete(lineKey(tagLog, "workshop", 20)) }, store.Damaged{First: 20, Last: 20, How: store.Missing}, 19},
		{"an entry altered", func(txn *engine.Txn) error { return txn.Set(lineKey(tagLog, "workshop", 70), other) }, store.Damaged{First: 65, Last: 128, How: store.Altered}, 64},
		{"an entry that does not parse", func(txn *engine.Txn) error { return txn.Set(lineKey(tagLog, "workshop", 70), []byte{0}) }, store.Damaged{First: 70, Last: 70, How: store.NotRead}, 69},
		{"two entries in each other's place", func(txn *engine.Txn) error {
			a, errA := value(txn, lineKey(tagLog, "workshop", 90))
			b, errB := value(txn, lineKey(tagLog, "workshop", 91))
			return errors.Join(errA, errB, txn.Set(lineKey(tagLog, "workshop", 90), b), txn.Set(lineKey(tagLog, "workshop", 91), a))
		}, store.Damaged{First: 90, Last: 90, How: store.NotRead}, 89},
		{"a hash altered", func(txn *engine.Txn) error { return txn.Set(lineKey(tagKept, "workshop", 64), make([]byte, 32)) }, store.Damaged{First: 1, Last: 64, How: store.Altered}, 0},
		{"the head of the stream altered", func(txn *engine.Txn) error { return txn.Set(headKey("workshop"), headValue(store.Head{Seq: 300})) }, store.Damaged{First: 257, Last: 300, How: store.Altered}, 256},
		{"an older head", func(txn *engine.Txn) error { return txn.Set(headKey("workshop"), headValue(store.Head{Seq: 120})) }, store.Damaged{First: 121, Last: 121, How: store.Surplus}, 120},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			dir := filepath.Join(inMemory(t), "journal")
			fill(t, dir, Options{})
			change(t, dir, test.change)
			test.want.Stream = "workshop"
			checkDamaged(t, dir, Options{}, test.want, test.readable)
		})
	}
}

func TestEpochIsNotGivenAgain(t *testing.T) {
	dir := inMemory(t)
	fill(t, dir, Options{})
	change(t, dir, func(txn *engine.Txn) error { return txn.Delete(keyFormat) })
	checkDamaged(t, dir, Options{}, store.Damaged{How: "has lost its epoch and key"}, 0)
	s, err := Open(dir, Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	if s.Key() != nil {
		t.Errorf("a lost key is given as %x", s.Key())
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

// F19, F20: the journal is whole by its own hashes and shorter than the witness says, as after the loss of its newest log.
func TestWitnessNoticesAnEndThatIsGone(t *testing.T) {
	dir, o := filepath.Join(inMemory(t), "journal"), Options{}
	o.Witness = filepath.Join(filepath.Dir(dir), "witness")
	s := mustOpen(t, dir, o)
	fillTo(t, s, 0, 100)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	old := filepath.Join(inMemory(t), "old")
	if err := os.CopyFS(old, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	fill(t, dir, o) // the first hundred are duplicates
	if err := errors.Join(os.RemoveAll(dir), os.Rename(old, dir)); err != nil {
		t.Fatal(err)
	}
	want := store.Damaged{Stream: "workshop", First: 101, Last: 300, How: store.Missing}
	checkDamaged(t, dir, o, want, 100)
	if got := want.Error(); got != "entries 101 to 300 of the workshop's book are missing" {
		t.Error(got)
	}
	// With the whole journal gone as well.
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	checkDamaged(t, dir, o, store.Damaged{Stream: "workshop", First: 1, Last: 300, How: store.Missing}, 0)
	if _, err := os.Stat(dir); err == nil {
		t.Errorf("a new journal was begun in the place of the lost one")
	}
}

// A journal of the same length and with right hashes of its own, but not the one that the witness saw.
func TestWitnessNoticesAnotherJournal(t *testing.T) {
	parent := inMemory(t)
	one, two := filepath.Join(parent, "one"), filepath.Join(parent, "two")
	o := Options{Witness: filepath.Join(parent, "witness"), Rand: strings.NewReader(strings.Repeat("r", 80))}
	fill(t, one, o)
	s := mustOpen(t, two, Options{Rand: strings.NewReader(strings.Repeat("r", 80))})
	if _, err := s.Append(context.Background(), "workshop", storetest.Device(1), 0, storetest.Entries(1, 400, 18), store.Meta{}); err != nil {
		t.Fatal(err)
	}
	s.Close()
	checkDamaged(t, two, o, store.Damaged{Stream: "workshop", First: 257, Last: 300, How: store.Replaced}, 256)
	o.Rand = nil
	three := filepath.Join(parent, "three")
	fill(t, three, Options{})
	s = mustOpen(t, three, o)
	defer s.Close()
	if found := s.Damage(); len(found) == 0 || !strings.Contains(found[len(found)-1].Error(), "another epoch") {
		t.Errorf("names %v", found)
	}
}

// F19 in the witness: the journal has hashes of its own and goes on; the bad file is set aside and said.
func TestLostWitnessIsWrittenAnew(t *testing.T) {
	for name, spoil := range map[string]func(string) error{
		"deleted": os.Remove,
		"altered": func(path string) error { return os.WriteFile(path, []byte("{}"), 0o600) },
	} {
		t.Run(name, func(t *testing.T) {
			dir, o := filepath.Join(inMemory(t), "journal"), Options{}
			o.Witness = filepath.Join(filepath.Dir(dir), "witness")
			fill(t, dir, o)
			if err := spoil(o.Witness); err != nil {
				t.Fatal(err)
			}
			s := mustOpen(t, dir, o)
			defer s.Close()
			if len(s.Notes()) != 1 || s.Damage() != nil {
				t.Errorf("says %v, damage %v", s.Notes(), s.Damage())
			}
			if m, err := witness.Read(o.Witness); err != nil || m.Heads["workshop"] != s.Head("workshop") {
				t.Errorf("the new one says %+v, %v", m, err)
			}
		})
	}
}

// F17: power was lost while a batch was being written: its bytes in the log are there in part. What was acknowledged before it is there, and nothing is named damaged.
func TestTornTailIsPassedOver(t *testing.T) {
	dir, o := filepath.Join(inMemory(t), "journal"), Options{}
	o.Witness = filepath.Join(filepath.Dir(dir), "witness")
	s := mustOpen(t, dir, o)
	defer s.Close()
	fillTo(t, s, 0, 100)
	log := walPath(dir, s.wal.number)
	before := usedOf(t, log)
	said, err := os.ReadFile(o.Witness) // after the first batch or before it: both may be on disk when the power goes
	if err != nil {
		t.Fatal(err)
	}
	fillTo(t, s, 100, 200)
	after := usedOf(t, log)
	if before < 5000 || after < before+5000 {
		t.Fatalf("the log holds %d and then %d bytes", before, after)
	}
	torn := after - before
	for _, kept := range []int{0, 1, 5, 40, torn / 2, torn - 20, torn - 1} {
		for _, first := range []bool{true, false} {
			copied := filepath.Join(inMemory(t), "journal")
			made, err := copyTo(filepath.Dir(copied), dir)
			if err = errors.Join(err, os.Rename(made, copied)); err != nil {
				t.Fatal(err)
			}
			// Pages come to the disk in any order: what is missing may be the end or the beginning.
			lost, at := make([]byte, torn-kept), before+kept
			if !first {
				at = before
			}
			o := Options{Witness: filepath.Join(filepath.Dir(copied), "witness")}
			if err := errors.Join(os.WriteFile(o.Witness, said, 0o600), writeAt(walPath(copied, s.wal.number), lost, at)); err != nil {
				t.Fatal(err)
			}
			again := mustOpen(t, copied, o)
			if head := again.Head("workshop").Seq; head != 100 || again.Damage() != nil {
				t.Errorf("%d of %d bytes came to the disk (the first ones: %v): %d entries, damage %v", kept, torn, first, head, again.Damage())
			}
			fillTo(t, again, 100, 200)
			if err := again.Close(); err != nil {
				t.Error(err)
			}
		}
	}
}

// usedOf is where a file's zeros begin.
func usedOf(t *testing.T, path string) int {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return len(bytes.TrimRight(data, "\x00"))
}

func writeAt(path string, data []byte, at int) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.WriteAt(data, int64(at))
	return errors.Join(err, f.Close())
}

// F17, F18, F23: the disk fails at its first step, its second, its third … until a run needs no more. What was
// acknowledged is there after opening again with a good disk, the witness is never ahead, and nothing is named damaged.
func TestFailingDiskLosesNothingAcknowledged(t *testing.T) {
	broken := errors.New("the disk says no")
	for n := 1; ; n++ {
		dir, o := filepath.Join(inMemory(t), "journal"), Options{}
		o.Witness = filepath.Join(filepath.Dir(dir), "witness")
		left, failed := n, ""
		steps := make(chan struct{}, 1)
		o.Disk = &durable.Disk{Step: func(step, _ string) error {
			steps <- struct{}{} // the witness is written beside the journal
			defer func() { <-steps }()
			if left--; left == 0 {
				failed = step
				return broken
			}
			return nil
		}}
		acknowledged := uint64(0)
		s, err := Open(dir, o)
		if err == nil {
			for acknowledged < 60 {
				_, err = s.Append(context.Background(), "workshop", storetest.Device(1), acknowledged, storetest.Entries(acknowledged+1, acknowledged+20, 17), store.Meta{})
				if err != nil {
					break
				}
				acknowledged += 20
			}
			if said := new(store.Failed); err != nil && !errors.As(err, &said) {
				t.Fatalf("step %d, %s: %v", n, failed, err)
			}
			if err != nil {
				if _, again := s.Append(context.Background(), "workshop", storetest.Device(1), acknowledged, storetest.Entries(acknowledged+1, acknowledged+20, 17), store.Meta{}); !errors.Is(again, broken) {
					t.Errorf("step %d, %s: a disk that failed was trusted again: %v", n, failed, again)
				}
			}
			s.Close()
		}
		o.Disk = nil
		s = mustOpen(t, dir, o)
		m, err := witness.Read(o.Witness)
		if head := s.Head("workshop"); err != nil || s.Damage() != nil || head.Seq < acknowledged || m.Heads["workshop"].Seq > head.Seq {
			t.Errorf("step %d, %s: %d acknowledged, %d there, the witness says %+v; %v %v", n, failed, acknowledged, head.Seq, m.Heads, s.Damage(), err)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
		if failed == "" {
			if acknowledged != 60 || n < 15 {
				t.Errorf("a run needed %d steps and acknowledged %d", n-1, acknowledged)
			}
			return
		}
	}
}

// F26: a journal of a later program is no damaged one: nothing is read of it, and nothing is changed.
func TestANewerJournalIsNotCalledDamaged(t *testing.T) {
	for _, readOnly := range []bool{false, true} {
		dir := filepath.Join(inMemory(t), "journal")
		fill(t, dir, Options{})
		change(t, dir, func(txn *engine.Txn) error { return txn.Set(keyFormat, []byte{format + 1}) })
		var newer *store.Newer
		if _, err := Open(dir, Options{ReadOnly: readOnly}); !errors.As(err, &newer) || !strings.Contains(newer.Hint(), "update Stillroom") {
			t.Errorf("for reading %v: %v", readOnly, err)
		}
		change(t, dir, func(txn *engine.Txn) error { return txn.Set(keyFormat, []byte{format}) })
		s, err := Open(dir, Options{ReadOnly: readOnly})
		if err != nil || s.Damage() != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
}
