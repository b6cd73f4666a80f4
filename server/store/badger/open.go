package badger

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	gosync "sync"
	"syscall"
	"time"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/server/store/durable"
	"stillroom/server/store/witness"
	"stillroom/sync"
)

// Options say how to open.
type Options struct {
	// ReadOnly opens for verify and export: nothing is written, and a store that is not there is not made.
	ReadOnly bool
	// Rand gives the epoch and the key of a new store; nil is crypto/rand.
	Rand io.Reader
	// Key, when not nil, is the key of a new store: one that is made of a backup goes on with its key in a new epoch.
	Key []byte
	// Opening gives what a store that was restored writes itself, for its epoch; nil when it was not.
	Opening func(sync.Epoch) *store.Opening
	// Free tells the free space in bytes where the folder is; nil asks the system.
	Free func(dir string) (uint64, error)
	// Witness is the path of the file that says how far the journal reached; "" keeps none.
	Witness string
	// Ballast is the path of a file that a person may delete when the disk is full; it is mentioned while it is there.
	Ballast string
	// Disk takes what is written beside the journal; nil is the system's.
	Disk *durable.Disk
	// Check is Examine, or Examine in a process of its own; nil is Examine.
	Check Check
}

// ErrNone: opened for reading, and there is no store in the folder.
var ErrNone = errors.New("there is no journal in this folder")

// ErrStopped: the process that read the journal was ended by somebody before it was through, as by a system that is short
// of memory.
var ErrStopped = errors.New("the reading was stopped from outside")

// Store is a store.Store in a folder.
type Store struct {
	store.Lookups
	dir   string
	o     Options
	epoch sync.Epoch
	key   []byte
	notes []string

	// db is nil when Badger could not read the journal at all.
	db *engine.DB
	// locked holds the journal while it is not open itself.
	locked *os.File
	// copied is the folder of the copy that db reads, when it is a copy.
	copied string
	// refusal is what Append says, when the store is for reading.
	refusal error

	witness witnessing
	wal     wal

	// closing guards requests: Append holds it for reading while it hands on.
	closing  gosync.RWMutex
	closed   bool
	requests chan *request
	done     chan struct{}
}

var _ store.Store = (*Store)(nil)

// Open opens the store in dir, or makes one. The whole journal is read first, in a copy, since Badger cuts off what it
// cannot read when it opens for writing: only a journal that is dense, matches its hashes and reaches as far as the
// witness says is then opened itself. Any other opens for reading, and Damage names what is wrong.
//
// Errors: *store.Busy, *store.ReadOnly, *store.Full, ErrNone, a newer layout, or the disk's own.
func Open(dir string, o Options) (*Store, error) {
	if o.Free == nil {
		o.Free = FreeBytes
	}
	if o.Rand == nil {
		o.Rand = rand.Reader
	}
	if o.Check == nil {
		o.Check = Examine
	}
	s := &Store{dir: dir, o: o, requests: make(chan *request, 64), done: make(chan struct{})}
	seen, err := s.readWitness()
	if err != nil {
		return nil, err
	}
	there, err := begun(dir)
	switch {
	case err != nil:
		return nil, err
	case there:
		err = s.openChecked(seen)
	case seen.Entries() > 0:
		f := found{ledger: store.NewLedger(), epoch: seen.Epoch}
		f.lostAll(seen, store.Missing)
		s.take(f)
	case o.ReadOnly:
		return nil, ErrNone
	default:
		err = s.openForWriting(seen)
	}
	if err != nil {
		return nil, errors.Join(err, s.release())
	}
	go s.commitLoop()
	return s, nil
}

// openChecked has a copy of the journal read, and opens the journal itself only when it is whole.
func (s *Store) openChecked(seen *witness.Marks) error {
	if err := patiently(s.lock); err != nil {
		return err
	}
	if err := s.copyJournal(); err != nil {
		return err
	}
	whole, err := s.o.Check(s.copied, s.witnessOf(seen), "")
	switch {
	case stopped(err):
		return s.notRead(err)
	case errors.As(err, new(*store.Newer)): // nothing is damaged
		return &store.Newer{What: "the journal in " + s.dir}
	case err == nil && whole && !s.o.ReadOnly:
		if err := errors.Join(s.dropCopy(), s.sweepUnbegun(), s.unlock()); err != nil {
			return err
		}
		return s.openForWriting(seen)
	case err == nil && whole:
		return s.openCopy(seen, func(f *found) {})
	}
	// The first look may have spoiled the copy.
	if err := errors.Join(s.dropCopy(), s.copyJournal()); err != nil {
		return err
	}
	return s.openRebuilt(seen, err)
}

// openRebuilt reads what each table and log holds by itself of a journal that is damaged, which is more than Badger gives of
// it. It is for reading whatever it holds. why is not nil for one that Badger does not read.
func (s *Store) openRebuilt(seen *witness.Marks, why error) error {
	rebuilt := s.copied + "-rebuilt"
	_, err := s.o.Check(s.copied, s.witnessOf(seen), rebuilt)
	switch {
	case stopped(err):
		return errors.Join(s.notRead(err), os.RemoveAll(rebuilt))
	case err == nil:
		if err := s.dropCopy(); err != nil {
			return err
		}
		s.copied = rebuilt
		return s.openCopy(seen, func(f *found) {
			if why != nil {
				f.damage = append([]*store.Damaged{{How: "cannot be read in full: " + why.Error()}}, f.damage...)
			} else if f.damage == nil {
				f.damage = []*store.Damaged{{How: "has lost the list of its tables; each by itself is whole"}}
			}
		})
	}
	if err := os.RemoveAll(rebuilt); err != nil {
		return err
	}
	if why == nil {
		if err := errors.Join(s.dropCopy(), s.copyJournal()); err != nil {
			return err
		}
		return s.openCopy(seen, func(f *found) {})
	}
	// There is nothing to read from; the sentence says why.
	f := found{ledger: store.NewLedger(), damage: []*store.Damaged{{How: "cannot be read: " + why.Error()}}}
	if seen != nil {
		f.epoch = seen.Epoch
		f.lostAll(seen, store.NotRead)
	}
	s.take(f)
	return nil
}

// openCopy takes what the copy holds, once more was said of it.
func (s *Store) openCopy(seen *witness.Marks, say func(*found)) error {
	db, err := engine.Open(copyOptions(s.copied))
	if err != nil {
		return inWords(s.dir, err)
	}
	s.db = db
	f, err := readAll(s.db, seen)
	if err != nil {
		return fmt.Errorf("the journal in %s cannot be read: %w", s.dir, err)
	}
	say(&f)
	switch {
	case f.damage != nil:
	case f.bare:
		return ErrNone
	case !s.o.ReadOnly: // nothing may be written into what is thrown away
		f.damage = []*store.Damaged{{How: "was not whole at the first look and is at the second"}}
	}
	s.take(f)
	return nil
}

// stopped tells that a check was ended before it was through, which says nothing of the journal.
func stopped(err error) bool {
	return errors.Is(err, ErrStopped) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded)
}

func (s *Store) notRead(err error) error {
	return fmt.Errorf("the journal in %s was not read to its end, and nothing was changed: %w", s.dir, err)
}

// patiently tries again for a moment while the journal is in use: a process that ends, and one that another was just
// forked from, hold it a little longer.
func patiently(open func() error) error {
	for try := 0; ; try++ {
		err := open()
		if busy := new(store.Busy); try == 20 || !errors.As(err, &busy) {
			return err
		}
		time.Sleep(25 * time.Millisecond)
	}
}

func (s *Store) unlock() error {
	if s.locked == nil {
		return nil
	}
	err := s.locked.Close()
	s.locked = nil
	return err
}

func (s *Store) openForWriting(seen *witness.Marks) (err error) {
	if s.o.ReadOnly {
		return &store.ReadOnly{Dir: s.dir}
	}
	if err := s.askSpace(filepath.Dir(s.dir), KeepToOpen); err != nil {
		return err
	}
	err = patiently(func() error {
		db, err := engine.Open(engineOptions(s.dir))
		if err != nil {
			return inWords(s.dir, err)
		}
		s.db = db
		return nil
	})
	if err != nil {
		return err
	}
	f, err := readAll(s.db, seen)
	switch {
	case err != nil:
		return fmt.Errorf("the journal in %s cannot be read: %w", s.dir, err)
	case f.damage != nil:
		return f.damage[0]
	case f.bare:
		if err := s.begin(&f); err != nil {
			return err
		}
	}
	s.take(f)
	s.wal.reserve(s.dir)
	return s.openWitness(seen)
}

// take makes the store what was found.
func (s *Store) take(f found) {
	s.epoch, s.key = f.epoch, f.key
	s.Lookups = store.Lookups{Ledger: f.ledger, Found: f.damage, One: s.envelope, Log: s.Read}
	if s.o.Opening != nil {
		s.Ledger.Opening = s.o.Opening(s.epoch)
	}
	switch {
	case f.damage != nil:
		s.refusal = f.damage[0]
	case s.o.ReadOnly:
		s.refusal = &store.ReadOnly{Dir: s.dir}
	}
}

// begin gives a new store its epoch and key.
func (s *Store) begin(f *found) error {
	if f.key = s.o.Key; f.key == nil {
		f.key = make([]byte, 32)
		if _, err := io.ReadFull(s.o.Rand, f.key); err != nil {
			return err
		}
	}
	if _, err := io.ReadFull(s.o.Rand, f.epoch[:]); err != nil {
		return err
	}
	return s.db.Update(func(txn *engine.Txn) error {
		return errors.Join(txn.Set(keyFormat, []byte{format}), txn.Set(keyEpoch, f.epoch[:]), txn.Set(keyMAC, f.key))
	})
}

// begun tells whether Badger was ever in the folder.
func begun(dir string) (bool, error) {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, inWords(dir, err)
	}
	for _, e := range entries {
		if name := e.Name(); name != "LOCK" && !strings.HasPrefix(name, ".") {
			return true, nil
		}
	}
	return false, nil
}

// inWords turns what Badger and the system say into the words of package store. Badger's errors lose what they wrap, so
// they are told apart by their words.
func inWords(dir string, err error) error {
	switch {
	case err == nil:
		return nil
	case strings.Contains(err.Error(), "Cannot acquire directory lock"):
		return &store.Busy{Dir: dir}
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return &store.ReadOnly{Dir: dir}
	case errors.Is(err, syscall.ENOSPC):
		return &store.Full{Need: KeepToOpen} // what is free was not asked
	}
	if said := new(store.Full); errors.As(err, &said) {
		return said
	}
	return fmt.Errorf("the journal in %s does not open: %w", dir, err)
}

func value(txn *engine.Txn, key []byte) ([]byte, error) {
	item, err := txn.Get(key)
	if err != nil {
		return nil, err
	}
	return item.ValueCopy(nil)
}

// Notes are what a person ought to know of the opening although nothing is damaged.
func (s *Store) Notes() []string { return s.notes }

// Folder is where the journal lies.
func (s *Store) Folder() string { return filepath.Clean(s.dir) }
