package badger

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	engine "github.com/dgraph-io/badger/v4"
)

// copyPattern names folders of copies; what a killed process left of them is removed at the next opening.
const copyPattern = ".checking-*"

// copyJournal makes a copy of the journal that may be opened and spoiled: Badger, opened for writing, cuts off the part of
// a log that it cannot read and removes tables that its list does not name. Tables are never written once they are
// whole, so they are linked and not copied where the system can do that; everything else is copied. The copy lies beside
// the journal, or for reading alone where the system keeps passing things, when it cannot lie there.
func (s *Store) copyJournal() error {
	beside := filepath.Dir(filepath.Clean(s.dir))
	if !s.o.ReadOnly {
		// The lock is ours alone, so nobody reads from these any more.
		left := named(beside, func(name string) bool { return strings.HasPrefix(name, strings.TrimSuffix(copyPattern, "*")) })
		for _, old := range left {
			os.RemoveAll(filepath.Join(beside, old)) // what cannot be removed now is tried again at the next opening
		}
	}
	var first error
	for _, parent := range []string{beside, os.TempDir()} {
		err := s.askSpace(parent, KeepToOpen)
		if err == nil {
			s.copied, err = copyTo(parent, s.dir)
		}
		if err == nil {
			return nil
		}
		if first == nil {
			first = err
		}
		if !s.o.ReadOnly {
			break
		}
	}
	return inWords(s.dir, first)
}

func copyTo(parent, dir string) (copied string, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "", err
	}
	copied, err = os.MkdirTemp(parent, copyPattern)
	if err != nil {
		return "", err
	}
	for _, e := range entries {
		if !e.Type().IsRegular() || e.Name() == "LOCK" {
			continue
		}
		if unbegun(e) {
			continue
		}
		if err := copyFile(filepath.Join(dir, e.Name()), filepath.Join(copied, e.Name())); err != nil {
			return "", errors.Join(err, os.RemoveAll(copied))
		}
	}
	return copied, nil
}

// unbegun tells a log that was made and not yet given its length when the process was killed. Nothing was ever in it, but
// Badger takes an empty log for a new one where it expects an old one, and does not open. A log that lost its length in
// another way leaves a hole that the check finds.
func unbegun(e fs.DirEntry) bool {
	if ext := filepath.Ext(e.Name()); ext != ".vlog" && ext != ".mem" {
		return false
	}
	info, err := e.Info()
	return err == nil && info.Size() == 0
}

// sweepUnbegun removes them. The journal is held by s.lock and was found whole without them.
func (s *Store) sweepUnbegun() error {
	entries, err := os.ReadDir(s.dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if unbegun(e) {
			if err := os.Remove(filepath.Join(s.dir, e.Name())); err != nil {
				return err
			}
		}
	}
	return nil
}

func copyFile(from, to string) (err error) {
	if strings.HasSuffix(from, ".sst") && os.Link(from, to) == nil {
		return nil
	}
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_WRONLY|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, out.Close()) }()
	info, err := in.Stat()
	if err != nil {
		return err
	}
	// Logs are mapped far larger than what is in them; holes are left out, and zeros where the system does not tell.
	block, zeros := make([]byte, 256<<10), make([]byte, 256<<10)
	for at := int64(0); ; {
		from, to := nextData(in, at, info.Size())
		if from >= to {
			return out.Truncate(info.Size())
		}
		n, err := in.ReadAt(block[:min(int64(len(block)), to-from)], from)
		if n > 0 && !bytes.Equal(block[:n], zeros[:n]) {
			if _, err := out.WriteAt(block[:n], from); err != nil {
				return err
			}
		}
		if err != nil && !errors.Is(err, io.EOF) || n == 0 {
			return err
		}
		at = from + int64(n)
	}
}

// copyOptions are engineOptions for a copy. Nothing is compacted in it: that would empty tables that are the journal's
// own by another name. It is thrown away, so nothing waits for the disk; and however many tables a journal was left with
// that was ended often, Badger must not wait for a compaction that never comes.
func copyOptions(dir string) engine.Options {
	const never = 1 << 30
	return engineOptions(dir).WithNumCompactors(0).WithSyncWrites(false).WithNumLevelZeroTables(never).WithNumLevelZeroTablesStall(never + 1)
}

func (s *Store) dropCopy() error {
	if s.copied == "" {
		return nil
	}
	err := os.RemoveAll(s.copied)
	s.copied = ""
	return err
}

// Check reads a copy of a journal to its end and compares it with the witness at a path ("" is none). It tells whether the
// journal is whole; an error is one that Badger cannot read. ErrStopped and the errors of an ended context say nothing of the
// journal. With rebuilt not "", what can be read of the copy is first put into a journal in that
// folder, which is not there, and that one is read.
type Check func(copied, witness, rebuilt string) (whole bool, err error)
