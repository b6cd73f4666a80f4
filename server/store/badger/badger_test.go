package badger

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	engine "github.com/dgraph-io/badger/v4"

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

// BenchmarkAppend compares with Badger alone on the same batches, keys and options: what the contract costs. Each
// device pushes batches of 20 entries of about 60 bytes.
func BenchmarkAppend(b *testing.B) {
	const each = 20
	for _, devices := range []int{1, 8} {
		b.Run(fmt.Sprintf("store/devices=%d", devices), func(b *testing.B) {
			s := mustOpen(b, b.TempDir(), Options{Witness: filepath.Join(b.TempDir(), "witness")})
			defer s.Close()
			spread(b, devices, func(device, batch int) error {
				after := uint64(batch * each)
				_, err := s.Append(context.Background(), "workshop", storetest.Device(byte(device+1)), after, storetest.Entries(after+1, after+each, 17), store.Meta{At: 1})
				return err
			})
			b.ReportMetric(float64(b.N*each)/b.Elapsed().Seconds(), "entries/s")
		})
		b.Run(fmt.Sprintf("bare/devices=%d", devices), func(b *testing.B) {
			db, err := engine.Open(engineOptions(b.TempDir()))
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
