package main

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/server/store/badger"
	"stillroom/sync"
)

// F18 on a real small disk: somebody else fills it to the last byte while two phones push. The store refuses and lives,
// phones keep what they have; with room again everything is there. A store that was stopped meanwhile says why it does
// not start. Badger maps files that are larger than what is in them, and would end with SIGBUS.
func TestFullDisk(t *testing.T) {
	disk := smallDisk(t, 320<<20)
	p, err := startProgram(disk, "-book", "book")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.kill() })
	phones := []*servertest.Phone{servertest.New(t, p.url), servertest.New(t, p.url)}
	for _, phone := range phones {
		phone.Connect()
		phone.Write("workshop", book.KindBatchNoted, 100)
		phone.UntilAcked("workshop", 100)
	}
	filled := make(chan error, 1)
	filler := filepath.Join(disk, "photos-of-somebody-else")
	go func() { filled <- fillDisk(filler) }()
	for full := false; !full; time.Sleep(time.Millisecond) {
		for _, phone := range phones {
			if phone.Pending("workshop") < 50 {
				phone.Write("workshop", book.KindBatchNoted, 10)
			}
			phone.Mu.Lock()
			full = full || len(phone.Stops) > 0
			phone.Mu.Unlock()
		}
	}
	if err := <-filled; err != nil {
		t.Fatal(err)
	}
	for _, phone := range phones {
		phone.Cut()
		phone.Write("workshop", book.KindBatchNoted, 30)
		phone.Connect()
		stop := phone.UntilStopped(sync.CodeFull)
		if stop.Fatal || !strings.Contains(stop.Says, "nearly full") || !strings.Contains(stop.Says, "phones keep") {
			t.Errorf("a phone is told %+v", stop)
		}
		phone.Cut()
	}
	if says := fetch(t, p.url+"api/health"); !strings.Contains(says, `"full":true`) {
		t.Errorf("health: %s", says)
	}
	if says := fetch(t, p.url+"health"); !strings.Contains(says, "The disk is nearly full") {
		t.Errorf("the health page: %s", says)
	}
	// More room without a restart.
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	upToDate(t, p, phones)
	// Stopped on a full disk, and told why it does not start.
	if err := errors.Join(fillDisk(filler), p.stop()); err != nil {
		t.Fatal(err)
	}
	if _, err := startProgram(disk, "-book", "book"); err == nil || !strings.Contains(err.Error(), "nearly full") || !strings.Contains(err.Error(), "hint: ") {
		t.Errorf("it starts on a full disk: %v", err)
	}
	if err := syscall.Mount("stillroom", disk, "tmpfs", syscall.MS_REMOUNT, "size=1g"); err != nil {
		t.Fatal(err)
	}
	if p, err = startProgram(disk, "-book", "book"); err != nil {
		t.Fatal(err)
	}
	for _, phone := range phones {
		phone.Write("workshop", book.KindBatchNoted, 10)
	}
	upToDate(t, p, phones)
	if err := p.stop(); err != nil {
		t.Error(err)
	}
	if free, err := badger.FreeBytes(disk); err != nil || free < badger.KeepFree {
		t.Errorf("%d free, %v", free, err)
	}
	checkAcknowledged(t, 0, filepath.Join(disk, "book"), phones)
}

// upToDate connects the phones and waits until all that they wrote is on disk and with both.
func upToDate(t *testing.T, p *program, phones []*servertest.Phone) {
	t.Helper()
	total := 0
	for _, phone := range phones {
		phone.URL = p.url
		phone.Connect()
		phone.UntilAcked("workshop", uint64(phone.Own("workshop")))
		total += phone.Own("workshop")
	}
	for _, phone := range phones {
		phone.UntilHas("workshop", total)
		phone.Cut()
	}
	if !servertest.SameDown(phones[0], phones[1], "workshop") {
		t.Error("the phones hold different bytes")
	}
}

// smallDisk mounts a disk in memory, which only root may.
func smallDisk(t *testing.T, size int) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("stillroom", dir, "tmpfs", 0, fmt.Sprintf("size=%d", size)); err != nil {
		t.Skipf("NOT CHECKED: a small disk can only be mounted by root (%v), so a full one was not tried", err)
	}
	t.Cleanup(func() {
		if syscall.Unmount(dir, 0) != nil {
			// Somebody still has it open; it goes when they do.
			exec.Command("umount", "-l", dir).Run()
		}
	})
	return dir
}

// fillDisk writes until there is not a byte left.
func fillDisk(path string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	for size := 1 << 20; size > 0; {
		if _, err := f.Write(make([]byte, size)); errors.Is(err, syscall.ENOSPC) {
			size /= 2
		} else if err != nil {
			return errors.Join(err, f.Close())
		}
	}
	return f.Close()
}

func fetch(t *testing.T, url string) string {
	t.Helper()
	answer, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s %v", url, answer.Status, err)
	}
	return string(body)
}
