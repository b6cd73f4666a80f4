package server

import (
	"bytes"
	"encoding/hex"
	"net/http"
	"slices"
	"testing"
	"time"
	_ "unsafe" // for go:linkname

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/servertest"
	"stillroom/server/store"
	"stillroom/sync"
)

// kindTable is the book's own table: only a test makes a program older than it is. It is changed while no store is open.
//
//go:linkname kindTable stillroom/calc/book.kindTable
var kindTable map[uint32]book.Kind

func closed(t *testing.T, s *Server) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// F26: a store that does not know the version in which jars were named keeps them, has no card for them, and has it after
// its update.
func TestF26OlderStoreReadsItAllAfterItsUpdate(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: dir, Demo: true})
	code := demoJars(t, s)[0][0].Code
	ask := func(s *Server) int { answer, _ := get(t, s, "/j/"+code); return answer.StatusCode }
	if got := ask(s); got != http.StatusOK {
		t.Fatalf("the card of a jar: %d", got)
	}
	digest := func(s *Server) (sum [32]byte, unread int) {
		if err := s.shelf.look(t.Context(), func(b *book.State) { sum, unread = b.Digest(), b.UpdateNeeded() }); err != nil {
			t.Fatal(err)
		}
		return sum, unread
	}
	was, _ := digest(s)
	closed(t, s)

	now := kindTable[book.KindJarsMinted]
	back := func() { kindTable[book.KindJarsMinted] = now }
	defer back()
	is := now
	is.V--
	kindTable[book.KindJarsMinted] = is
	s = start(t, Options{Dir: dir})
	if _, unread := digest(s); unread == 0 {
		t.Error("nothing waits for the update")
	}
	if got := ask(s); got != http.StatusNotFound {
		t.Errorf("the card of a jar that cannot be read: %d", got)
	}
	closed(t, s)

	back()
	s = start(t, Options{Dir: dir})
	if sum, unread := digest(s); sum != was || unread != 0 {
		t.Errorf("after the update %d are not read, and the book adds up otherwise", unread)
	}
	if got := ask(s); got != http.StatusOK {
		t.Errorf("the card after the update: %d", got)
	}
}

// F26: what an older store cannot read comes to the other phones byte for byte, also after it was started again.
func TestF26OlderStorePassesOnWhatItCannotRead(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: dir})
	a := servertest.New(t, s.URL())
	a.Connect()
	for _, e := range []struct {
		kind, v uint32
		body    []byte
	}{
		{book.KindBatchNoted, 1, []byte("\x057K3QX\x04soft")},
		{book.KindBatchNoted, 2, []byte("\x057K3QX\x04soft\x07and more")},
		{book.KindBatchWeighed, 99, nil},
		{900, 1, []byte{0xff, 0, 0, 0}},
		{book.KindBatchNoted, 0, bytes.Repeat([]byte{0xfe}, sync.MaxBodyBytes)},
	} {
		a.WriteBody("workshop", e.kind, e.v, e.body)
	}
	a.UntilAcked("workshop", 5)
	b := servertest.New(t, s.URL())
	b.Connect()
	b.UntilHas("workshop", 5)
	me := b.Me
	closed(t, s)

	s = start(t, Options{Dir: dir})
	c := servertest.As(t, s.URL(), me)
	c.Connect()
	c.UntilHas("workshop", 5)
	if !servertest.SameDown(b, c, "workshop") {
		t.Error("after it was started again the store gives out other bytes")
	}
	a.Mu.Lock()
	defer a.Mu.Unlock()
	c.Mu.Lock()
	defer c.Mu.Unlock()
	for i, want := range a.Log("workshop", sync.Up).Items {
		v, err := sync.ParseEnvelope(c.Log("workshop", sync.Down).Items[i])
		if err != nil || v.Held || !bytes.Equal(v.Entry, want) {
			t.Errorf("entry %d: held %v, %v, other bytes %v", i+1, v.Held, err, !bytes.Equal(v.Entry, want))
		}
	}
}

// Books of every past version come to lie in a store as they were written, and add up to what they did after it was started.
func TestRecordedBooksOpenInAStore(t *testing.T) {
	for _, recorded := range servertest.Recorded(t, "../testdata") {
		items, file := recorded.Streams, recorded.File
		dir := t.TempDir()
		f, err := folder.Open(dir, folder.Options{Now: func() time.Time { return noon }})
		if err != nil {
			t.Fatal(err)
		}
		for _, stream := range streams {
			if _, added, err := store.TakeBack(t.Context(), f.Store, stream, 0, items[stream], false); err != nil || added != len(items[stream]) {
				t.Fatalf("%s: %d of %d entries of %s, %v", file, added, len(items[stream]), stream, err)
			}
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		s := start(t, Options{Dir: dir})
		for _, stream := range streams {
			got, err := s.folder.Store.Read(t.Context(), stream, 0, 0, 0)
			if err != nil || !slices.EqualFunc(got, items[stream], bytes.Equal) {
				t.Errorf("%s: %s came back otherwise, %v", file, stream, err)
			}
		}
		if err := s.shelf.look(t.Context(), func(b *book.State) {
			if d := b.Digest(); hex.EncodeToString(d[:]) != recorded.Digest {
				t.Errorf("%s adds up to %x in the store, want %s", file, d, recorded.Digest)
			}
		}); err != nil {
			t.Error(err)
		}
	}
}
