package folder

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// The steps of a durable write, each a variable so that a test can make it fail.
var (
	createTemp = os.CreateTemp
	writeAll   = func(f *os.File, data []byte) error { _, err := f.Write(data); return err }
	syncFile   = (*os.File).Sync
	rename     = os.Rename
	syncFolder = func(dir string) error {
		if runtime.GOOS == "windows" {
			return nil // a folder cannot be opened for syncing there; renames are journaled by the file system
		}
		f, err := os.Open(dir)
		if err != nil {
			return err
		}
		return errors.Join(f.Sync(), f.Close())
	}
)

// tempPattern names files that a stopped write may leave behind; they are never read.
const tempPattern = ".write-*"

// writeFile replaces a small file so that after the loss of power the old content is there or the new one, whole: a
// temporary file beside it, its bytes on disk, then the rename, then the folder on disk. When it returns an error
// before the rename the old file stands; only a failed sync of the folder leaves open which of the two is there.
func writeFile(path string, data []byte) error {
	dir := filepath.Dir(path)
	f, err := createTemp(dir, tempPattern)
	if err != nil {
		return err
	}
	err = errors.Join(writeAll(f, data), syncFile(f), f.Close())
	if err == nil {
		err = rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return syncFolder(dir)
}
