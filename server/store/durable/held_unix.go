//go:build unix

package durable

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// closeFirst: whether a file must be closed before it is renamed. Here it is held until it has its name.
const closeFirst = false

// hold keeps a file for this process until it is closed. Where the system of files cannot do that, nobody holds and
// nothing is swept.
func hold(f *os.File) error {
	if err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB); errors.Is(err, unix.EWOULDBLOCK) {
		return errHeld
	}
	return nil
}

// dropLeft removes a file that no process holds, and holds it while it does.
func dropLeft(path string, how int) error {
	f, err := os.OpenFile(path, os.O_RDWR|how, 0o600)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB); err != nil {
		return err
	}
	return os.Remove(path)
}
