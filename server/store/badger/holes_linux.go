package badger

import (
	"os"

	"golang.org/x/sys/unix"
)

// nextData gives the next stretch of a file at or after at that is no hole; it is empty at the end.
func nextData(f *os.File, at, size int64) (from, to int64) {
	from, err := unix.Seek(int(f.Fd()), at, unix.SEEK_DATA)
	switch {
	case err == unix.ENXIO:
		return size, size
	case err != nil:
		return at, size
	}
	if to, err = unix.Seek(int(f.Fd()), from, unix.SEEK_HOLE); err != nil {
		return from, size
	}
	return from, to
}
