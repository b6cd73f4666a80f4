package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

// settled tells whether counts of a batch stand over a sale that named none, at all its places: then they hold what it took.
func (x *shelfStock) settled(u untold, batch string) bool {
	stood := false
	for _, p := range u.places {
		if !slices.Contains(x.of.get(batch), at{batch, p}) {
			continue
		}
		if stood = true; !countedAfter(x.events.get(at{batch, p}), u.event) {
			return false
		}
	}
	return stood
}

func countedAfter(events []calc.StockEvent, e calc.StockEvent) bool {
	for _, c := range events {
		saw := c.Stream == e.Stream && e.Seq < c.Seq || e.Log > 0 && e.Log <= c.SeenLog
		seen := c.Stream == e.Stream && c.Seq < e.Seq || c.Log > 0 && c.Log <= e.SeenLog
		if c.Count && (saw || !seen && (c.At > e.At || c.At == e.At && c.Stream > e.Stream)) {
			return true
		}
	}
	return false
}

// lost is between how many jars of a batch the sales that named none can have taken at some places, and how many a count
// has shown since that they took.
type lost struct {
	batch          string
	n              int64 // there before those sales
	from, to, took int64
	others         int64 // how many of those sales the other batches can have been at most
}

// sum writes how the bounds of what is left came about, of so many sold with no batch said.
func (l *lost) sum(code string, sold int64) string {
	low, high := number(l.n)+" − "+number(l.to)+" = "+number(l.n-l.to), number(l.n)+" − "+number(l.from)+" = "+number(l.n-l.from)
	says := "of " + number(sold) + " sold with no batch said, " + code + " can have been at most " + number(l.to) + ", since " + number(l.n) + " were here, and at least " + number(l.from) +
		", since the others can have been at most " + number(l.others) + ": " + low
	if l.from == l.to {
		return says
	}
	return says + " to " + high
}

// pool is some places with all those that a sale without a batch links to them.
func (x *shelfStock) pool(places []string, product string) []string {
	pool := slices.Clone(places)
	for grown := true; grown; {
		grown = false
		for _, u := range x.untold[product] {
			if !slices.ContainsFunc(u.places, func(p string) bool { return slices.Contains(pool, p) }) {
				continue
			}
			for _, p := range u.places {
				if !slices.Contains(pool, p) {
					pool, grown = append(pool, p), true
				}
			}
		}
	}
	return pool
}

// spans bounds what each batch of a product lost at some places to sales that named none; sold is how many those were: at
// least all that the others cannot have been, at most what was there. A batch that was counted since is known, and what
// it lacked is taken from them: never a guess beyond that. The answer is kept, and must not be changed.
func (x *shelfStock) spans(places []string, product string) ([]lost, int64) {
	w := x.workedOut(product)
	key := strings.Join(places, "\x00")
	if s, known := w.spans[key]; known {
		return s.lost, s.sold
	}
	var s spanned
	s.lost, s.sold = x.span(places, product)
	w.spans[key] = s
	return s.lost, s.sold
}

func (x *shelfStock) span(places []string, product string) (out []lost, sold int64) {
	pool := x.pool(places, product)
	in := x.candidates(pool, product)
	var all, open []untold
	told := int64(0)
	for _, u := range x.untold[product] {
		if !slices.ContainsFunc(u.places, func(p string) bool { return slices.Contains(pool, p) }) {
			continue
		}
		all = append(all, u)
		told += u.event.N
		if len(in) == 0 || slices.ContainsFunc(in, func(b string) bool { return !x.settled(u, b) }) {
			open = append(open, u)
			sold += u.event.N
		}
	}
	room := int64(0)
	took, counted := map[string]int64{}, map[string]bool{}
	for _, b := range in {
		counted[b] = slices.ContainsFunc(all, func(u untold) bool { return x.settled(u, b) })
		if !counted[b] {
			room += max(x.there(b, pool), 0)
			continue
		}
		ofOpen, ofAll := x.lacked(b, pool, open, all)
		sold -= min(ofOpen, sold)
		took[b] = min(ofAll, told)
		told -= took[b]
	}
	for _, b := range in {
		h := lost{batch: b, n: x.there(b, places), took: took[b]}
		if !counted[b] {
			h.to = min(sold, max(h.n, 0))
			h.others = room - max(h.n, 0)
			h.from = min(max(0, sold-h.others), h.to)
		}
		out = append(out, h)
	}
	return out, sold
}

// there is how many of a batch the book has at some places, taken together.
func (x *shelfStock) there(batch string, places []string) (n int64) {
	for _, p := range places {
		n += x.hand.get(at{batch, p}).N
	}
	return n
}

// lacked is how many of a batch the counts that stand over some sales found missing: over those that are open, and over all.
func (x *shelfStock) lacked(batch string, places []string, open, all []untold) (ofOpen, ofAll int64) {
	for _, p := range places {
		events := x.events.get(at{batch, p})
		for i, c := range events {
			over := func(u untold) bool { return countedAfter(events[i:i+1], u.event) }
			if !c.Count || !slices.ContainsFunc(all, over) {
				continue
			}
			then := slices.DeleteFunc(slices.Clone(events), func(o calc.StockEvent) bool {
				return o.Count && o != c && !countedAfter(events[i:i+1], o)
			})
			h := calc.OnHand(then)
			if len(h) != 1 {
				continue
			}
			n := max(-h[0].Difference, 0)
			ofAll += n
			if slices.ContainsFunc(open, over) {
				ofOpen += n
			}
		}
	}
	return ofOpen, ofAll
}

// workedOut is what follows from a product's untold sales, kept until something of that product changes: a table of thirty
// products asks for all of them at every tap, and a trace for every batch.
type workedOut struct {
	spans  map[string]spanned // by places
	around map[string]pooled  // by place
}

type spanned struct {
	lost []lost
	sold int64
}

// pooled is a place with all that are linked to it, and what each batch of a product lost there.
type pooled struct {
	pool []string
	by   map[string]lost
}

func (x *shelfStock) workedOut(product string) *workedOut {
	w := x.bounds[product]
	switch {
	case w != nil:
	case x.lower != nil:
		w = x.lower.workedOut(product)
	default:
		w = x.workAgain(product)
	}
	return w
}

func (x *shelfStock) workAgain(product string) *workedOut {
	w := &workedOut{map[string]spanned{}, map[string]pooled{}}
	x.bounds[product] = w
	return w
}

func (x *shelfStock) lostAround(place, product string) pooled {
	w := x.workedOut(product)
	if p, known := w.around[place]; known {
		return p
	}
	p := pooled{x.pool([]string{place}, product), map[string]lost{}}
	in, _ := x.spans(p.pool, product)
	for _, l := range in {
		p.by[l.batch] = l
	}
	w.around[place] = p
	return p
}

// soldUntold is between how many of a batch the sales that named none can have taken, and how many counts have shown.
func (x *shelfStock) soldUntold(batch string) (from, to, took int64) {
	m := x.s.minted.get(batch)
	if m == nil || len(x.untold[m.body.Product]) == 0 {
		return 0, 0, 0
	}
	var seen []string
	for _, k := range x.of.get(batch) {
		if slices.Contains(seen, k.place) {
			continue
		}
		around := x.lostAround(k.place, m.body.Product)
		seen = append(seen, around.pool...)
		p := around.by[batch]
		from, to, took = from+p.from, to+p.to, took+p.took
	}
	return from, to, took
}

// soldSays says between how many of a batch are sold, "" when it is known.
func (x *shelfStock) soldSays(batch string) string {
	lo, hi, took := x.soldUntold(batch)
	if hi == lo {
		return ""
	}
	told := x.hand.get(at{batch, "sold"}).N + took
	return "between " + number(told+lo) + " and " + number(told+hi) + " of " + x.s.minted.get(batch).body.Code + " are sold"
}
