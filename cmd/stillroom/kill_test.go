package main

import (
	"bytes"
	"context"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/sync"
)

// F16: the real program is killed at a random moment while two phones push, and started again. What a phone was told is
// on disk must be there, in the phone's own order, dense, under the chain that the phone worked out itself.
func TestKilledWhilePushing(t *testing.T) {
	const rounds = 3
	dir := t.TempDir()
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	p, err := startProgram(dir, "-book", "book")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.kill() })
	phones := []*servertest.Phone{servertest.New(t, p.url), servertest.New(t, p.url)}
	for round := range rounds {
		for _, phone := range phones {
			phone.URL = p.url
			phone.Connect()
		}
		before := acknowledged(phones)
		var killing *time.Timer
		for alive := true; alive; time.Sleep(time.Millisecond) {
			for _, phone := range phones {
				if phone.Pending("workshop") < 300 {
					phone.Write("workshop", book.KindBatchNoted, 1+random.IntN(40))
				}
				alive = alive && !phone.Gone()
			}
			// The moment is random, but not before there is something to lose.
			if killing == nil && acknowledged(phones) > before {
				killing = time.AfterFunc(time.Duration(random.IntN(100_000))*time.Microsecond, p.crash)
			}
		}
		p.kill()
		for _, phone := range phones {
			phone.Cut()
		}
		checkAcknowledged(t, round, filepath.Join(dir, "book"), phones)
		if p, err = startProgram(dir, "-book", "book"); err != nil {
			t.Fatalf("round %d: it does not start again: %v", round, err)
		}
	}
	for _, phone := range phones {
		phone.URL = p.url
		phone.Connect()
	}
	total := 0
	for _, phone := range phones {
		n := phone.Own("workshop")
		phone.UntilAcked("workshop", uint64(n))
		total += n
	}
	for _, phone := range phones {
		phone.UntilHas("workshop", total)
	}
	if !servertest.SameDown(phones[0], phones[1], "workshop") {
		t.Errorf("the phones hold different bytes")
	}
	if err := p.stop(); err != nil {
		t.Error(err)
	}
}

// checkAcknowledged opens the folder that the killed process left behind. A phone's acknowledged entries are a prefix of
// what is stored of it, and that is a prefix of what it wrote.
func checkAcknowledged(t *testing.T, round int, dir string, phones []*servertest.Phone) {
	t.Helper()
	f, err := openToRead(dir)
	if err != nil {
		t.Fatalf("round %d: %v", round, err)
	}
	defer f.Close()
	if _, err := verifyStream(context.Background(), f, "workshop"); err != nil {
		t.Fatalf("round %d: %v", round, err)
	}
	for _, phone := range phones {
		phone.Mu.Lock()
		defer phone.Mu.Unlock()
		acked, own := phone.Acked["workshop"], phone.Log("workshop", sync.Up)
		head := f.Store.DeviceHead("workshop", phone.ID)
		if head.Seq < acked {
			t.Fatalf("round %d: phone %s was told that %d entries are on disk, and %d are", round, phone.Me.Letter, acked, head.Seq)
		}
		stored, err := f.Store.ReadDevice(context.Background(), "workshop", phone.ID, 0, 0, 0)
		if err != nil || len(stored) > len(own.Items) {
			t.Fatalf("round %d: %d entries stored of %d written: %v", round, len(stored), len(own.Items), err)
		}
		for i, entry := range stored {
			if !bytes.Equal(entry, own.Items[i]) {
				t.Fatalf("round %d: phone %s, entry %d is not what it wrote", round, phone.Me.Letter, i+1)
			}
		}
	}
	t.Logf("round %d: %d on disk", round, f.Store.Head("workshop").Seq)
}

func acknowledged(phones []*servertest.Phone) int {
	n := 0
	for _, phone := range phones {
		n += phone.Own("workshop") - phone.Pending("workshop")
	}
	return n
}
