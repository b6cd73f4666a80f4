package door

import (
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
