package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/backup"
	"stillroom/server/servertest"
	"stillroom/sync"
)

var soakRounds = flag.Int("soak", 4, "how many rounds of kills, backups and restores are mixed")

// F16, F20, F24 mixed: six phones push; in each round the program is killed, ended or goes on, is backed up while it works,
// or is lost and brought back from any of its backups; one phone goes for good. Whatever came in whatever order, each
// phone's acknowledged entries are there in the end, every living phone holds the same bytes, and the book is whole. Built
// with -race, so is the program, and what the detector says of it fails this.
func TestSoak(t *testing.T) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	w := &soaked{t: t, random: rand.New(rand.NewPCG(seed, 0)), dir: t.TempDir()}
	w.start("book0")
	for range 6 {
		w.phones = append(w.phones, servertest.New(t, w.p.url))
	}
	w.connect()
	w.backUp() // every phone is known to the first backup
	for round := range *soakRounds {
		w.push()
		did := w.act(round)
		w.t.Logf("round %d: %s; %d acknowledged", round, did, acknowledged(w.phones))
	}
	w.together()
}

// soaked is a home store that is treated badly, and its phones.
type soaked struct {
	t      *testing.T
	random *rand.Rand
	dir    string
	book   string
	books  int
	p      *program
	phones []*servertest.Phone
	gone   *servertest.Phone
}

func (w *soaked) start(book string) {
	w.t.Helper()
	p, err := startProgram(w.dir, "-book", book)
	if err != nil {
		w.t.Fatal(err)
	}
	w.t.Cleanup(p.kill)
	w.p, w.book = p, book
}

func (w *soaked) connect() {
	for _, phone := range w.phones {
		phone.URL = w.p.url
		phone.Heal()
		if len(phone.Stops) > 0 {
			w.t.Fatalf("phone %s was stopped: %+v", phone.Me.Letter, phone.Stops)
		}
	}
}

// push lets every phone write for a moment. Not all of it is acknowledged when it returns.
func (w *soaked) push() {
	for range 3 + w.random.IntN(10) {
		for _, phone := range w.phones {
			phone.Write("workshop", book.KindBatchNoted, 1+w.random.IntN(30))
			if w.random.IntN(3) == 0 {
				phone.Write("shelf", book.KindPlaceNamed, 1+w.random.IntN(3))
			}
		}
		time.Sleep(time.Duration(w.random.IntN(4000)) * time.Microsecond)
	}
}

// act does one thing to the program, and to what it keeps. The first round loses a phone, the second the store.
func (w *soaked) act(round int) string {
	w.t.Helper()
	switch {
	case round == 0:
		return w.lose()
	case round == 1:
		return w.restore()
	}
	switch w.random.IntN(4) {
	case 0:
		w.backUp()
		return "backed up while it worked"
	case 1:
		return w.restore()
	case 2:
		w.end(w.p.stop)
		w.start(w.book)
		w.connect()
		return "ended and started"
	default:
		w.end(func() error { w.p.kill(); return nil })
		w.start(w.book)
		w.connect()
		return "killed and started"
	}
}

// lose lets a phone go for good, once another holds what it had brought.
func (w *soaked) lose() string {
	w.t.Helper()
	w.gone = w.phones[len(w.phones)-1]
	w.phones = w.phones[:len(w.phones)-1]
	for _, stream := range servertest.Streams {
		w.gone.UntilAcked(stream, uint64(w.gone.Own(stream)))
	}
	w.gone.Cut()
	w.settle()
	return "a phone gone for good"
}

func (w *soaked) restore() string {
	w.t.Helper()
	all, err := backup.List(filepath.Join(w.dir, "kept"))
	if err != nil || len(all) == 0 {
		w.t.Fatalf("backups %v, %v", all, err)
	}
	w.end(func() error { w.p.kill(); return nil })
	w.books++
	name, from := fmt.Sprintf("book%d", w.books), w.random.IntN(len(all))
	if out, code := asked(w.t, "restore", "-from", all[from].Path, "-book", filepath.Join(w.dir, name)); code != exitOK {
		w.t.Fatal(out)
	}
	w.start(name)
	w.connect()
	return fmt.Sprintf("lost and brought back from backup %d of %d", from+1, len(all))
}

func (w *soaked) backUp() {
	w.t.Helper()
	if out, code := asked(w.t, "backup", "-book", filepath.Join(w.dir, w.book), "-to", filepath.Join(w.dir, "kept")); code != exitOK {
		w.t.Fatal(out)
	}
}

// end ends the program in one of its ways.
func (w *soaked) end(how func() error) {
	w.t.Helper()
	if err := how(); err != nil {
		w.t.Error(err)
	}
	for _, phone := range w.phones {
		phone.Cut()
		// That the program is being ended is no stop.
		phone.Stops = slices.DeleteFunc(phone.Stops, func(s sync.Stop) bool { return s.Code == sync.CodeClosing })
	}
	if said := w.p.err.String(); strings.Contains(said, "DATA RACE") || strings.Contains(said, "panic: ") {
		w.t.Fatalf("it said: %s", said)
	}
}

// settle waits until every phone's entries are acknowledged and every phone holds every other's.
func (w *soaked) settle() {
	w.t.Helper()
	for _, phone := range w.phones {
		for _, stream := range servertest.Streams {
			phone.UntilAcked(stream, uint64(phone.Own(stream)))
		}
	}
	for _, stream := range servertest.Streams {
		for _, phone := range w.phones {
			for _, other := range append([]*servertest.Phone{w.gone}, w.phones...) {
				own := other.Own(stream) // before Until locks the phone
				phone.Until(fmt.Sprintf("all %s of %s", stream, other.Me.Letter), func() bool { return phone.Holds(stream, other.ID) == own })
			}
		}
	}
}

func (w *soaked) together() {
	w.t.Helper()
	w.settle()
	first := w.phones[0]
	for _, phone := range w.phones[1:] {
		for _, stream := range servertest.Streams {
			if !servertest.SameDown(first, phone, stream) {
				w.t.Errorf("phones %s and %s hold different bytes of %s", first.Me.Letter, phone.Me.Letter, stream)
			}
		}
	}
	w.end(w.p.stop)
	if out, code := asked(w.t, "verify", "-book", filepath.Join(w.dir, w.book)); code != exitOK {
		w.t.Error(out)
	}
}
