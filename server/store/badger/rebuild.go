package badger

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
	"github.com/dgraph-io/badger/v4/table"
	"github.com/dgraph-io/badger/v4/y"
)

// Badger refuses a journal as a whole for one bad table, and deletes tables that a spoiled list of them does not name. What
// follows reads each table by itself, whatever that list says, and each block of it; nothing of it is believed that the
// hashes do not prove afterwards.

// cell is what stands under a key in its newest version.
type cell struct {
	version uint64
	value   []byte
	deleted bool
}

// marks of a value, as Badger writes them.
const (
	markDeleted = 1 << 0
	markPointer = 1 << 1 // to the value log, where nothing of ours is long enough to go
)

type cells map[string]cell

func (c cells) take(key []byte, new cell) {
	if old, ok := c[string(key)]; !ok || old.version < new.version {
		c[string(key)] = new
	}
}

// rebuild puts what can be read of a copy into a new journal, in a folder that is not there. The copy is spoiled by it.
func rebuild(copied, into string) error {
	found := cells{}
	entries, err := os.ReadDir(copied)
	if err != nil {
		return err
	}
	logs := into + "-logs"
	defer os.RemoveAll(logs)
	if err := os.Mkdir(logs, 0o700); err != nil {
		return err
	}
	for _, e := range entries {
		path := filepath.Join(copied, e.Name())
		switch {
		case strings.HasSuffix(e.Name(), ".sst"):
			if data, err := os.ReadFile(path); err == nil {
				found.readTable(data)
			}
		case strings.HasSuffix(e.Name(), ".mem"):
			if err := os.Rename(path, filepath.Join(logs, e.Name())); err != nil {
				return err
			}
		}
	}
	// Logs that Badger cannot read are as good as none; it cuts off what it cannot read of one.
	_ = found.readLogs(logs)
	if err := os.Mkdir(into, 0o700); err != nil {
		return err
	}
	return found.write(into)
}

// readTable reads a table from both ends, so that one bad block hides nothing but itself.
func (c cells) readTable(data []byte) {
	for _, how := range []int{0, table.REVERSED} {
		c.readFrom(data, how)
	}
}

func (c cells) readFrom(data []byte, how int) {
	defer func() { _ = recover() }() // a spoiled index; what was read before it is kept
	o := table.Options{ChkMode: options.OnBlockRead, Compression: options.Snappy, BlockSize: 4 << 10}
	t, err := table.OpenInMemoryTable(data, 1, &o)
	if err != nil {
		return
	}
	it := t.NewIterator(how | table.NOCACHE)
	defer it.Close()
	for it.Rewind(); it.Valid(); it.Next() {
		key, v := it.Key(), it.Value()
		if v.Meta&markPointer == 0 && !strings.HasPrefix(string(key), "!badger!") {
			c.take(y.ParseKey(key), cell{y.ParseTs(key), append([]byte(nil), v.Value...), v.Meta&markDeleted != 0})
		}
	}
}

// readLogs reads what is not in a table yet.
func (c cells) readLogs(dir string) error {
	db, err := engine.Open(copyOptions(dir))
	if err != nil {
		return err
	}
	err = db.View(func(txn *engine.Txn) error {
		it := txn.NewIterator(engine.IteratorOptions{AllVersions: true})
		defer it.Close()
		for it.Rewind(); it.Valid(); it.Next() {
			item := it.Item()
			value, err := item.ValueCopy(nil)
			if err != nil {
				return err
			}
			c.take(item.Key(), cell{item.Version(), value, item.IsDeletedOrExpired()})
		}
		return nil
	})
	return errors.Join(err, db.Close())
}

func (c cells) write(into string) error {
	db, err := engine.Open(copyOptions(into))
	if err != nil {
		return err
	}
	batch := db.NewWriteBatch()
	for key, cell := range c {
		if cell.deleted {
			continue
		}
		if err := batch.Set([]byte(key), cell.value); err != nil {
			return errors.Join(fmt.Errorf("what was read of the journal could not be put together: %w", err), db.Close())
		}
	}
	return errors.Join(batch.Flush(), db.Close())
}
