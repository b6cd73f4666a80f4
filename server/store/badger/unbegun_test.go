package badger

import (
	"os"
	"path/filepath"
	"testing"
)

// F16: a process that is killed between making a log and giving it its length leaves an empty file, with which Badger does
// not open. Found by the kill loop, once in a thousand kills.
func TestALogThatWasNeverBegunIsPassedOver(t *testing.T) {
	for _, tc := range []struct {
		what  string
		files []string
	}{
		{"a log of values", []string{"000900.vlog"}},
		{"a log of a table", []string{"00900.mem"}},
		{"both", []string{"000900.vlog", "00900.mem"}},
	} {
		t.Run(tc.what, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "journal")
			o := Options{Witness: filepath.Join(filepath.Dir(dir), "witness")}
			fill(t, dir, o)
			for _, name := range tc.files {
				if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			read := o
			read.ReadOnly = true
			for _, o := range []Options{read, o} {
				s := mustOpen(t, dir, o)
				if found, head := s.Damage(), s.Head("workshop").Seq; found != nil || head != 300 {
					t.Errorf("read-only %v: head %d, %v", o.ReadOnly, head, found)
				}
				if !o.ReadOnly {
					fillTo(t, s, 300, 400)
				}
				if err := s.Close(); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

// The log that holds what was written last is not one that was never begun, even when it has no length any more.
func TestALogThatLostItsLengthIsDamage(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "journal")
	o := Options{Witness: filepath.Join(filepath.Dir(dir), "witness")}
	s := mustOpen(t, dir, o)
	fillTo(t, s, 0, 300)
	copied := filepath.Join(t.TempDir(), "journal")
	if err := os.CopyFS(copied, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	logs, err := filepath.Glob(filepath.Join(copied, "*.mem"))
	if err != nil || len(logs) == 0 {
		t.Fatal(logs, err)
	}
	for _, log := range logs {
		if err := os.Truncate(log, 0); err != nil {
			t.Fatal(err)
		}
	}
	s = mustOpen(t, copied, o)
	defer s.Close()
	if found := s.Damage(); found == nil {
		t.Error("it passes for whole")
	}
	if info, err := os.Stat(logs[0]); err != nil || info.Size() != 0 {
		t.Errorf("what is left of it was touched: %v, %v", info, err)
	}
}
