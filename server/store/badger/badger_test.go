package badger

import (
	"context"
	"errors"
	"fmt"
	"testing"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/server/store/storetest"
	"stillroom/sync"
)

func TestContract(t *testing.T) {
	storetest.Run(t, func(t *testing.T) storetest.Opener {
		dir := t.TempDir()
		return storetest.Opener{Reopen: true, Open: func(t *testing.T) store.Store { return mustOpen(t, dir, Options{}) }}
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

// fill writes a book of 300 entries and closes it.
func fill(t *testing.T, dir string) {
	t.Helper()
	s := mustOpen(t, dir, Options{})
	for after := uint64(0); after < 300; after += 100 {
		if _, err := s.Append(context.Background(), "workshop", storetest.Device(1), after, storetest.Entries(after+1, after+100, 17), store.Meta{}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// change alters the keys of a closed store behind its back.
func change(t *testing.T, dir string, f func(txn *engine.Txn) error) {
	t.Helper()
	db, err := engine.Open(engineOptions(dir, false))
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(db.Update(f), db.Close()); err != nil {
		t.Fatal(err)
	}
}

func TestDamageIsNamed(t *testing.T) {
	other := sync.Envelope{Seq: 70, Device: storetest.Device(1), Entry: storetest.Entries(70, 70, 99)[0]}.Append(nil)
	tests := []struct {
		name        string
		change      func(txn *engine.Txn) error
		first, last uint64
	}{
		{"the tail is gone", func(txn *engine.Txn) error {
			for seq := uint64(250); seq <= 300; seq++ {
				if err := txn.Delete(lineKey(tagLog, "workshop", seq)); err != nil {
					return err
				}
			}
			return nil
		}, 250, 300},
		{"a hole", func(txn *engine.Txn) error { return txn.Delete(lineKey(tagLog, "workshop", 20)) }, 20, 20},
		{"an entry altered", func(txn *engine.Txn) error { return txn.Set(lineKey(tagLog, "workshop", 70), other) }, 65, 128},
		{"an entry that does not parse", func(txn *engine.Txn) error { return txn.Set(lineKey(tagLog, "workshop", 70), []byte{0}) }, 70, 70},
		{"a hash altered", func(txn *engine.Txn) error { return txn.Set(lineKey(tagKept, "workshop", 64), make([]byte, 32)) }, 1, 64},
		{"the head of the stream altered", func(txn *engine.Txn) error { return txn.Set(headKey("workshop"), headValue(store.Head{Seq: 300})) }, 257, 300},
		{"an older head", func(txn *engine.Txn) error { return txn.Set(headKey("workshop"), headValue(store.Head{Seq: 120})) }, 121, 121},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			dir := t.TempDir()
			fill(t, dir)
			change(t, dir, test.change)
			for _, readOnly := range []bool{true, false} {
				_, err := Open(dir, Options{ReadOnly: readOnly})
				var damaged *store.Damaged
				if !errors.As(err, &damaged) {
					t.Fatalf("opened with %v, want a named damage", err)
				}
				if damaged.First != test.first || damaged.Last != test.last {
					t.Errorf("names %d to %d, want %d to %d: %v", damaged.First, damaged.Last, test.first, test.last, damaged)
				}
			}
		})
	}
}

func TestEpochIsNotGivenAgain(t *testing.T) {
	dir := t.TempDir()
	fill(t, dir)
	change(t, dir, func(txn *engine.Txn) error { return txn.Delete(keyFormat) })
	var damaged *store.Damaged
	if _, err := Open(dir, Options{}); !errors.As(err, &damaged) {
		t.Errorf("a store that lost its epoch opened with %v", err)
	}
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
	fill(t, dir)
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

// BenchmarkAppend compares with Badger alone on the same batches, keys and options: what the contract costs. Each
// device pushes batches of 20 entries of about 60 bytes.
func BenchmarkAppend(b *testing.B) {
	const each = 20
	for _, devices := range []int{1, 8} {
		b.Run(fmt.Sprintf("store/devices=%d", devices), func(b *testing.B) {
			s := mustOpen(b, b.TempDir(), Options{})
			defer s.Close()
			spread(b, devices, func(device, batch int) error {
				after := uint64(batch * each)
				_, err := s.Append(context.Background(), "workshop", storetest.Device(byte(device+1)), after, storetest.Entries(after+1, after+each, 17), store.Meta{At: 1})
				return err
			})
			b.ReportMetric(float64(b.N*each)/b.Elapsed().Seconds(), "entries/s")
		})
		b.Run(fmt.Sprintf("bare/devices=%d", devices), func(b *testing.B) {
			db, err := engine.Open(engineOptions(b.TempDir(), false))
			if err != nil {
				b.Fatal(err)
			}
			defer db.Close()
			spread(b, devices, func(device, batch int) error {
				return db.Update(func(txn *engine.Txn) error {
					stream := fmt.Sprintf("workshop%d", device)
					for i, e := range storetest.Entries(uint64(batch*each+1), uint64(batch*each+each), 17) {
						if err := txn.Set(lineKey(tagLog, stream, uint64(batch*each+i+1)), e); err != nil {
							return err
						}
					}
					return nil
				})
			})
			b.ReportMetric(float64(b.N*each)/b.Elapsed().Seconds(), "entries/s")
		})
	}
}

// spread does b.N batches on so many goroutines, each in its own order.
func spread(b *testing.B, devices int, push func(device, batch int) error) {
	done := make(chan error, devices)
	b.ResetTimer()
	for device := range devices {
		go func() {
			for batch := 0; batch < b.N/devices || batch == 0; batch++ {
				if err := push(device, batch); err != nil {
					done <- err
					return
				}
			}
			done <- nil
		}()
	}
	for range devices {
		if err := <-done; err != nil {
			b.Fatal(err)
		}
	}
	b.StopTimer()
}
