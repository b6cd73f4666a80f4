// Package folder is a book as it lies on the home store's disk: one folder that holds everything.
//
//	stillroom.json   that this is a book, the layout's version, and when it was made
//	devices.json     who may write: device, letter, role, and the SHA-256 of its token (never the token)
//	photos/          pictures, each named by the SHA-256 of its bytes
//	journal/         the entries, in Badger (package server/store/badger)
//	ballast          nothing: it takes room and may be deleted when the disk is full
//	witness          how far the journal reached, one batch ago (package server/store/witness)
//	running.json     where the home store listens and the secret that its own commands show it, while it runs (package server)
//	backups.json     how the last backup by the clock went (package server)
//	.write-*         a small file that is being written; what a killed process left goes at the next opening
//	.checking-*/     a copy of the journal while it is read before it is opened; what a killed process left goes at the next
//	                 opening (package server/store/badger)
//
// The small files are replaced whole by one recipe for durable writes (package server/store/durable); the journal is only
// added to.
package folder

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"stillroom/server/store"
	"stillroom/server/store/badger"
	"stillroom/server/store/durable"
	"stillroom/server/store/witness"
)

const (
	bookFile    = "stillroom.json"
	devicesFile = "devices.json"
	journalDir  = "journal"
	photosDir   = "photos"
	witnessFile = "witness"
	// format is the version of the layout above.
	format = 1
)

// NotABook: the folder holds something else, or nothing when a book was to be read.
type NotABook struct{ Dir, Why string }

func (e *NotABook) Error() string { return fmt.Sprintf("%s is not a book: %s", e.Dir, e.Why) }

// Hint is the next step.
func (e *NotABook) Hint() string {
	return "name the folder that holds stillroom.json, or an empty or new one to begin a book"
}

// Options say how to open.
type Options struct {
	// ReadOnly changes nothing in the folder and begins no book.
	ReadOnly bool
	// Existing begins no book either: the folder must hold one.
	Existing bool
	// Left opens what is left, and needs ReadOnly: a journal of which stillroom.json is lost, and without a list of devices where
	// that is (Devices.Lost).
	Left bool
	// Now is the clock, for when the book was made and devices were added.
	Now func() time.Time
	// Rand gives the epoch, the key, device identities and tokens; nil is crypto/rand.
	Rand io.Reader
	// Disk takes what is written; nil is the system's.
	Disk *durable.Disk
	// Ballast keeps a file that can be deleted when the disk is full.
	Ballast bool
	// Free tells the free space in bytes where a folder is; nil asks the system.
	Free func(dir string) (uint64, error)
	// Check reads a copy of the journal before it is opened; nil does so in this process.
	Check badger.Check

	key      []byte // of a book that is made of a backup
	restored int64  // when that backup was made
}

// Folder is an open book.
type Folder struct {
	Dir     string
	Store   *badger.Store
	Devices *Devices
	Photos  *Photos
}

type about struct {
	Format int    `json:"format"`
	Made   string `json:"made"`
	// Table tells that devices.json was written when the book was begun, so that its loss is noticed.
	Table bool `json:"table,omitempty"`
	// Restored is when the backup was made that the book was made of, ms since 1970; 0 when it was not.
	Restored int64 `json:"restored,omitempty"`
}

// Altered: one of the small files is missing or not as it was written.
type Altered struct{ Path, Why string }

func (e *Altered) Error() string { return e.Path + " " + e.Why }

// Hint is the next step.
func (e *Altered) Hint() string {
	return "nothing was changed. Copy the whole folder before anything else, then make a new book with stillroom restore, of the last backup or, if there is none, of what this folder still holds"
}

// Open opens the book in dir, or begins one there when the folder is empty or missing. Errors: *NotABook,
// *Altered, *store.Busy, *store.ReadOnly, *store.Full, or the disk's own. A journal that is damaged opens for reading, and
// Store.Damage names what is wrong.
func Open(dir string, o Options) (*Folder, error) {
	if o.Free == nil {
		o.Free = badger.FreeBytes
	}
	devices, a, err := ready(dir, o)
	if err != nil {
		return nil, err
	}
	s, err := badger.Open(filepath.Join(dir, journalDir), badger.Options{ReadOnly: o.ReadOnly, Rand: o.Rand, Key: o.key, Disk: o.Disk,
		Witness: filepath.Join(dir, witnessFile), Ballast: filepath.Join(dir, ballastFile), Free: o.Free, Check: o.Check, Opening: a.opening()})
	if err != nil {
		return nil, inWordsOf(dir, err)
	}
	if !o.ReadOnly && s.Damage() == nil {
		durable.Sweep(dir)
	}
	if o.Ballast && !o.ReadOnly {
		if err := keepBallast(dir, o.Free); err != nil {
			return nil, errors.Join(err, s.Close())
		}
	}
	room := func() error { _, err := s.Space(); return err }
	return &Folder{Dir: dir, Store: s, Devices: devices, Photos: &Photos{dir: filepath.Join(dir, photosDir), disk: o.Disk, room: room}}, nil
}

// Witness is what the file beside the journal says now: how far the journal reached, one batch ago. Errors: fs.ErrNotExist,
// *witness.Bad, or the disk's own.
func (f *Folder) Witness() (witness.Marks, error) {
	return witness.Read(filepath.Join(f.Dir, witnessFile))
}

// Close ends the store.
func (f *Folder) Close() error { return f.Store.Close() }

// ready sees to it that there is a book in dir that may be read, or written, and reads its table of devices.
func ready(dir string, o Options) (d *Devices, a about, err error) {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist) && (o.ReadOnly || o.Existing):
		return nil, a, &NotABook{Dir: dir, Why: "there is no such folder"}
	case errors.Is(err, fs.ErrNotExist):
		if err := os.MkdirAll(dir, 0o700); err != nil {
			return nil, a, inWordsOf(dir, err)
		}
	case err != nil:
		return nil, a, err
	case !info.IsDir():
		return nil, a, &NotABook{Dir: dir, Why: "it is a file"}
	}
	path := filepath.Join(dir, devicesFile)
	data, err := os.ReadFile(filepath.Join(dir, bookFile))
	switch {
	case errors.Is(err, fs.ErrNotExist) && hasJournal(dir):
		if !o.Left {
			return nil, a, &Altered{filepath.Join(dir, bookFile), "is missing: it says that the folder is a book"}
		}
		d, err = readDevices(path, true, o)
		return d, a, err
	case errors.Is(err, fs.ErrNotExist):
		if err := begin(dir, o); err != nil {
			return nil, a, err
		}
		a = about{Restored: o.restored}
		d, err = readDevices(path, true, o)
		return d, a, err
	case err != nil:
		return nil, a, inWordsOf(dir, err)
	}
	a, err = readAbout(dir, data, o.Left)
	if err != nil {
		return nil, a, err
	}
	if !o.ReadOnly {
		if err := mayWrite(dir, o); err != nil {
			return nil, a, err
		}
	}
	d, err = readDevices(path, a.Table, o)
	return d, a, err
}

// hasJournal tells that a book was kept here, whatever the small files say.
func hasJournal(dir string) bool {
	there, err := os.ReadDir(filepath.Join(dir, journalDir))
	return err == nil && len(there) > 0
}

func readAbout(dir string, data []byte, left bool) (a about, err error) {
	file := filepath.Join(dir, bookFile)
	switch err := json.Unmarshal(data, &a); {
	case left && (err != nil || a.Format != format): // the journal says of itself how it is laid out
		return about{Format: format, Table: true}, nil
	case err != nil && !hasJournal(dir):
		return a, &NotABook{Dir: dir, Why: bookFile + " in it cannot be read (" + err.Error() + ")"}
	case err != nil:
		return a, &Altered{file, "cannot be read: " + err.Error()}
	case a.Format > format:
		return a, &store.Newer{What: file}
	case a.Format < format:
		return a, &Altered{file, fmt.Sprintf("was altered: there is no layout %d", a.Format)}
	}
	return a, nil
}

// begin makes a book in an empty folder. Anything that is there already is left alone.
func begin(dir string, o Options) error {
	there, err := os.ReadDir(dir)
	if err != nil {
		return inWordsOf(dir, err)
	}
	table, err := Table(nil, 0)
	if err != nil {
		return err
	}
	for _, entry := range there {
		name := entry.Name()
		if name == "lost+found" || strings.HasPrefix(name, strings.TrimSuffix(durable.TempPattern, "*")) {
			continue
		}
		if name == devicesFile {
			// An empty table is as far as a beginning that was cut off may have come.
			if data, err := os.ReadFile(filepath.Join(dir, name)); err == nil && bytes.Equal(data, table) {
				continue
			}
		}
		return &NotABook{Dir: dir, Why: fmt.Sprintf("it holds %s and no %s", name, bookFile)}
	}
	if o.ReadOnly || o.Existing {
		return &NotABook{Dir: dir, Why: "it is empty"}
	}
	data, err := json.MarshalIndent(about{Format: format, Made: o.Now().UTC().Format(time.RFC3339), Table: true, Restored: o.restored}, "", "  ")
	if err != nil {
		return err
	}
	if err := o.Disk.Replace(filepath.Join(dir, devicesFile), table); err != nil {
		return inWordsOf(dir, err)
	}
	return inWordsOf(dir, o.Disk.Replace(filepath.Join(dir, bookFile), append(data, '\n')))
}

// mayWrite finds out by writing: rights and read-only disks are told in too many ways to ask for them.
func mayWrite(dir string, o Options) error {
	if err := o.Disk.Ask(durable.StepTemp, dir); err != nil {
		return inWordsOf(dir, err)
	}
	f, err := os.CreateTemp(dir, durable.TempPattern)
	if err != nil {
		return inWordsOf(dir, err)
	}
	err = errors.Join(f.Close(), os.Remove(f.Name()))
	if errors.Is(err, fs.ErrNotExist) {
		return nil // a process that opened the book in the same moment took it for one that was left
	}
	return err
}

// inWordsOf names the book's folder instead of a file in it.
func inWordsOf(dir string, err error) error {
	var busy *store.Busy
	var readOnly *store.ReadOnly
	switch {
	case errors.As(err, &busy):
		return &store.Busy{Dir: dir}
	case errors.As(err, &readOnly), errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return &store.ReadOnly{Dir: dir}
	case errors.Is(err, badger.ErrNone):
		return &NotABook{Dir: dir, Why: "it has no journal"}
	}
	return err
}
