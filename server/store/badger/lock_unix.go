//go:build unix

package badger

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"

	"stillroom/server/store"
)

// lock holds the journal as Badger itself would, shared for reading, until unlock.
func (s *Store) lock() error {
	f, err := os.Open(s.dir)
	if err != nil {
		return inWords(s.dir, err)
	}
	how := unix.LOCK_EX
	if s.o.ReadOnly {
		how = unix.LOCK_SH
	}
	if err := unix.Flock(int(f.Fd()), how|unix.LOCK_NB); err != nil {
		if errors.Is(err, unix.EWOULDBLOCK) {
			err = &store.Busy{Dir: s.dir}
		}
		return errors.Join(err, f.Close())
	}
	s.locked = f
	return nil
}
