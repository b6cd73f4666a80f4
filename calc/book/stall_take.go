package book

import (
	"slices"

	"stillroom/calc"
)

// take adds what a row says, or answers why it does not count.
func (x *shelfStock) take(o origin, body visitable) string {
	switch b := body.(type) {
	case *JarMoved:
		if says := x.unknownBatch(b.Batch); says != "" {
			return says
		}
		n := b.Count
		if len(b.Jars) > 0 {
			n = int64(len(b.Jars))
		}
		if b.From != b.To {
			x.add(o, b.Batch, b.From, -n, false)
			x.add(o, b.Batch, b.To, n, false)
			x.brought[at{b.Batch, b.To}] += n
		}
		for _, j := range b.Jars {
			x.jarAt[j.Code] = b.To
		}
	case *JarCounted:
		if says := x.unknownBatch(b.Batch); says != "" {
			return says
		}
		x.add(o, b.Batch, b.Place, b.Count, true)
	case *Sold:
		to := "sold"
		if b.Given {
			to = "given"
		}
		if b.Jar != "" && outOfHand(x.jarAt[b.Jar]) {
			return "the jar " + calc.ShowJarCode(b.Jar) + " was already " + x.jarAt[b.Jar]
		}
		if b.Batch == "" {
			e := x.eventOf(o)
			e.N = b.Count
			x.asked = append(x.asked, untold{b.Product, b.from(), e})
			return ""
		}
		if says := x.unknownBatch(b.Batch); says != "" {
			return says
		}
		x.add(o, b.Batch, b.from()[0], -b.Count, false)
		x.add(o, b.Batch, to, b.Count, false)
		if b.Jar != "" {
			x.jarAt[b.Jar] = to
		}
	}
	return ""
}

// from are the places that what was sold may have stood at: crates at the place of the sale, or that place itself.
func (b *Sold) from() []string {
	if len(b.Among) == 0 {
		return []string{b.Place}
	}
	out := make([]string, len(b.Among))
	for i, p := range b.Among {
		out[i] = p.Place
	}
	return out
}

func (x *shelfStock) unknownBatch(key string) string {
	if x.s.minted.get(key) != nil {
		return ""
	}
	if g := x.s.goneKeys.get(key); g != nil {
		return g.s
	}
	return "the jars of its batch are not in this book"
}

// tellWhatCanBe gives a sale that names no batch to the only batch of its product that ever stood at its places.
func (x *shelfStock) tellWhatCanBe() {
	x.untold, x.told, x.only = nil, map[at][]calc.StockEvent{}, nil
	for _, u := range x.asked {
		in := x.candidates(u.places, u.product)
		if len(in) != 1 {
			x.untold = append(x.untold, u)
			continue
		}
		from := u.places[0]
		for _, p := range u.places {
			if slices.Contains(x.of[in[0]], at{in[0], p}) {
				from = p
				break
			}
		}
		for _, side := range []struct {
			place string
			n     int64
		}{{from, -u.event.N}, {"sold", u.event.N}} {
			e := u.event
			e.Lot, e.Place, e.N = in[0], side.place, side.n
			k := at{in[0], side.place}
			if !slices.Contains(x.of[in[0]], k) && len(x.told[k]) == 0 {
				x.only = append(x.only, k)
			}
			x.told[k] = append(x.told[k], e)
		}
	}
}

// candidates are the batches of a product that ever stood at one of some places.
func (x *shelfStock) candidates(places []string, product string) []string {
	var out []string
	for _, p := range places {
		for _, b := range x.on[shelved{p, product}] {
			if !slices.Contains(out, b) {
				out = append(out, b)
			}
		}
	}
	return out
}
