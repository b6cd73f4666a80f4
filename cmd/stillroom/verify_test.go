package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/calc/book"
	"stillroom/server/servertest"
)

// F19: the newest log of a killed store is gone. verify says first that the witness agrees, then what is missing, then that
// a witness cannot be read.
func TestVerifyAsksTheWitness(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	p := served(t, dir, "-book", "book")
	a, b := servertest.New(t, p.url), servertest.New(t, p.url)
	write := func(n int) {
		for _, phone := range []*servertest.Phone{a, b} {
			phone.URL = p.url
			phone.Connect()
			phone.Write("workshop", book.KindBatchNoted, n)
			phone.UntilAcked("workshop", uint64(phone.Own("workshop")))
		}
		for _, phone := range []*servertest.Phone{a, b} {
			phone.UntilHas("workshop", a.Own("workshop")+b.Own("workshop"))
		}
		a.Cut()
		b.Cut()
	}
	write(100)
	if err := p.stop(); err != nil {
		t.Fatal(err)
	}
	p = served(t, dir, "-book", "book")
	write(50)
	write(50)
	p.kill()
	if out, code := asked(t, "verify", "-book", in("book")); code != exitOK || !strings.Contains(out, "witness: agrees") {
		t.Fatalf("before anything is damaged: %s", out)
	}
	logs, err := filepath.Glob(in("book/journal/*.mem"))
	if err != nil || len(logs) == 0 {
		t.Fatal(logs, err)
	}
	for _, log := range logs {
		if err := os.Remove(log); err != nil {
			t.Fatal(err)
		}
	}
	out, code := asked(t, "verify", "-book", in("book"))
	if code != exitFailed || !strings.Contains(out, "error: entries 201 to ") || !strings.Contains(out, "are missing") || !strings.Contains(out, "hint: ") {
		t.Errorf("verify: %d %s", code, out)
	}
	// What is left is whole by its own hashes; that it is all cannot be shown without the witness.
	if err := os.WriteFile(in("book/witness"), []byte("{}"), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, code := asked(t, "verify", "-book", in("book")); code != exitFailed || !strings.Contains(out, "witness") {
		t.Errorf("verify with a bad witness: %d %s", code, out)
	}
}
