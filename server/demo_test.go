package server

import (
	"errors"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/backup"
	"stillroom/server/folder"
	"stillroom/server/label"
	"stillroom/server/servertest"
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

// Every sheet takes every product of the demo, with its list of ingredients or a sentence in its place.
func TestEveryReleasedBatchOfTheDemoHasLabels(t *testing.T) {
	s := start(t, Options{Demo: true})
	p := servertest.Register(t, s.URL())
	printed := 0
	for _, jars := range demoJars(t, s) {
		want := http.StatusOK
		if unprinted(jars[0]) != "" {
			want = http.StatusConflict
		}
		for _, sheet := range label.Sheets() {
			answer, body := get(t, s, "/api/labels?sheet="+sheet.Key+"&batch="+jars[0].Batch, "Authorization", "Bearer "+p.Token)
			want := want
			if want == http.StatusOK && jars[0].Jars.Net > 1_000_000 && sheet.Key == "roll-57" {
				want = http.StatusUnprocessableEntity // figures of 6 mm leave no room there
			}
			if answer.StatusCode != want {
				t.Errorf("%s of %s on %s: %d %s", jars[0].Jars.Product, jars[0].Jars.Code, sheet.Key, answer.StatusCode, body[:min(len(body), 200)])
			}
			if says := answer.Header.Get("Stillroom-Says"); says != "" {
				t.Logf("%s on %s: %s", jars[0].Jars.Product, sheet.Key, says)
			}
			printed++
		}
	}
	if printed < 30 {
		t.Errorf("%d sheets were asked for", printed)
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

// A book that was made of a demo book's backup has another life, in which the demo cannot be told from a maker's own: it is
// not written a second time.
func TestDemoIsNotWrittenIntoARestoredBook(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: filepath.Join(dir, "book"), Demo: true})
	info, err := s.backups.make(t.Context(), filepath.Join(dir, "kept"), false)
	if err != nil {
		t.Fatal(err)
	}
	again := filepath.Join(dir, "again")
	if _, err := backup.Restore(t.Context(), info.Path, again, folder.Options{Now: time.Now}); err != nil {
		t.Fatal(err)
	}
	var own *OwnBook
	if _, err := Open(Options{Dir: again, Addr: "127.0.0.1:0", Demo: true}); !errors.As(err, &own) {
		t.Fatalf("the demo in a restored book: %v", err)
	}
	if got, want := start(t, Options{Dir: again}).folder.Store.Head(book.Workshop), s.folder.Store.Head(book.Workshop); got != want {
		t.Errorf("the book ends at %d and ended at %d", got.Seq, want.Seq)
	}
}
