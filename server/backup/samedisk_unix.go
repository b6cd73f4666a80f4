//go:build unix

package backup

import (
	"os"
	"syscall"
)

// SameDisk tells that two folders lie on one disk, so that both are lost with it; false where that cannot be told.
func SameDisk(one, other string) bool {
	a, errA := os.Stat(one)
	b, errB := os.Stat(other)
	if errA != nil || errB != nil {
		return false
	}
	x, okX := a.Sys().(*syscall.Stat_t)
	y, okY := b.Sys().(*syscall.Stat_t)
	return okX && okY && x.Dev == y.Dev
}
