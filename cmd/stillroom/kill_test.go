package main

import (
	"bytes"
	"context"
	"flag"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/server/store/witness"
	"stillroom/sync"
)

var rounds = flag.Int("rounds", 20, "how many times the program is killed")

// perBook is how many kills one book sees; a longer run begins another, since every round reads the whole book.
const perBook = 40

// F16, F17: the real program is killed at a random moment while eight phones push, and started again; now and then it is
// killed while it starts. What a phone was told is on disk must be there, in the phone's own order, dense, under the chain
// that the phone worked out itself, and the witness is never ahead of the journal.
func TestKilledWhilePushing(t *testing.T) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	for done := 0; done < *rounds; done += perBook {
		killed(t, random, min(perBook, *rounds-done))
	}
}

func killed(t *testing.T, random *rand.Rand, rounds int) {
	dir := t.TempDir()
	p, err := startProgram(dir, "-book", "book")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.kill() })
	var phones []*servertest.Phone
	for range 8 {
		phones = append(phones, servertest.New(t, p.url))
	}
	for round := range rounds {
		for _, phone := range phones {
			phone.URL = p.url
			phone.Connect()
		}
		before := acknowledged(phones)
		var killing *time.Timer
		for alive := true; alive; time.Sleep(time.Millisecond) {
			for _, phone := range phones {
				if phone.Pending("workshop") < 40 {
					phone.Write("workshop", book.KindBatchNoted, 1+random.IntN(20))
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
		if random.IntN(4) == 0 {
			killAtStart(t, dir, time.Duration(random.IntN(80_000))*time.Microsecond)
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
		if !servertest.SameDown(phones[0], phone, "workshop") {
			t.Errorf("the phones hold different bytes")
		}
		phone.Cut()
	}
	if err := p.stop(); err != nil {
		t.Error(err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "book", ".checking-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// killAtStart starts the program and kills it after a while, whatever it is at: reading the copy, opening, listening.
func killAtStart(t *testing.T, dir string, after time.Duration) {
	t.Helper()
	c, err := serveCommand(dir, "-book", "book")
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(after)
	c.Process.Kill()
	c.Wait()
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
	if found := f.Store.Damage(); found != nil {
		t.Fatalf("round %d: %v", round, found[0])
	}
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
	seen, err := witness.Read(filepath.Join(dir, "witness"))
	if head := f.Store.Head("workshop").Seq; err != nil || seen.Heads["workshop"].Seq > head {
		t.Fatalf("round %d: the witness says %d, and %d are on disk: %v", round, seen.Heads["workshop"].Seq, head, err)
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
