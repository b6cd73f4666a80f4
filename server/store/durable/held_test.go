package durable

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What writes that were cut off left is taken away; what is still written, and what only looks alike, is not.
func TestOnlyWhatWasLeftIsSwept(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{".write-123", ".write-of-somebody", ".write-", "write-5", "file"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("key"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, ".write-7"), 0o700); err != nil {
		t.Fatal(err)
	}
	under := ""
	disk := &Disk{Step: func(step, path string) error {
		if step == StepSync {
			under = filepath.Base(path)
			Sweep(dir)
		}
		return nil
	}}
	if err := disk.Replace(filepath.Join(dir, "new"), []byte("whole")); err != nil {
		t.Fatal(err)
	}
	if !tempName(under) {
		t.Errorf("it was written as %q", under)
	}
	if got := names(t, dir); got != ".write- .write-7 .write-of-somebody file new write-5" {
		t.Errorf("left are %s", got)
	}
}

// A place that a stopped process left goes, whether it had come to hold it or not; one that is worked in stays.
func TestPlacesThatWereLeftAreSwept(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{".trial-a-left", ".trial-a-young", ".trial-b-other"} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{heldFile, "book"} {
		if err := os.WriteFile(filepath.Join(dir, ".trial-a-left", name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p, err := NewPlace(dir, ".trial-a-")
	if err != nil {
		t.Fatal(err)
	}
	SweepPlaces(dir, ".trial-a-")
	if got := names(t, dir); got != filepath.Base(p.Dir)+" .trial-b-other" {
		t.Errorf("left are %s", got)
	}
	if err := p.Done(); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); got != ".trial-b-other" {
		t.Errorf("left are %s", got)
	}
}

func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return strings.Join(all, " ")
}
