package book

import (
	"strings"

	"stillroom/calc"
)

// correctShelfRow writes what a sale, a movement or a count should have said. The old row stays, struck, with the reason.
func (s *State) correctShelfRow(ctx Context, a correctArgs) ([]Draft, any, *Refusal) {
	ref, err := ParseRef(a.Entry)
	m := s.moves.get(ref)
	switch {
	case err != nil || ref.Seq == 0 || m == nil:
		return nil, nil, refuse("row unknown", "entry", "the row to correct is not in this book", "choose it from the rows of the place")
	case m.struck:
		return nil, nil, refuse("corrected already", "entry", "this row was already corrected: "+m.reason, "correct the row that took its place")
	}
	body, no := m.openToChange(a.Reason)
	if no != nil {
		return nil, nil, no
	}
	switch b := body.(type) {
	case *Sold:
		if no := s.correctedSale(b, a); no != nil {
			return nil, nil, no
		}
	case *JarMoved:
		if no := s.correctedMove(ctx, b, a); no != nil {
			return nil, nil, no
		}
	case *JarCounted:
		n, no := readRight(a.Value, b.Count)
		if no != nil {
			return nil, nil, no
		}
		b.Count = n
	}
	inner, v, err := encodeV(body)
	if err != nil {
		return nil, nil, refuse("unreadable", "entry", "this row cannot be written again", "update the app")
	}
	if string(inner) == string(m.body) {
		return nil, nil, refuse("same", "value", "the correction says the same as the row", "type what it should say")
	}
	out, entry, no := s.shelfRow(ctx, KindShelfCorrected, &Corrected{Of: ref, Reason: strings.TrimSpace(a.Reason), Kind: int64(m.kind), V: int64(v), Body: inner})
	return out, entryValue{entry}, no
}

// readRight reads the right number; nothing typed leaves it as it was, and none is a number too.
func readRight(text string, was int64) (int64, *Refusal) {
	switch strings.TrimSpace(text) {
	case "":
		return was, nil
	case "0":
		return 0, nil
	}
	n, e := calc.ReadCount(text)
	if e != nil {
		return 0, misread(e, "value")
	}
	return int64(n), nil
}

func (s *State) correctedSale(b *Sold, a correctArgs) *Refusal {
	n, no := readRight(a.Value, b.Count)
	if no != nil {
		return no
	}
	if b.Jar != "" && n > 1 {
		return refuse("one jar", "value", "the jar "+calc.ShowJarCode(b.Jar)+" was scanned, and it is one", "write the others as sales of their own")
	}
	if more := n - b.Count; more > 0 {
		left := s.shelfStock().hand.get(at{b.Batch, b.Place}).N
		if b.Batch == "" {
			in, untold := s.shelfStock().spans(s.within(b.Place), b.Product)
			left = -untold
			for _, p := range in {
				left += max(p.n, 0)
			}
		}
		if more > left {
			return refuse("more than there are", "value", "at "+s.placeName(b.Place)+" there are "+number(max(left, 0))+" more of "+b.Product, "count what is there first")
		}
	}
	b.Count = n
	if n == 0 {
		b.Jar = ""
	}
	if strings.TrimSpace(a.Price) != "" {
		b.Given = false
		return priceOf(b, a.Price)
	}
	return nil
}

func (s *State) correctedMove(ctx Context, b *JarMoved, a correctArgs) *Refusal {
	n, no := readRight(a.Value, b.Count)
	if no != nil {
		return no
	}
	if len(b.Jars) > 0 && n != b.Count && n != 0 {
		return refuse("jars named", "value", "the jars of this row were scanned one by one", "correct it to 0, then scan those that did go")
	}
	x := s.shelfStock()
	to := b.To
	if strings.TrimSpace(a.Place) != "" {
		if to, no = s.placeOnShelf(a.Place, "place"); no != nil {
			return no
		}
	}
	if n > 0 && to == b.From {
		return refuse("same place", "place", "the jars were at "+s.placeName(to)+" already", "correct it to 0 if none were moved")
	}
	if m := s.minted.get(b.Batch); m != nil && n > 0 {
		if no := s.mayGo(ctx, m, to); no != nil {
			return no
		}
	}
	if more := n - b.Count; more > x.hand.get(at{b.Batch, b.From}).N {
		return refuse("more than there are", "value", "at "+s.placeName(b.From)+" there are "+number(max(x.hand.get(at{b.Batch, b.From}).N, 0))+" more", "count what is there first")
	}
	gone := b.Count - n
	if to != b.To {
		gone = b.Count
	}
	if there := x.hand.get(at{b.Batch, b.To}).N; gone > there {
		return refuse("gone on", "value", "of the jars that came to "+s.placeName(b.To)+" only "+number(max(there, 0))+" are there now", "correct the later row first")
	}
	b.Count, b.To = n, to
	if n == 0 {
		b.Jars = nil
	}
	return nil
}

// openToChange opens a row that is to be corrected or undone: one that counts, with a reason for it.
func (m *move) openToChange(reason string) (visitable, *Refusal) {
	if m.clash != "" {
		return nil, refuse("clash", "entry", "this row does not count, since "+m.clash, "leave it as it is")
	}
	if strings.TrimSpace(reason) == "" {
		return nil, refuse("reason missing", "reason", "a correction needs a reason, and none was given", "write in a few words what went wrong")
	}
	body, err := open(m.kind, m.v, m.body)
	if err != nil {
		return nil, refuse("unreadable", "entry", "this row cannot be read by this program", "update the app")
	}
	return body, nil
}
