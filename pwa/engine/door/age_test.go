package door

import (
	"encoding/hex"
	"slices"
	"strings"
	"testing"
	_ "unsafe" // for go:linkname

	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/sync"
)

// kindTable is the book's own table: only a test makes a program older than it is.
//
//go:linkname kindTable stillroom/calc/book.kindTable
var kindTable map[uint32]book.Kind

// older takes this program's newest version of a kind away, or the kind, until back is called.
func older(kind uint32, whole bool) (back func()) {
	was := kindTable[kind]
	if is := was; whole {
		delete(kindTable, kind)
	} else {
		is.V--
		kindTable[kind] = is
	}
	return func() { kindTable[kind] = was }
}

// F26: an older phone and an older home store keep, count and pass on what they cannot read, and after the update the phone's
// book is that of a phone which always knew it.
func TestF26OlderPhoneAppliesItAllAfterItsUpdate(t *testing.T) {
	for _, c := range []struct {
		name  string
		kind  uint32
		whole bool
	}{
		{"a later version of a weighing", book.KindBatchWeighed, false},
		{"a later version of the jars", book.KindJarsMinted, false},
		{"a kind that came later", book.KindBatchFilled, true},
		{"a later version of what everything hangs on", book.KindBatchStarted, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := newHome(t)
			newer, old := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
			key := whole(newer)
			h.connect(newer)
			h.settle()

			back := older(c.kind, c.whole)
			defer back()
			old.start()
			h.connect(old)
			h.settle()
			begin(old) // goes on working meanwhile
			old.start()
			h.connect(old)
			h.settle()
			if s := old.state(); s.Unknown == 0 || s.Unsent != 0 || len(old.said) > 0 {
				t.Fatalf("%d wait for the update, %d unsent, %v", s.Unknown, s.Unsent, old.said)
			}
			if !strings.Contains(old.d.clock, "after the update of this one") {
				t.Errorf("the phone does not say that it cannot read everything: %q", old.d.clock)
			}

			back()
			newer.start()
			h.connect(newer)
			h.settle()
			old.start()
			for _, stream := range []string{book.Workshop, book.Shelf} {
				if !slices.EqualFunc(old.envelopes(stream), newer.envelopes(stream), func(a, b []byte) bool { return string(a) == string(b) }) {
					t.Errorf("the two hold different bytes of %s", stream)
				}
			}
			if a, b := newer.state(), old.state(); a.Digest != b.Digest || b.Unknown != 0 {
				t.Errorf("after the update %d are not read, digests %s and %s", b.Unknown, a.Digest, b.Digest)
			}
			if v := seeBatch(old, key); len(v.Jars) != 23 {
				t.Errorf("%d jars after the update", len(v.Jars))
			}
		})
	}
}

// Books of every past version open on a phone, from its disk, and add up to what they did.
func TestRecordedBooksOpenOnAPhone(t *testing.T) {
	for _, recorded := range servertest.Recorded(t, "../../../testdata") {
		p := newPhone(t, 77, book.Owner)
		for _, stream := range []string{book.Workshop, book.Shelf} {
			items := recorded.Streams[stream]
			end := sync.RunningSeed(stream)
			for _, item := range items {
				end = end.Next(item)
			}
			p.disk.chunks = append(p.disk.chunks, chunk{loadHead{Kind: "chunk", Stream: stream, Epoch: "0700000000000000", From: 1, To: uint64(len(items)), Hash: hex.EncodeToString(end[:])}, Join(items)})
		}
		p.start()
		if got := p.state().Digest; got != recorded.Digest {
			t.Errorf("%s adds up to %s, want %s", recorded.File, got, recorded.Digest)
		}
		for _, view := range []string{"today", "formulas", "batches", "lots", "stall", "places"} {
			p.look(view, m{}, new(any))
		}
	}
}
