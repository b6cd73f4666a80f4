//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What reads a journal for a program that was killed ends as well: its lifeline is cut.
func TestCheckEndsWithItsParent(t *testing.T) {
	dir := t.TempDir()
	stuck := filepath.Join(dir, "witness")
	if err := syscall.Mkfifo(stuck, 0o600); err != nil {
		t.Skipf("NOT CHECKED: %v", err)
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self, checkJournal, dir, stuck, "")
	c.Env = append(os.Environ(), inCheck+"=1")
	lifeline, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	// It opens what nobody writes to, and would wait for ever.
	lifeline.Close()
	if err := c.Wait(); err == nil {
		t.Error("it ended as if it had read something")
	}
}

// A crash in another process becomes a sentence in this one.
func TestCrashBecomesASentence(t *testing.T) {
	dir := writtenAndKilled(t)
	tables, err := filepath.Glob(filepath.Join(dir, "journal", "*.sst"))
	if err != nil || len(tables) == 0 {
		t.Fatal(tables, err)
	}
	if err := overwrite(tables[0], make([]byte, 4096), 0); err != nil {
		t.Fatal(err)
	}
	whole, err := checkInChild(t.Context())(filepath.Join(dir, "journal"), "", "")
	if whole || err == nil || !strings.Contains(err.Error(), "engine stopped") && !strings.Contains(err.Error(), "table") {
		t.Errorf("whole %v, %v", whole, err)
	}
}
