package door

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"strings"

	"stillroom/calc/book"
	"stillroom/sync"
)

// torn is where this phone's copy of a stream's log cannot be read on: what follows number After is fetched from the home
// store, whose hash there must be the same.
type torn struct {
	Stream string `json:"stream"`
	After  uint64 `json:"after"`
	Hash   string `json:"hash"`
	// Epoch is the life of the home store that the copy is of. Another one is no help: what that life lost of this phone's
	// own rows would be numbers that are free again, and then given twice.
	Epoch string `json:"epoch"`
	// Last is the highest number that stood in what cannot be read, as far as that is known.
	Last uint64 `json:"last"`
}

func tornAt(p *sync.Part, last uint64) torn {
	return torn{Stream: p.Stream, After: p.Down.Seq, Hash: hex.EncodeToString(p.Down.Hash[:]), Epoch: hex.EncodeToString(p.Epoch[:]), Last: last}
}

// mending is a book that is open for reading while the end of its copy is fetched.
type mending struct {
	parts map[string]*sync.Part
	torn  []torn
	rows  map[string][]ownRow
}

func (m *mending) asks() []torn {
	if m == nil {
		return nil
	}
	return m.torn
}

// unsent counts the own rows that did not come back and are not in the replica meanwhile.
func (m *mending) unsent() int {
	n := 0
	for _, t := range m.asks() {
		n += len(m.rows[t.Stream])
	}
	return n
}

func (l *loading) tornIn(stream string) *torn {
	for i := range l.torn {
		if l.torn[i].Stream == stream {
			return &l.torn[i]
		}
	}
	return nil
}

// stillTorn takes up what an earlier start began: what can be read by now is a beginning.
func (l *loading) stillTorn() {
	for _, stream := range l.order {
		last, begun := l.begun[stream]
		switch t := l.tornIn(stream); {
		case begun && t == nil:
			l.torn = append(l.torn, tornAt(l.parts[stream], last))
		case begun:
			t.Last = max(t.Last, last)
		}
	}
}

func numbers(from, to uint64) string {
	if to <= from {
		return fmt.Sprintf("Entry %d", from)
	}
	return fmt.Sprintf("Entries %d to %d", from, to)
}

// beginMending keeps the book from being written where a copy breaks off: how far this phone's own numbers go stands in
// what cannot be read, and a number is never given twice.
func (d *Door) beginMending() {
	if len(d.loading.torn) == 0 {
		return
	}
	d.mend = &mending{parts: d.loading.parts, torn: d.loading.torn, rows: d.loading.rows}
	unsent := d.mend.unsent()
	var says []string
	// A stream of which nothing is left looks as though nothing had ever been written.
	until := "until then the book shows what came before"
	for _, t := range d.mend.torn {
		says = append(says, fmt.Sprintf("%s of %s could not be read on this phone", numbers(t.After+1, t.Last), logName(t.Stream)))
		if t.After == 0 {
			until = "until then the book looks emptier here than it is"
		}
	}
	tells := strings.Join(says, ". ") + "; what is missing comes again as soon as the home store answers. What was there is set aside, and " + until + "."
	if unsent > 0 {
		tells += " " + count(unsent, "row", "rows") + " that it had not sent " + map[bool]string{true: "is", false: "are"}[unsent == 1] + " kept."
	}
	d.shut = &shut{Tells: tells, no: book.Refusal{Code: "mending", Says: "This was not kept: a part of the book on this phone has to come again from the home store first.",
		Hint: "What you typed still stands here. Bring this phone to where the home store answers, then keep it."}}
}

type mendAnswer struct {
	Mine []uint64 `json:"mine"`
}

// mendWith takes what the home store sent behind the good beginning, or why it sent nothing. The caller puts it on disk
// and reads the book anew when all of it is there.
func (d *Door) mendWith(h loadHead, raw []byte) (any, []byte, *book.Refusal) {
	if d.mend == nil || d.mend.parts[h.Stream] == nil {
		return nil, nil, &book.Refusal{Code: "order", Says: "Nothing of the book is being mended.", Hint: "Nothing was changed. Load the page again."}
	}
	if h.Kind == "refused" {
		d.shut.Way = wayFor(h.Code)
		return d.outcome(nil)
	}
	next := *d.mend.parts[h.Stream]
	if h.Epoch != hex.EncodeToString(next.Epoch[:]) {
		d.shut.Way = wayFor(otherwise)
		return nil, nil, &book.Refusal{Code: otherwise, Says: "The home store began a new life since this phone last met it.", Hint: "Go on as a new device: the note at the head of the screen leads there."}
	}
	chunk, err := follow(&next, d.device, h, raw)
	if err != nil {
		return nil, nil, &book.Refusal{Code: sync.CodeDamaged, Says: fmt.Sprintf("What the home store sent does not follow on what this phone has (%v). Nothing of it was kept.", err),
			Hint: "It is tried again. If it stays so, look after the home store and keep this phone as it is."}
	}
	out := mendAnswer{Mine: []uint64{}}
	for _, e := range chunk {
		if e.env.Device != d.device {
			continue
		}
		for _, row := range d.mend.rows[h.Stream] {
			if row.seq == e.entry.Seq && row.bad == nil && !bytes.Equal(row.raw, e.env.Entry) {
				d.shut.Way = wayFor(sync.CodeFork)
				return nil, nil, &book.Refusal{Code: sync.CodeFork, Says: fmt.Sprintf("The home store has something else as this phone’s row %d of %s. Both are kept.", row.seq, logName(h.Stream)),
					Hint: "Go on as a new device: the note at the head of the screen leads there."}
			}
		}
		out.Mine = append(out.Mine, e.entry.Seq)
	}
	*d.mend.parts[h.Stream] = next
	for _, e := range chunk {
		d.base.Apply(h.Stream, e.env.Device, &e.env, e.entry)
	}
	d.lay()
	d.changed = true
	return out, nil, nil
}
