package book

import (
	"slices"
	"strings"
)

// chooseBatch names the batch when only one of the product can be meant, and refuses what cannot be sold.
func (s *State) chooseBatch(ctx Context, x *shelfStock, b *Sold) *Refusal {
	places := s.within(b.Place)
	in, sold := x.spans(places, b.Product)
	var out []string
	left := -sold
	for _, p := range in {
		left += max(p.n, 0)
		if p.n > 0 {
			out = append(out, p.batch)
		}
	}
	if len(out) == 0 || left < b.Count {
		return refuse("more than there are", "product", "at "+s.placeName(b.Place)+" there are "+number(max(left, 0))+" of "+b.Product, "take jars there, or count what is there first")
	}
	for _, k := range out {
		if no := s.mayLeave(ctx, s.minted.get(k), b); no != nil {
			return no
		}
	}
	if len(out) == 1 && sold == 0 {
		b.Batch = out[0]
		return nil
	}
	for _, place := range places {
		if slices.ContainsFunc(out, func(k string) bool { return x.hand.get(at{k, place}).N > 0 }) {
			b.Among = append(b.Among, AmongItem{place})
		}
	}
	b.alone()
	return nil
}

// takeFrom says where the jars of a sale stood: at the place itself, or in a crate there.
func (s *State) takeFrom(x *shelfStock, m *minted, b *Sold) *Refusal {
	places := s.within(b.Place)
	if p := x.jarAt.get(b.Jar); p != b.Place && slices.Contains(places, p) {
		b.Among = []AmongItem{{p}}
		return nil
	}
	for _, p := range places {
		if x.hand.get(at{b.Batch, p}).N >= b.Count {
			b.Among = []AmongItem{{p}}
			b.alone()
			return nil
		}
	}
	there := pieces(max(x.there(b.Batch, places), 0), m.body.Word) + " of " + m.body.Code
	if x.there(b.Batch, places) >= b.Count {
		return refuse("in several crates", "count", "at "+s.placeName(b.Place)+" there are "+there+", and no one crate holds "+number(b.Count), "sell them crate by crate, fewer at a time")
	}
	return refuse("more than there are", "count", "at "+s.placeName(b.Place)+" there are "+there, "count what is there first")
}

// alone leaves out what goes without saying: that a jar stood where it was sold.
func (b *Sold) alone() {
	if len(b.Among) == 1 && b.Among[0].Place == b.Place {
		b.Among = nil
	}
}

// mayLeave refuses a sale, or a gift when it is one.
func (s *State) mayLeave(ctx Context, m *minted, b *Sold) *Refusal {
	if b.Given {
		return s.mayGo(ctx, m, "given")
	}
	_, no := s.unsold(ctx, m)
	return no
}

// priceOf reads what was typed for the price of one; nothing typed leaves it to the price that the book has.
func priceOf(b *Sold, typed string) (no *Refusal) {
	switch typed = strings.TrimSpace(typed); {
	case strings.EqualFold(typed, "given") || strings.EqualFold(typed, "free"):
		b.Given = true
	case typed != "":
		b.Price, no = readMoney(typed, "price")
		b.Given = no == nil && b.Price == 0
	}
	return no
}
