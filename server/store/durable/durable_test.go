package durable

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// F17, F18: every step of a durable write fails in its turn, until a run needs no more. What was there stays whole, or
// the new content is there whole, and no half file is left.
func TestFailedWriteKeepsTheOldFile(t *testing.T) {
	broken := errors.New("the disk says no")
	for n := 1; ; n++ {
		dir := t.TempDir()
		path := filepath.Join(dir, "file")
		var disk *Disk
		if err := disk.Replace(path, []byte("old")); err != nil {
			t.Fatal(err)
		}
		left, failed := n, ""
		disk = &Disk{Step: func(step, _ string) error {
			if left--; left == 0 {
				failed = step
				return broken
			}
			return nil
		}}
		err := disk.Replace(path, []byte("new and longer"))
		got, readErr := os.ReadFile(path)
		files, dirErr := os.ReadDir(dir)
		if readErr != nil || dirErr != nil || len(files) != 1 {
			t.Fatalf("step %d, %s: %d files left, %v %v", n, failed, len(files), readErr, dirErr)
		}
		if failed == "" {
			if err != nil || string(got) != "new and longer" || n < 6 {
				t.Fatalf("a run in which %d steps went well: %q, %v", n-1, got, err)
			}
			return
		}
		if !errors.Is(err, broken) {
			t.Errorf("step %d, %s: said to be on disk (%v)", n, failed, err)
		}
		// After the rename nobody can tell which of the two is on disk; both are whole.
		if want := "old"; string(got) != want && failed != StepFolder {
			t.Errorf("step %d, %s: holds %q", n, failed, got)
		}
	}
}
