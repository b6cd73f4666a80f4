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
			to := at{b.Batch, b.To}
			*x.brought.at(to) += n
		}
		for _, j := range b.Jars {
			x.jarAt.put(j.Code, b.To)
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
		if p := x.jarAt.get(b.Jar); b.Jar != "" && outOfHand(p) {
			return "the jar " + calc.ShowJarCode(b.Jar) + " was already " + p
		}
		if b.Batch == "" {
			e := x.eventOf(o)
			e.N = b.Count
			x.workAgain(b.Product)
			x.asked = append(x.asked, untold{b.Product, b.from(), e})
			return ""
		}
		if says := x.unknownBatch(b.Batch); says != "" {
			return says
		}
		x.add(o, b.Batch, b.from()[0], -b.Count, false)
		x.add(o, b.Batch, to, b.Count, false)
		if b.Jar != "" {
			x.jarAt.put(b.Jar, to)
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
	x.untold, x.told, x.only, x.onlyIn = map[string][]untold{}, map[at][]calc.StockEvent{}, map[string][]at{}, nil
	for _, u := range x.asked {
		batch := x.onlyBatch(u.places, u.product)
		if batch == "" {
			x.untold[u.product] = append(x.untold[u.product], u)
			continue
		}
		from := u.places[0]
		for _, p := range u.places {
			if slices.Contains(x.of.get(batch), at{batch, p}) {
				from = p
				break
			}
		}
		for _, side := range []struct {
			place string
			n     int64
		}{{from, -u.event.N}, {"sold", u.event.N}} {
			e := u.event
			e.Lot, e.Place, e.N = batch, side.place, side.n
			k := at{batch, side.place}
			if !slices.Contains(x.of.get(batch), k) && len(x.told[k]) == 0 {
				x.only[batch] = append(x.only[batch], k)
				x.onlyIn = append(x.onlyIn, k)
			}
			x.told[k] = append(x.told[k], e)
		}
	}
}

// onlyBatch is the only batch of a product that ever stood at some places, "" when there is none or several.
func (x *shelfStock) onlyBatch(places []string, product string) string {
	found := ""
	for _, p := range places {
		for _, b := range x.on.get(shelved{p, product}) {
			if found != "" && found != b {
				return ""
			}
			found = b
		}
	}
	return found
}

// candidates are the batches of a product that ever stood at one of some places.
func (x *shelfStock) candidates(places []string, product string) []string {
	if len(places) == 1 {
		return x.on.get(shelved{places[0], product})
	}
	var out []string
	seen := map[string]bool{}
	for _, p := range places {
		for _, b := range x.on.get(shelved{p, product}) {
			if !seen[b] {
				seen[b] = true
				out = append(out, b)
			}
		}
	}
	return out
}
