// Package durable writes small files so that the loss of power leaves the old content or the new one, never a mixture.
package durable

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// The steps of a durable write, by name, in the order in which they come.
const (
	StepTemp   = "temporary file"
	StepWrite  = "write"
	StepSync   = "sync"
	StepRename = "rename"
	StepFolder = "sync of the folder"
)

// Disk is where files are written. The zero value and nil are the system's own.
type Disk struct {
	// Step, when not nil, is asked before every step on a file or folder; its error is what the disk then says. A write
	// that fails leaves half of its bytes, as a real one may.
	Step func(step, path string) error
}

// Ask is the disk's answer to a step that somebody else is about to do.
func (d *Disk) Ask(step, path string) error {
	if d == nil || d.Step == nil {
		return nil
	}
	return d.Step(step, path)
}

// TempPattern names files that a stopped write may leave behind, with digits for the star; they are never read, and Sweep
// takes them away.
const TempPattern = ".write-*"

// Replace puts data in the place of a small file so that after the loss of power the old content is there or the new
// one, whole: a temporary file beside it, its bytes on disk, then the rename, then the folder on disk. When it returns
// an error before the rename the old file stands; only a failed sync of the folder leaves open which of the two is
// there.
func (d *Disk) Replace(path string, data []byte) error {
	dir := filepath.Dir(path)
	if err := d.Ask(StepTemp, path); err != nil {
		return err
	}
	f, err := temp(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err = d.fill(f, data); closeFirst {
		err = errors.Join(err, f.Close())
	}
	if err == nil {
		err = d.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return d.SyncFolder(dir)
}

// Rename gives a file that is on disk its name; the name is durable after SyncFolder.
func (d *Disk) Rename(from, to string) error {
	if err := d.Ask(StepRename, to); err != nil {
		return err
	}
	return os.Rename(from, to)
}

func (d *Disk) fill(f *os.File, data []byte) error {
	if err := d.WriteAt(f, data, 0); err != nil {
		return err
	}
	return d.Sync(f)
}

// WriteAt writes at a place of an open file; nothing is durable before Sync.
func (d *Disk) WriteAt(f *os.File, data []byte, at int64) error {
	if err := d.Ask(StepWrite, f.Name()); err != nil {
		_, half := f.WriteAt(data[:len(data)/2], at)
		return errors.Join(err, half)
	}
	_, err := f.WriteAt(data, at)
	return err
}

// Sync returns when the file's bytes are on disk.
func (d *Disk) Sync(f *os.File) error {
	if err := d.Ask(StepSync, f.Name()); err != nil {
		return err
	}
	return f.Sync()
}

// SyncFolder returns when the names in a folder are on disk.
func (d *Disk) SyncFolder(dir string) error {
	if err := d.Ask(StepFolder, dir); err != nil {
		return err
	}
	if runtime.GOOS == "windows" {
		return nil // a folder cannot be opened for syncing there; renames are journaled by the file system
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
