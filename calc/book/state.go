package book

import (
	"slices"
	"strings"

	"stillroom/calc"
	"stillroom/sync"
)

// State is what a sequence of entries adds up to. A State is not safe for use by several goroutines at once.
type State struct {
	given    calc.Known
	heads    table[headKey, head, *head]
	named    table[string, named, *named]
	chosen   table[string, chosen, *chosen]
	formulas table[string, formula, *formula]
	// Challenge tests of a laboratory, by the entry that typed them in.
	challenges table[Ref, challenge, *challenge]
	lots       table[string, lot, *lot]
	// What the maker says of ingredients above the given list, and what products are filled into.
	ingredients table[string, defined, *defined]
	containers  table[string, container, *container]
	uses        table[lotIn, use, *use]
	batches     table[string, batch, *batch]
	pictures    table[string, pictures, *pictures]
	strays      table[string, strays, *strays]
	rowAt       table[Ref, text, *text]
	letters     table[sync.DeviceID, text, *text]
	minted      table[string, minted, *minted]
	jarKeys     table[string, text, *text]
	cards       table[string, card, *card]
	bars        table[string, bar, *bar]
	places      table[string, place, *place]
	moves       table[Ref, move, *move]
	prices      table[string, priced, *priced]
	// inventors are the devices that wrote an invented workshop, gone those of them that were removed, both by stream.
	inventors table[streamDevice, gone, *gone]
	gone      table[streamDevice, gone, *gone]
	goneKeys  table[string, text, *text]
	// lives are where in the shelf's log a restored store began anew, by its epoch.
	lives   table[sync.Epoch, gone, *gone]
	held    table[streamRef, waiting, *waiting]
	clashes table[streamRef, Clash, *Clash]
	unknown table[kindV, count, *count]
	// The sum of the shelf, kept between two changes of it: rows in added only add to it, restock asks for a new one.
	base    *State
	summed  *shelfStock
	added   []Ref
	restock bool
	// unindexed is a restored book of which rowAt does not tell the rows yet: ask rowIn.
	unindexed bool
}

// New is the book before its first entry.
func New() *State { return &State{given: calc.Given()} }

// Overlay is a book on top of this one: entries applied to it are seen through it alone. While an overlay is in use
// its base must not be changed: when the store moves, drop the overlay, apply to the base and lay a new one.
func (s *State) Overlay() *State {
	return &State{
		base:        s,
		given:       s.given,
		heads:       s.heads.overlay(),
		named:       s.named.overlay(),
		chosen:      s.chosen.overlay(),
		formulas:    s.formulas.overlay(),
		challenges:  s.challenges.overlay(),
		lots:        s.lots.overlay(),
		ingredients: s.ingredients.overlay(),
		containers:  s.containers.overlay(),
		uses:        s.uses.overlay(),
		batches:     s.batches.overlay(),
		pictures:    s.pictures.overlay(),
		strays:      s.strays.overlay(),
		rowAt:       s.rowAt.overlay(),
		letters:     s.letters.overlay(),
		minted:      s.minted.overlay(),
		jarKeys:     s.jarKeys.overlay(),
		cards:       s.cards.overlay(),
		bars:        s.bars.overlay(),
		places:      s.places.overlay(),
		moves:       s.moves.overlay(),
		prices:      s.prices.overlay(),
		inventors:   s.inventors.overlay(),
		gone:        s.gone.overlay(),
		goneKeys:    s.goneKeys.overlay(),
		lives:       s.lives.overlay(),
		held:        s.held.overlay(),
		clashes:     s.clashes.overlay(),
		unknown:     s.unknown.overlay(),
	}
}

// Head is the highest number of a device's entries that was folded in a stream, its pending ones included.
func (s *State) Head(stream string, dev sync.DeviceID) uint64 {
	if h := s.heads.get(headKey{stream, dev}); h != nil {
		return h.seq
	}
	return 0
}

// where says whether an entry is in the book at home or on this phone alone.
func (s *State) where(stream string, r Ref) string {
	if h := s.heads.get(headKey{stream, r.Device}); h != nil && r.Seq <= h.booked {
		return "book"
	}
	return "phone"
}

// UpdateNeeded is how many entries are of a kind or version that this program does not know. They are kept and
// passed on, and apply after an update.
func (s *State) UpdateNeeded() int {
	n := 0
	s.unknown.each(func(_ kindV, c *count) bool { n += c.n; return true })
	return n
}

// unread tells whether entries of one of these kinds wait for an update.
func (s *State) unread(kinds ...uint32) bool {
	found := false
	s.unknown.each(func(k kindV, _ *count) bool { found = found || slices.Contains(kinds, k.kind); return true })
	return found
}

// Clashes lists the entries that fit nowhere: kept, shown, not applied. Clashes inside a batch stand in its rows.
func (s *State) Clashes() []Clash {
	out := []Clash{}
	s.clashes.each(func(_ streamRef, c *Clash) bool { out = append(out, *c); return true })
	slices.SortStableFunc(out, func(a, b Clash) int { return strings.Compare(b.Stream, a.Stream) })
	return out
}

// Waiting is how many entries are held until the owner accepts them.
func (s *State) Waiting() int {
	n := 0
	s.held.each(func(_ streamRef, w *waiting) bool {
		if !w.done {
			n++
		}
		return true
	})
	return n
}
