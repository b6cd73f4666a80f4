package badger

import (
	"fmt"
	"os"
	"path/filepath"

	"stillroom/server/store"
)

// What must be free on the disk, bytes. Badger maps files that are larger than what is in them, and a mapped page without
// a place on the disk ends the process.
const (
	// KeepFree is for taking a batch: two logs of 16 MB, the tables written from them, and one compaction, which merges at
	// most five such tables with what they overlap.
	KeepFree = 128 << 20
	// KeepToOpen is for opening: the copy of the log that is checked, what is written from it, and a new log.
	KeepToOpen = 64 << 20
	// keepToClose is for ending as Badger likes to: what is in memory is written as a table. With less it is left as a
	// crash would leave it; everything acknowledged is in the log by then.
	keepToClose = 32 << 20
)

func (s *Store) askSpace(dir string, need uint64) error {
	free, err := s.o.Free(dir)
	if err != nil {
		return &store.Failed{Err: err}
	}
	if free < need {
		return &store.Full{Free: free, Need: need, Ballast: s.hasBallast()}
	}
	return nil
}

func (s *Store) hasBallast() bool {
	_, err := os.Stat(s.o.Ballast)
	return s.o.Ballast != "" && err == nil
}

// Space is the free space where the journal lies, in bytes. The error is *store.Full when no batch would be taken, or the
// disk's own.
func (s *Store) Space() (free uint64, err error) {
	if free, err = s.o.Free(s.dir); err != nil {
		return 0, err
	}
	return free, s.askSpace(s.dir, KeepFree)
}

// wal knows which of Badger's write-ahead logs is in use, so that its whole size is given to it on the disk at once: the
// disk may be filled by somebody else between two batches, and never under one.
type wal struct{ number int }

// reserve is called after the journal was opened and after every batch, since Badger begins a new log in one.
func (w *wal) reserve(dir string) {
	if w.number == 0 {
		logs, _ := filepath.Glob(filepath.Join(dir, "*.mem"))
		for _, path := range logs {
			n := 0
			if _, err := fmt.Sscanf(filepath.Base(path), "%05d.mem", &n); err == nil && n > w.number {
				w.number = n
			}
		}
	} else if _, err := os.Stat(walPath(dir, w.number+1)); err != nil {
		return
	} else {
		w.number++
	}
	// Where this cannot be done, or there is no room, the free space asked before the next batch has to do.
	if f, err := os.OpenFile(walPath(dir, w.number), os.O_RDWR, 0); err == nil {
		if info, err := f.Stat(); err == nil {
			Allocate(f, info.Size())
		}
		f.Close()
	}
}

func walPath(dir string, number int) string {
	return filepath.Join(dir, fmt.Sprintf("%05d.mem", number))
}
