//go:build !unix

package durable

import (
	"errors"
	"io/fs"
	"os"
)

// closeFirst: this system renames no file that is open.
const closeFirst = true

// hold does nothing: this system removes no file that a process has open.
func hold(*os.File) error { return nil }

func dropLeft(path string, _ int) error {
	if err := os.Remove(path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
