package book

import (
	"slices"

	"stillroom/calc"
)

// at is jars of a batch at a place.
type at struct{ batch, place string }

// untold is a sale that names a product and no batch.
type untold struct {
	place, product string
	event          calc.StockEvent
}

// shelfStock is where every jar stands, worked out from the whole shelf: calc's rule for counts gives the same answer
// in every order in which the entries of one log come.
type shelfStock struct {
	s      *State
	events map[at][]calc.StockEvent
	order  []at
	hand   map[at]calc.StockHand
	jarAt  map[string]string // place of a jar whose code was read
	clash  map[Ref]string
	untold []untold
}

// outOfHand tells whether a jar at a place is out of the maker's hands.
func outOfHand(place string) bool { return place == "sold" || place == "given" || place == "discarded" }

func (s *State) shelfStock() *shelfStock {
	x := &shelfStock{s: s, events: map[at][]calc.StockEvent{}, hand: map[at]calc.StockHand{}, jarAt: map[string]string{}, clash: map[Ref]string{}}
	s.minted.each(func(k string, m *minted) bool {
		n := int64(0)
		for _, r := range m.body.Keys {
			n += r.Count
		}
		x.add(m.from, k, m.body.Place, n, false)
		return true
	})
	s.moves.each(func(ref Ref, m *move) bool {
		switch {
		case m.clash != "":
			x.clash[ref] = m.clash
		case !m.struck:
			if body, err := open(m.kind, m.v, m.body); err == nil {
				if says := x.take(s.rootOf(m), body); says != "" {
					x.clash[ref] = says
				}
			}
		}
		return true
	})
	x.tellWhatCanBe()
	for _, k := range x.order {
		if h := calc.OnHand(x.events[k]); len(h) == 1 {
			x.hand[k] = h[0]
		}
	}
	return x
}

// rootOf is where the row that a correction replaces stands: a slip that is put right later still happened then.
func (s *State) rootOf(m *move) origin {
	for m.of.Seq != 0 {
		o := s.moves.get(m.of)
		if o == nil {
			break
		}
		m = o
	}
	return m.from
}

func eventOf(o origin) calc.StockEvent {
	return calc.StockEvent{Stream: o.ref.Device.String(), Seq: o.ref.Seq, Log: o.log, SeenLog: o.seen, At: o.time}
}

// add keeps an event. Each place is summed alone, so that the two ends of a movement may bear one name.
func (x *shelfStock) add(o origin, batch, place string, n int64, count bool) {
	e := eventOf(o)
	e.Lot, e.Place, e.N, e.Count = batch, place, n, count
	k := at{batch, place}
	if x.events[k] == nil {
		x.order = append(x.order, k)
	}
	x.events[k] = append(x.events[k], e)
}

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
			e := eventOf(o)
			e.N = b.Count
			x.untold = append(x.untold, untold{b.Place, b.Product, e})
			return ""
		}
		if says := x.unknownBatch(b.Batch); says != "" {
			return says
		}
		x.add(o, b.Batch, b.Place, -b.Count, false)
		x.add(o, b.Batch, to, b.Count, false)
		if b.Jar != "" {
			x.jarAt[b.Jar] = to
		}
	}
	return ""
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

// tellWhatCanBe gives a sale that names no batch to the only batch of its product that ever stood at its place.
func (x *shelfStock) tellWhatCanBe() {
	var left []untold
	for _, u := range x.untold {
		if in := x.candidates(u.place, u.product); len(in) == 1 {
			for _, side := range []struct {
				place string
				n     int64
			}{{u.place, -u.event.N}, {"sold", u.event.N}} {
				e := u.event
				e.Lot, e.Place, e.N = in[0], side.place, side.n
				k := at{in[0], side.place}
				if x.events[k] == nil {
					x.order = append(x.order, k)
				}
				x.events[k] = append(x.events[k], e)
			}
			continue
		}
		left = append(left, u)
	}
	x.untold = left
}

// candidates are the batches of a product that ever stood at a place.
func (x *shelfStock) candidates(place, product string) []string {
	var out []string
	for _, k := range x.order {
		if m := x.s.minted.get(k.batch); k.place == place && m != nil && m.body.Product == product && !slices.Contains(out, k.batch) {
			out = append(out, k.batch)
		}
	}
	return out
}

// settled tells whether a count of a batch stands over a sale that named none: then the count holds what it took.
func (x *shelfStock) settled(u untold, batch string) bool {
	for _, c := range x.events[at{batch, u.place}] {
		e := u.event
		saw := c.Stream == e.Stream && e.Seq < c.Seq || e.Log > 0 && e.Log <= c.SeenLog
		seen := c.Stream == e.Stream && c.Seq < e.Seq || c.Log > 0 && c.Log <= e.SeenLog
		if c.Count && (saw || !seen && (c.At > e.At || c.At == e.At && c.Stream > e.Stream)) {
			return true
		}
	}
	return false
}

// lost is between how many jars of a batch the sales that named none can have taken at a place.
type lost struct {
	batch    string
	n        int64 // there before those sales
	from, to int64
}

// spans bounds what each batch of a product lost to sales that named none; sold is how many those were. A batch that
// was counted since is known, and what it lacked is taken from them: never a guess beyond that.
func (x *shelfStock) spans(place, product string) (out []lost, sold int64) {
	in := x.candidates(place, product)
	counted := map[string]bool{}
	for _, u := range x.untold {
		if u.place != place || u.product != product {
			continue
		}
		open := false
		for _, b := range in {
			if x.settled(u, b) {
				counted[b] = true
			} else {
				open = true
			}
		}
		if open || len(in) == 0 {
			sold += u.event.N
		}
	}
	room := int64(0)
	for _, b := range in {
		h := x.hand[at{b, place}]
		if counted[b] {
			sold -= min(max(-h.Difference, 0), sold)
		} else {
			room += max(h.N, 0)
		}
	}
	for _, b := range in {
		h := lost{batch: b, n: x.hand[at{b, place}].N}
		if !counted[b] {
			h.to = min(sold, max(h.n, 0))
			h.from = min(max(0, sold-(room-max(h.n, 0))), h.to)
		}
		out = append(out, h)
	}
	return out, sold
}

// placesOf are how many jars of some batches stand where, as the book has it.
func (x *shelfStock) placesOf(batches ...string) []PlaceCount {
	out := []PlaceCount{}
	for _, k := range x.order {
		n := int(x.hand[k].N)
		if n == 0 || !slices.Contains(batches, k.batch) {
			continue
		}
		name := x.s.placeName(k.place)
		i := slices.IndexFunc(out, func(p PlaceCount) bool { return p.Place == name })
		if i < 0 {
			out = append(out, PlaceCount{Place: name})
			i = len(out) - 1
		}
		out[i].Count += n
	}
	return out
}

// placeOfJar is where a jar stands. When only numbers of jars were moved, several places remain and all are named.
func (x *shelfStock) placeOfJar(batch, code string) string {
	if p := x.jarAt[code]; p != "" {
		return x.s.placeName(p)
	}
	return x.restOf(batch)
}

// restOf names where the jars of a batch stand whose codes were never read.
func (x *shelfStock) restOf(batch string) string {
	m := x.s.minted.get(batch)
	own := map[string]int64{}
	for _, c := range m.codes() {
		if p := x.jarAt[c]; p != "" {
			own[p]++
		}
	}
	var names []string
	for _, k := range x.order {
		if k.batch == batch && x.hand[k].N-own[k.place] > 0 {
			names = append(names, x.s.placeName(k.place))
		}
	}
	if len(names) == 0 {
		return x.s.placeName(m.body.Place)
	}
	return names[0] + orNames(names[1:])
}

func orNames(names []string) string {
	out := ""
	for _, n := range names {
		out += " or " + n
	}
	return out
}

// soldSays says between how many of a batch are sold, "" when it is known.
func (x *shelfStock) soldSays(batch string) string {
	m := x.s.minted.get(batch)
	if m == nil {
		return ""
	}
	lo, hi, told := int64(0), int64(0), x.hand[at{batch, "sold"}].N
	for _, k := range x.order {
		if k.batch != batch {
			continue
		}
		in, _ := x.spans(k.place, m.body.Product)
		for _, p := range in {
			if p.batch == batch {
				lo, hi = lo+p.from, hi+p.to
			}
		}
	}
	if hi == lo {
		return ""
	}
	return "between " + number(told+lo) + " and " + number(told+hi) + " of " + m.body.Code + " are sold"
}
