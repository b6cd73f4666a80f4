//go:build linux

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/servertest"
)

// F17: acknowledged means on the disk and not in the page cache. A killed process cannot show the difference; the
// system's own record of calls can: between two acknowledgements of one phone that sends one entry at a time, a sync of
// the write-ahead log must have returned.
func TestSyncReturnsBeforeEveryAcknowledgement(t *testing.T) {
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("NOT CHECKED: strace is not installed, so the order of sync and acknowledgement was not shown")
	}
	dir := t.TempDir()
	calls := filepath.Join(dir, "calls")
	p, err := startProgram(dir, "-book", "book")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.kill)
	phone := servertest.New(t, p.url)
	phone.Connect()
	phone.Write("workshop", book.KindBatchNoted, 1)
	phone.UntilAcked("workshop", 1)
	trace := exec.Command(strace, "-f", "-e", "trace=msync,fsync,fdatasync,write,sendto", "-s", "16", "-o", calls, "-p", pid(p))
	said, err := os.Create(filepath.Join(dir, "said"))
	if err != nil {
		t.Fatal(err)
	}
	defer said.Close()
	trace.Stderr = said
	if err := trace.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { trace.Process.Kill() })
	const batches = 20
	// It attaches thread by thread and its record begins with the first: before it says that it has them all, the thread
	// that writes an acknowledgement may be one that it does not see.
	for attached := false; !attached; time.Sleep(time.Millisecond) {
		words, err := os.ReadFile(said.Name())
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(words), "ot permitted") {
			t.Skipf("NOT CHECKED: this system lets nobody watch a process: %s", words)
		}
		attached = attachedToAll.Match(words)
	}
	// A line is written after the call that it tells of, so the phone may know of an acknowledgement before the record does.
	phone.Write("workshop", book.KindBatchNoted, 1)
	seq := uint64(2)
	phone.UntilAcked("workshop", seq)
	mark := 0
	for ; mark == 0; time.Sleep(time.Millisecond) {
		data, err := os.ReadFile(calls)
		if err != nil {
			t.Fatal(err)
		}
		if at := ack.FindIndex(data); at != nil {
			mark = at[1]
		}
	}
	for range batches {
		phone.Write("workshop", book.KindBatchNoted, 1)
		seq++
		phone.UntilAcked("workshop", seq)
	}
	phone.Cut()
	if err := p.stop(); err != nil {
		t.Error(err)
	}
	trace.Wait()
	data, err := os.ReadFile(calls)
	if err != nil {
		t.Fatal(err)
	}
	checkOrder(t, string(data[mark:]), batches)
}

// attachedToAll is what strace says once it watches every thread of a process that has several.
var attachedToAll = regexp.MustCompile(`Process \d+ attached with \d+ threads`)

// ack is the frame of an acknowledgement as the server writes it: final and binary, then the message's type 4, the name
// of the stream, and log 1.
var (
	ack = regexp.MustCompile(`write\(\d+, "\\202\\[0-7a-z]+\\4\\10workshop\\1`)
	// 16 MB is Badger's write-ahead log as it is mapped; its other file holds no entry.
	synced = regexp.MustCompile(`msync\(0x[0-9a-f]+, 16777216, MS_SYNC\) += 0|<\.\.\. msync resumed>.*= 0`)
)

func checkOrder(t *testing.T, calls string, want int) {
	t.Helper()
	acks, since := 0, 0
	for _, line := range strings.Split(calls, "\n") {
		switch {
		case synced.MatchString(line):
			since++
		case ack.MatchString(line):
			if acks++; since == 0 {
				t.Fatalf("acknowledgement %d was written and no sync had returned since the one before:\n%s", acks, line)
			}
			since = 0
		}
	}
	if acks < want {
		t.Fatalf("the record shows %d acknowledgements of %d:\n%s", acks, want, calls[:min(len(calls), 3000)])
	}
}

func pid(p *program) string { return strconv.Itoa(p.cmd.Process.Pid) }
