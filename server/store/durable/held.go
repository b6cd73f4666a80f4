package durable

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
)

// errHeld: another process works on it.
var errHeld = errors.New("another process works on it")

// tempName tells a name that Replace gives to what it is still writing.
func tempName(name string) bool {
	rest, ok := strings.CutPrefix(name, strings.TrimSuffix(TempPattern, "*"))
	return ok && rest != "" && strings.Trim(rest, "0123456789") == ""
}

// temp makes a file that this process holds until it is closed.
func temp(dir string) (*os.File, error) {
	for try := 0; ; try++ {
		f, err := os.CreateTemp(dir, TempPattern)
		if err != nil {
			return nil, err
		}
		if err = held(f); err == nil || try == 3 {
			return f, err
		}
		f.Close() // another process took it for one that was left, and takes it away
	}
}

// held holds a file and tells whether it still is the one that has its name.
func held(f *os.File) error {
	if err := hold(f); err != nil {
		return err
	}
	own, err := f.Stat()
	if err != nil {
		return err
	}
	if named, err := os.Stat(f.Name()); err != nil || !os.SameFile(own, named) {
		return errHeld
	}
	return nil
}

// Sweep takes away what writes into a folder left that were cut off. What a process still writes stays, and so does
// everything with another name.
func Sweep(dir string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if e.Type().IsRegular() && tempName(e.Name()) {
			dropLeft(filepath.Join(dir, e.Name()), 0) // what cannot be removed now is tried again at the next write
		}
	}
}

// Place is a folder in which one process makes something that is to be moved elsewhere when it is whole.
type Place struct {
	Dir  string
	hold *os.File
}

const heldFile = "held"

// NewPlace makes one, in a folder that is there, under a name that begins with prefix.
func NewPlace(in, prefix string) (*Place, error) {
	for try := 0; ; try++ {
		dir, err := os.MkdirTemp(in, prefix+"*")
		if err != nil {
			return nil, err
		}
		f, err := os.OpenFile(filepath.Join(dir, heldFile), os.O_RDWR|os.O_CREATE, 0o600)
		if err == nil {
			if err = held(f); err == nil {
				return &Place{dir, f}, nil
			}
			f.Close()
		}
		if try == 3 {
			return nil, errors.Join(err, os.RemoveAll(dir))
		}
	}
}

// Done takes it away with all that is still in it.
func (p *Place) Done() error { return errors.Join(p.hold.Close(), os.RemoveAll(p.Dir)) }

// SweepPlaces takes away the places under a prefix that stopped processes left.
func SweepPlaces(in, prefix string) {
	entries, _ := os.ReadDir(in)
	for _, e := range entries {
		path := filepath.Join(in, e.Name())
		if e.IsDir() && strings.HasPrefix(e.Name(), prefix) && dropLeft(filepath.Join(path, heldFile), os.O_CREATE) == nil {
			os.RemoveAll(path)
		}
	}
}
