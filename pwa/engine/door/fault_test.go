package door

import (
	"encoding/json"
	"strings"
	"testing"

	"stillroom/calc/book"
)

// A fault of the engine's own must not tell a maker that an entry was not kept when it is on disk already.
func TestFaultTellsWhatWasKept(t *testing.T) {
	for _, test := range []struct {
		op   Op
		head any
		kept bool // what this call was about is on disk when it is made
	}{
		{OpCommand, m{"name": "formula.save", "args": rinse()}, false},
		{OpCommitted, nil, true},
		{OpStored, storedHead{Stream: book.Workshop, Seq: 1}, true},
	} {
		p := newPhone(t, 1, book.Owner)
		if test.op != OpCommand {
			p.must(OpCommand, m{"name": "formula.save", "args": rinse()}, nil)
		}
		p.d.replica, p.d.overlay = nil, nil
		p.d.arrived[book.Workshop] = []envelope{{}}
		_, _, no := p.call(test.op, test.head, nil)
		if no == nil || no.Code != "engine" {
			t.Fatalf("op %d: %+v", test.op, no)
		}
		if said := !strings.Contains(no.Hint, "was not"); said != test.kept {
			t.Errorf("op %d: kept is %v, and it says %q", test.op, test.kept, no.Hint)
		}
	}
}

// After a fault behind the write the book in memory is not whole, and nothing more is decided on it. The shell then reads
// the book anew (pwa/shell/book.ts): what was written is there, and commands are taken again.
func TestABookReadAnewAfterAFaultHasWhatWasWritten(t *testing.T) {
	p := newPhone(t, 1, book.Owner)
	h, raw := p.must(OpCommand, m{"name": "formula.save", "args": rinse()}, nil)
	var out commandHead
	if err := json.Unmarshal(h, &out); err != nil {
		t.Fatal(err)
	}
	items, err := Split(raw)
	if err != nil || len(items) != 1 {
		t.Fatalf("%d entries (%v)", len(items), err)
	}
	at := out.Entries[0]
	p.disk.pending[at.Stream] = map[uint64][]byte{at.Seq: items[0]}
	p.d.replica = nil
	if _, _, no := p.call(OpCommitted, nil, nil); no == nil || no.Code != "engine" {
		t.Fatalf("the fault is told as %+v", no)
	}
	if _, _, no := p.call(OpCommand, m{"name": "formula.save", "args": rinse()}, nil); no == nil {
		t.Fatal("a command was decided on a book that is not whole")
	}

	p.start()
	var rows []struct{ Name string }
	p.look("formulas", m{}, &rows)
	if len(rows) != 1 || rows[0].Name != "Plain rinse" {
		t.Fatalf("the book has %+v, want what was written before the fault", rows)
	}
	second := rinse()
	second.Name = "Second rinse"
	p.give("formula.save", second)
	p.look("formulas", m{}, &rows)
	if len(rows) != 2 {
		t.Errorf("the book has %+v, want both", rows)
	}
}
