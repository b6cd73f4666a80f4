package folder

import (
	"crypto/sha256"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/sync"
)

// Begin makes a book in a folder that does not exist, with a key and a table of devices that were kept: a new life of a
// store, in a new epoch. made is when that was; without a key a new one is drawn.
func Begin(dir string, key, table []byte, made time.Time, o Options) (*Folder, error) {
	if err := os.Mkdir(dir, 0o700); err != nil {
		return nil, err
	}
	o.key, o.restored = key, max(made.UnixMilli(), 1)
	if err := begin(dir, o); err != nil {
		return nil, err
	}
	if err := o.Disk.Replace(filepath.Join(dir, devicesFile), table); err != nil {
		return nil, err
	}
	return Open(dir, o)
}

// opening is what the store of a book that was restored writes before the first entry of its new life: only the shelf's
// fold asks what an entry had seen.
func (a about) opening() func(sync.Epoch) *store.Opening {
	if a.Restored == 0 {
		return nil
	}
	return func(epoch sync.Epoch) *store.Opening {
		name := sha256.Sum256(append([]byte("stillroom store device"), epoch[:]...))
		return &store.Opening{Device: sync.DeviceID(name[:8]), Entry: func(stream string, head uint64, at int64) []byte {
			if stream != book.Shelf {
				return nil
			}
			body := book.StoreBegan{Backup: a.Restored}.Body()
			return sync.Entry{Seq: 1, Seen: sync.Seen{Epoch: epoch, Seq: head}, At: at, Kind: book.KindStoreBegan, V: 1, Body: body}.Append(nil)
		}}
	}
}

// Table is the table of devices as it lies on disk.
func (d *Devices) Table() ([]byte, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.lost != nil {
		return Table(nil, 0)
	}
	data, err := os.ReadFile(d.path)
	if errors.Is(err, fs.ErrNotExist) {
		return Table(nil, 0)
	}
	return data, err
}
