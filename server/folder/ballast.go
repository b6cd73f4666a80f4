package folder

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"stillroom/server/store/badger"
)

const (
	ballastFile = "ballast"
	// ballastBytes is what deleting the ballast frees: what a store needs to take entries, and room for a million of them.
	ballastBytes = badger.KeepFree + 64<<20
	// roomForBallast must be free before it is made, so that it is no burden itself.
	roomForBallast = 1 << 30
)

// keepBallast makes a file that holds nothing and takes room, so that a person who finds the disk full can delete it and
// go on at once. Where there is little room it is not made; a deleted one comes back when there is room again.
func keepBallast(dir string, free func(string) (uint64, error)) error {
	path := filepath.Join(dir, ballastFile)
	if _, err := os.Stat(path); err == nil || !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	room, err := free(dir)
	if err != nil || room < roomForBallast {
		return err
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	err = badger.Allocate(f, ballastBytes)
	if errors.Is(err, errors.ErrUnsupported) {
		err = nil
		for block := make([]byte, 1<<20); err == nil; {
			at, seekErr := f.Seek(0, 1)
			if seekErr != nil || at >= ballastBytes {
				err = seekErr
				break
			}
			_, err = f.Write(block)
		}
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return nil
}
