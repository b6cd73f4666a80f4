package badger

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/server/store/storetest"
)

// BenchmarkAppend compares with Badger alone on the same batches, keys and options: what the contract and the witness
// cost. Each device pushes 20 batches of 20 entries of about 60 bytes to the one and then to the other, so that a disk that
// is slow for a while is slow for both; of-bare is the ratio of the medians.
func BenchmarkAppend(b *testing.B) {
	const each, inARow = 20, 20
	for _, devices := range []int{1, 8} {
		b.Run(fmt.Sprintf("devices=%d", devices), func(b *testing.B) {
			dir := b.TempDir()
			s := mustOpen(b, filepath.Join(dir, "journal"), Options{Witness: filepath.Join(dir, "witness")})
			defer s.Close()
			db, err := engine.Open(engineOptions(b.TempDir()))
			if err != nil {
				b.Fatal(err)
			}
			defer db.Close()
			var ours, bare []time.Duration
			b.ResetTimer()
			for round := range b.N {
				ours = append(ours, push(b, devices, inARow, func(device, batch int) error {
					after := uint64((round*inARow + batch) * each)
					entries := storetest.Entries(after+1, after+each, 17)
					_, err := s.Append(context.Background(), "workshop", storetest.Device(byte(device+1)), after, entries, store.Meta{At: 1})
					return err
				}))
				bare = append(bare, push(b, devices, inARow, func(device, batch int) error {
					after := uint64((round*inARow + batch) * each)
					return db.Update(func(txn *engine.Txn) error {
						stream := fmt.Sprintf("workshop%d", device)
						for i, e := range storetest.Entries(after+1, after+each, 17) {
							if err := txn.Set(lineKey(tagLog, stream, after+uint64(i+1)), e); err != nil {
								return err
							}
						}
						return nil
					})
				}))
			}
			b.StopTimer()
			slices.Sort(ours)
			slices.Sort(bare)
			mine, its := ours[len(ours)/2], bare[len(bare)/2]
			b.ReportMetric(float64(its)/float64(mine), "of-bare")
			b.ReportMetric(float64(devices*inARow*each)/mine.Seconds(), "entries/s")
			b.ReportMetric(float64(devices*inARow*each)/its.Seconds(), "bare-entries/s")
		})
	}
}

// push does so many batches of every device, all devices at once, and tells how long that took.
func push(b *testing.B, devices, batches int, do func(device, batch int) error) time.Duration {
	done := make(chan error, devices)
	start := time.Now()
	for device := range devices {
		go func() {
			var err error
			for batch := 0; batch < batches && err == nil; batch++ {
				err = do(device, batch)
			}
			done <- err
		}()
	}
	for range devices {
		if err := <-done; err != nil {
			b.Fatal(err)
		}
	}
	return time.Since(start)
}
