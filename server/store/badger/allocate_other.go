//go:build !linux

package badger

import (
	"errors"
	"os"
)

// Allocate is errors.ErrUnsupported on this system.
func Allocate(*os.File, int64) error { return errors.ErrUnsupported }
