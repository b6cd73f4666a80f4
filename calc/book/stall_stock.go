package book

import (
	"maps"
	"slices"

	"stillroom/calc"
	"stillroom/sync"
)

// at is jars of a batch at a place.
type at struct{ batch, place string }

// shelved is a product at a place.
type shelved struct{ place, product string }

// untold is a sale that names a product and no batch, and the places that its jar may have stood at.
type untold struct {
	product string
	places  []string
	event   calc.StockEvent
}

// shelfStock is where every jar stands, worked out from the whole shelf: calc's rule for counts gives the same answer
// in every order in which the entries of one log come.
type shelfStock struct {
	s       *State
	events  lists[at, calc.StockEvent]
	hand    layered[at, calc.StockHand]
	of      lists[string, at]      // where a batch ever stood, in the order of the fold
	on      lists[shelved, string] // batches of a product that ever stood at a place
	order   []at
	jarAt   layered[string, string] // place of a jar whose code was read
	brought layered[at, int64]      // ever brought there by movements that count
	clash   layered[Ref, string]
	asked   []untold                 // all sales that name no batch
	untold  map[string][]untold      // by product, those that more than one batch may have been
	told    map[at][]calc.StockEvent // the others, with the batch that they can only have been
	only    map[string][]at          // by batch, where those alone brought it
	onlyIn  []at                     // the same, in order
	changed map[at]bool              // to be summed again
	whole   bool                     // all are to be summed: then changed does not tell them
	who     deviceID                 // whose name was written out last
	name    string
	bounds  map[string]*workedOut // by product
	lower   *shelfStock           // the sum under this one: it has the bounds of products that nothing here touched
	epochs  map[sync.Epoch]uint64 // where in the log entries of a writer that had seen this epoch begin
}

// outOfHand tells whether a jar at a place is out of the maker's hands.
func outOfHand(place string) bool { return place == "sold" || place == "given" || place == "discarded" }

// shelfStock sums the shelf once for each state of it. An overlay that says nothing of the shelf shares its base's sum,
// and rows that only add go on from the sum before them.
func (s *State) shelfStock() *shelfStock {
	if s.summed == nil && s.base != nil && !s.restock {
		base := s.base.shelfStock()
		if len(s.added) == 0 {
			shared := *base
			shared.s = s
			return &shared
		}
		s.summed = base.above(s)
	}
	if s.summed == nil || s.restock || !s.summed.goOn(s.added) {
		s.summed = s.sumShelf()
	}
	s.added, s.restock = nil, false
	return s.summed
}

// shelfAdds keeps a row of the shelf for the next sum; shelfChanges asks for a whole new one.
func (s *State) shelfAdds(ref Ref) { s.added = append(s.added, ref) }
func (s *State) shelfChanges()     { s.restock, s.added = true, nil }

func newStock(s *State) *shelfStock {
	return &shelfStock{s: s, told: map[at][]calc.StockEvent{}, changed: map[at]bool{}, bounds: map[string]*workedOut{}, epochs: map[sync.Epoch]uint64{}}
}

// above is a sum of its own for an overlay, so that what the overlay adds leaves its base as it was.
func (x *shelfStock) above(s *State) *shelfStock {
	y := *x
	y.s = s
	y.events, y.of, y.on = x.events.above(), x.of.above(), x.on.above()
	y.hand, y.jarAt = layered[at, calc.StockHand]{under: &x.hand}, layered[string, string]{under: &x.jarAt}
	y.brought, y.clash = layered[at, int64]{under: &x.brought}, layered[Ref, string]{under: &x.clash}
	y.order, y.asked, y.changed = slices.Clip(x.order), slices.Clip(x.asked), map[at]bool{}
	y.bounds, y.lower, y.epochs = map[string]*workedOut{}, x, maps.Clone(x.epochs)
	return &y
}

func (s *State) sumShelf() *shelfStock {
	x := newStock(s)
	x.whole = true
	s.lives.each(func(_ sync.Epoch, v *gone) bool { x.dates(v.from); return true })
	s.minted.each(func(_ string, m *minted) bool { x.dates(m.from); return true })
	s.moves.each(func(_ Ref, m *move) bool { x.dates(m.from); return true })
	s.minted.each(func(k string, m *minted) bool {
		n := int64(0)
		for _, r := range m.body.Keys {
			n += r.Count
		}
		x.add(m.from, k, m.body.Place, n, false)
		return true
	})
	s.moves.each(func(ref Ref, m *move) bool { x.row(ref, m); return true })
	x.sum()
	return x
}

// goOn adds rows that came since; false when one of them asks for a whole new sum.
func (x *shelfStock) goOn(added []Ref) bool {
	for _, ref := range added {
		m := x.s.moves.get(ref)
		if m == nil || x.dates(m.from) {
			return false
		}
	}
	for _, ref := range added {
		x.row(ref, x.s.moves.get(ref))
	}
	if len(added) > 0 {
		x.sum()
	}
	return true
}

func (x *shelfStock) row(ref Ref, m *move) {
	switch {
	case m.clash != "":
		x.clash.put(ref, m.clash)
	case !m.struck:
		if body, err := open(m.kind, m.v, m.body); err == nil {
			if says := x.take(x.s.rootOf(m), body); says != "" {
				x.clash.put(ref, says)
			}
		}
	}
}

// sum works out what is on hand where something changed.
func (x *shelfStock) sum() {
	before := x.told
	x.tellWhatCanBe()
	for k, told := range x.told {
		if !slices.Equal(told, before[k]) {
			x.changed[k] = true
		}
	}
	for k := range before {
		if len(x.told[k]) == 0 {
			x.changed[k] = true
		}
	}
	if x.whole {
		for _, k := range x.order {
			x.changed[k] = true
		}
		x.whole = false
	}
	for k := range x.changed {
		if m := x.s.minted.get(k.batch); m != nil {
			x.workAgain(m.body.Product)
		}
		events := x.events.get(k)
		if more := x.told[k]; len(more) > 0 {
			events = append(slices.Clip(events), more...)
		}
		if h := calc.OnHand(events); len(h) == 1 {
			x.hand.put(k, h[0])
		} else {
			x.hand.put(k, calc.StockHand{})
		}
	}
	x.changed = map[at]bool{}
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

// dates notes where in the log an epoch is first heard of, and tells whether that is news about entries summed before.
func (x *shelfStock) dates(o origin) bool {
	if o.log == 0 || o.epoch.IsZero() {
		return false
	}
	if first, known := x.epochs[o.epoch]; known && first <= o.log {
		return false
	}
	x.epochs[o.epoch] = o.log
	return true
}

// sawOf is how far a writer had read the log as it stands now. After a restore the store numbers anew: numbers of an
// earlier epoch mean the same entries only up to where a later epoch is first heard of. Beyond it nothing is claimed to
// be seen, and corrected time decides.
func (x *shelfStock) sawOf(o origin) uint64 {
	if len(x.epochs) < 2 {
		return o.seen // there is no later one
	}
	own, known := x.epochs[o.epoch]
	if !known {
		return o.seen
	}
	saw := o.seen
	for _, first := range x.epochs {
		if first > own {
			saw = min(saw, first-1)
		}
	}
	return saw
}

func (x *shelfStock) eventOf(o origin) calc.StockEvent {
	if x.name == "" || x.who != o.ref.Device {
		x.who, x.name = o.ref.Device, o.ref.Device.String()
	}
	return calc.StockEvent{Stream: x.name, Seq: o.ref.Seq, Log: o.log, SeenLog: x.sawOf(o), At: o.time}
}

// add keeps an event. Each place is summed alone, so that the two ends of a movement may bear one name.
func (x *shelfStock) add(o origin, batch, place string, n int64, count bool) {
	e := x.eventOf(o)
	e.Lot, e.Place, e.N, e.Count = batch, place, n, count
	k := at{batch, place}
	if x.events.grow(k, e) {
		x.stands(k)
	}
	if !x.whole {
		x.changed[k] = true
	}
}

// stands remembers that jars of a batch once stood at a place.
func (x *shelfStock) stands(k at) {
	x.order = append(x.order, k)
	x.of.grow(k.batch, k)
	if m := x.s.minted.get(k.batch); m != nil {
		x.on.grow(shelved{k.place, m.body.Product}, k.batch)
	}
}

// all are the places of all batches, those of one batch when it is named.
func (x *shelfStock) all(batch string) []at {
	if batch == "" {
		return append(slices.Clip(x.order), x.onlyIn...)
	}
	return append(slices.Clip(x.of.get(batch)), x.only[batch]...)
}
