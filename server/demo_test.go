package server

import (
	"errors"
	"strings"
	"testing"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/sync"
)

func TestDemoStaysOutOfAMakersOwnBook(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: dir})
	if begun := s.folder.Store.Streams(); len(begun) != 0 {
		t.Fatalf("a book begun without the demo holds %v", begun)
	}
	var drafts []book.Draft
	if err := s.shelf.look(t.Context(), func(b *book.State) {
		var no *book.Refusal
		ctx := book.Context{Device: sync.DeviceID{7}, Letter: "A", Role: book.Owner, Now: noon.UnixMilli()}
		if drafts, _, no = b.Decide(ctx, "workshop.name", []byte(`{"maker":"A maker of this test"}`)); no != nil {
			t.Fatal(no)
		}
	}); err != nil {
		t.Fatal(err)
	}
	e := sync.Entry{Seq: 1, At: noon.UnixMilli(), Kind: drafts[0].Kind, V: drafts[0].V, Body: drafts[0].Body}
	if _, err := s.folder.Store.Append(t.Context(), drafts[0].Stream, sync.DeviceID{7}, 0, [][]byte{e.Append(nil)}, store.Meta{At: 1}); err != nil {
		t.Fatal(err)
	}
	head := s.folder.Store.Head(book.Workshop)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	var own *OwnBook
	_, err := Open(Options{Dir: dir, Addr: "127.0.0.1:0", Demo: true})
	if !errors.As(err, &own) || !strings.Contains(own.Error(), "nothing was changed") || !strings.Contains(own.Hint(), "without -demo") {
		t.Fatalf("the demo in a maker's own book: %v", err)
	}
	s = start(t, Options{Dir: dir})
	if got := s.folder.Store.Head(book.Workshop); got != head {
		t.Errorf("the book ends at %d and ended at %d", got.Seq, head.Seq)
	}
}

// How long it takes until the store of the demo's workshop answers: first with the demo to write, then with it there.
func BenchmarkStartWithDemo(b *testing.B) {
	open := func(dir string) {
		s, err := Open(Options{Dir: dir, Addr: "127.0.0.1:0", Demo: true})
		if err != nil {
			b.Fatal(err)
		}
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
	}
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			open(b.TempDir())
		}
	})
	b.Run("again", func(b *testing.B) {
		dir := b.TempDir()
		open(dir)
		for b.Loop() {
			open(dir)
		}
	})
}
