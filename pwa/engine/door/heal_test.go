package door

import (
	"context"
	"strings"
	"testing"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/server/store/memory"
	"stillroom/sync"
)

// brought is a home store that was brought back from a backup with the first n entries of each stream.
func (h *home) brought(n int) *home {
	h.t.Helper()
	after := newHome(h.t)
	after.st = memory.New(sync.Epoch{8}, h.st.Key())
	for _, stream := range h.st.Streams() {
		items, err := h.st.Read(context.Background(), stream, 0, n, 0)
		if err == nil {
			_, _, err = store.TakeBack(context.Background(), after.st, stream, 0, items, false)
		}
		if err != nil {
			h.t.Fatal(err)
		}
	}
	return after
}

// heal connects a phone until its logs are the store's, beginning anew after each swap as the shell does.
func (h *home) heal(p *phone) {
	h.t.Helper()
	for range 5 {
		before := p.swaps
		h.connect(p)
		h.settle()
		if p.swaps == before {
			return
		}
		h.cut(p)
		p.start()
	}
	h.t.Fatal("it never ends")
}

// F20: the store comes back older than what it had acknowledged, and takes another phone's work before the one that has
// its old end is there. Nothing is lost and every book is the same.
func TestF20PhonesHealAnOlderStore(t *testing.T) {
	h := newHome(t)
	one, two := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
	batch := whole(one)
	h.connect(one)
	h.connect(two)
	h.settle()
	gone := newPhone(t, 3, book.Owner)
	third := whole(gone)
	h.connect(gone)
	h.settle()
	h.cut(one)
	h.cut(two)
	h.cut(gone)
	written := whole(two) // while the store is away

	after := h.brought(4)
	fresh := newPhone(t, 4, book.Owner)
	last := whole(fresh)
	after.heal(fresh)
	after.heal(two)
	after.heal(one)
	after.heal(fresh)
	after.heal(two)
	a, b, c := one.state(), two.state(), fresh.state()
	if a.Digest != b.Digest || a.Digest != c.Digest || a.Unsent+b.Unsent+c.Unsent != 0 {
		t.Fatalf("%+v\n%+v\n%+v", a, b, c)
	}
	for _, key := range []string{batch, third, written, last} {
		if v := seeBatch(one, key); len(v.Jars) != 23 || v.Row.Where != "book" {
			t.Errorf("batch %s: %d jars, in %q", key, len(v.Jars), v.Row.Where)
		}
	}
	if one.swaps+two.swaps == 0 {
		t.Error("nothing was healed")
	}
}

// F26: an old phone with a new store and the reverse are told so, and everything passes.
func TestF26PhoneAndStoreOfDifferentAge(t *testing.T) {
	for _, test := range []struct {
		knows uint32
		says  string
	}{{0, ""}, {book.Schema(), ""}, {book.Schema() + 1, "newer than the app"}, {book.Schema() - 1, "Update the home store"}} {
		h := newHome(t)
		h.knows = test.knows
		p := newPhone(t, 1, book.Owner)
		whole(p)
		h.connect(p)
		h.settle()
		if test.says == "" && p.d.clock != "" || !strings.Contains(p.d.clock, test.says) || p.state().Unsent != 0 {
			t.Errorf("schema %d: %q, %d unsent", test.knows, p.d.clock, p.state().Unsent)
		}
	}
}
