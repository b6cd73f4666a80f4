//go:build unix

package badger

import "golang.org/x/sys/unix"

// FreeBytes asks how much a user without special rights may still write where dir is.
func FreeBytes(dir string) (uint64, error) {
	var fs unix.Statfs_t
	if err := unix.Statfs(dir, &fs); err != nil {
		return 0, err
	}
	return uint64(fs.Bavail) * uint64(fs.Bsize), nil
}
