package badger

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	engine "github.com/dgraph-io/badger/v4"
)

// A program that was ended many times right after it started leaves tables and logs that are not tables yet.
// With nobody to compact them, Badger waits for ever at its sixteenth table unless it is told not to.
func TestAJournalOfManySmallTablesIsExaminedAllTheSame(t *testing.T) {
	dir := t.TempDir()
	for n := range 20 {
		db, err := engine.Open(engineOptions(dir).WithNumCompactors(0).WithNumLevelZeroTablesStall(100))
		if err != nil {
			t.Fatal(err)
		}
		if err := db.Update(func(tx *engine.Txn) error { return tx.Set(fmt.Appendf(nil, "k%d", n), []byte("v")) }); err != nil {
			t.Fatal(err)
		}
		if n < 19 {
			if err := db.Close(); err != nil {
				t.Fatal(err)
			}
			continue
		}
		defer db.Close()
	}
	copied := t.TempDir()
	if err := os.CopyFS(copied, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	logs, err := filepath.Glob(filepath.Join(copied, "*.mem"))
	if err != nil || len(logs) != 1 {
		t.Fatalf("%q, %v", logs, err)
	}
	log, err := os.ReadFile(logs[0])
	if err != nil {
		t.Fatal(err)
	}
	for more := range 5 {
		if err := os.WriteFile(filepath.Join(copied, fmt.Sprintf("%05d.mem", 100+more)), log, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	done := make(chan error, 1)
	go func() {
		db, err := engine.Open(copyOptions(copied))
		if err == nil {
			err = db.Close()
		}
		done <- err
	}()
	select {
	case err := <-done:
		if err != nil {
			t.Fatal(err)
		}
	case <-time.After(time.Minute):
		t.Fatal("Badger waits for a compaction that never comes")
	}
}
