package folder

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// Begin makes a book in a folder that does not exist, with a key and a table of devices that were kept: a new life of a
// store, in a new epoch.
func Begin(dir string, key, table []byte, o Options) (*Folder, error) {
	if err := os.Mkdir(dir, 0o700); err != nil {
		return nil, err
	}
	if err := begin(dir, o); err != nil {
		return nil, err
	}
	if err := o.Disk.Replace(filepath.Join(dir, devicesFile), table); err != nil {
		return nil, err
	}
	o.key = key
	return Open(dir, o)
}

// Table is the table of devices as it lies on disk.
func (d *Devices) Table() ([]byte, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	data, err := os.ReadFile(d.path)
	if errors.Is(err, fs.ErrNotExist) {
		return newTable(nil)
	}
	return data, err
}
