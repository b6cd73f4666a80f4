//go:build unix

package main

import (
	"fmt"
	"os"
	"syscall"
)

// lockBuild waits until no other build writes the same folders: two at once would embed halves of both.
func lockBuild(h house) (func(), error) {
	if err := os.MkdirAll(h.path(".build"), 0o755); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(h.path(".build", "lock"), os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, err
	}
	if syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) != nil {
		fmt.Println("another build is under way in this folder: waiting for it")
		if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX); err != nil {
			f.Close()
			return nil, err
		}
	}
	return func() { f.Close() }, nil
}
