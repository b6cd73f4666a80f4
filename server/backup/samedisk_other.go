//go:build !unix

package backup

import (
	"path/filepath"
	"strings"
)

// SameDisk tells that two folders lie on one volume, so that both are lost with it; false where that cannot be told.
func SameDisk(one, other string) bool {
	a, errA := filepath.Abs(one)
	b, errB := filepath.Abs(other)
	return errA == nil && errB == nil && filepath.VolumeName(a) != "" && strings.EqualFold(filepath.VolumeName(a), filepath.VolumeName(b))
}
