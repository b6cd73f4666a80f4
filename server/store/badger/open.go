package badger

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
	gosync "sync"
	"syscall"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/sync"
)

// KeepFree is what must stay free on the disk, bytes. Badger maps files that are larger than what is in them, and a
// mapped page without a place on the disk ends the process; 256 MB cover two tables in memory, one value log at twice
// its size, and one compaction.
const KeepFree = 256 << 20

// Options say how to open.
type Options struct {
	// ReadOnly opens for verify and export: nothing is written, and a store that is not there is not made.
	ReadOnly bool
	// Rand gives the epoch and the key of a new store; nil is crypto/rand.
	Rand io.Reader
	// Free tells the free space in bytes where the folder is; nil asks the system.
	Free func(dir string) (uint64, error)
}

// ErrNone: opened for reading, and there is no store in the folder.
var ErrNone = errors.New("there is no journal in this folder")

// Store is a store.Store in a folder.
type Store struct {
	store.Lookups
	dir      string
	readOnly bool
	free     func(string) (uint64, error)
	db       *engine.DB
	epoch    sync.Epoch
	key      []byte

	// closing guards requests: Append holds it for reading while it hands on.
	closing  gosync.RWMutex
	closed   bool
	requests chan *request
	done     chan struct{}
}

var _ store.Store = (*Store)(nil)

// Open opens the store in dir, or makes one, and reads its whole log. Errors: *store.Busy, *store.ReadOnly,
// *store.Damaged, ErrNone, or the disk's own.
func Open(dir string, o Options) (*Store, error) {
	db, err := openEngine(dir, o.ReadOnly)
	if err != nil {
		return nil, err
	}
	s := &Store{dir: dir, readOnly: o.ReadOnly, free: o.Free, db: db, requests: make(chan *request, 64), done: make(chan struct{})}
	if s.free == nil {
		s.free = freeBytes
	}
	if err := s.load(o); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	go s.commitLoop()
	return s, nil
}

func openEngine(dir string, readOnly bool) (*engine.DB, error) {
	db, err := engine.Open(engineOptions(dir, readOnly))
	// Badger's errors lose what they wrap, so they are told apart by their words.
	if readOnly && err != nil && strings.Contains(err.Error(), engine.ErrTruncateNeeded.Error()) {
		// The last process was killed. Its unfinished tail can only be passed over by an opening that may write; entries
		// are not touched by that.
		db, err = engine.Open(engineOptions(dir, false))
	}
	switch {
	case err == nil:
		return db, nil
	case strings.Contains(err.Error(), "Cannot acquire directory lock"):
		return nil, &store.Busy{Dir: dir}
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return nil, &store.ReadOnly{Dir: dir}
	case readOnly && (errors.Is(err, fs.ErrNotExist) || strings.Contains(err.Error(), "does not exist") || strings.Contains(err.Error(), "no manifest found")):
		return nil, ErrNone
	}
	return nil, fmt.Errorf("the journal in %s does not open: %w", dir, err)
}

func (s *Store) load(o Options) error {
	if err := s.loadMeta(o); err != nil {
		return err
	}
	s.Lookups = store.Lookups{Ledger: store.NewLedger(), One: s.envelope, Log: s.Read}
	return s.db.View(func(txn *engine.Txn) error { return readLog(txn, s.Ledger) })
}

func (s *Store) loadMeta(o Options) error {
	random := o.Rand
	if random == nil {
		random = rand.Reader
	}
	err := s.db.View(func(txn *engine.Txn) error {
		version, err := value(txn, keyFormat)
		if err != nil {
			return err
		}
		if len(version) != 1 || version[0] != format {
			return fmt.Errorf("the journal in %s has layout %d and this program reads %d; a newer Stillroom wrote it", s.dir, version, format)
		}
		epoch, err := value(txn, keyEpoch)
		if err != nil {
			return err
		}
		if s.key, err = value(txn, keyMAC); err != nil {
			return err
		}
		copy(s.epoch[:], epoch)
		return nil
	})
	if !errors.Is(err, engine.ErrKeyNotFound) {
		return err
	}
	if o.ReadOnly {
		return ErrNone
	}
	if err := s.mustBeEmpty(); err != nil {
		return err
	}
	s.key = make([]byte, 32)
	if _, err := io.ReadFull(random, s.key); err != nil {
		return err
	}
	if _, err := io.ReadFull(random, s.epoch[:]); err != nil {
		return err
	}
	return s.db.Update(func(txn *engine.Txn) error {
		return errors.Join(txn.Set(keyFormat, []byte{format}), txn.Set(keyEpoch, s.epoch[:]), txn.Set(keyMAC, s.key))
	})
}

// mustBeEmpty refuses to give a new epoch to a folder that lost its old one.
func (s *Store) mustBeEmpty() error {
	return s.db.View(func(txn *engine.Txn) error {
		it := txn.NewIterator(engine.IteratorOptions{})
		defer it.Close()
		if it.Rewind(); it.Valid() {
			return &store.Damaged{Stream: "the journal", How: "lost their epoch and key"}
		}
		return nil
	})
}

func value(txn *engine.Txn, key []byte) ([]byte, error) {
	item, err := txn.Get(key)
	if err != nil {
		return nil, err
	}
	return item.ValueCopy(nil)
}
