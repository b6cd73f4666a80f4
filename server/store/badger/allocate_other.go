//go:build !linux

package badger

import (
	"errors"
	"os"
)

func allocate(*os.File, int64) error { return errors.ErrUnsupported }
