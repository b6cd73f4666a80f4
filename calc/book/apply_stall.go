package book

import "stillroom/sync"

// applyAfterFilling puts a look or a reading of the retained sample into its batch.
func (s *State) applyAfterFilling(r row, batch string) {
	clash := ""
	if n := s.batches.get(batch); n != nil && n.fill.Seq == 0 {
		clash = "the batch is not filled yet"
	}
	s.applyRow(r, batch, clash)
}

// correctShelf strikes a sale, a movement or a count and puts the new row behind it. A price is never corrected: it is
// set anew, which a stall may not.
func (s *State) correctShelf(r row, c *Corrected) {
	now := row{from: r.from, kind: uint32(c.Kind), v: uint32(c.V), body: c.Body, of: c.Of, reason: c.Reason}
	old := s.moves.get(c.Of)
	switch {
	case old == nil:
		s.clash(Shelf, r.from, r.kind, "it corrects an entry that is not a sale, a movement or a count in this book")
		return
	case old.clash != "":
		now.clash = "the row that it corrects did not apply either"
	case old.struck:
		now.clash = "the row was already corrected"
	case now.kind != old.kind:
		now.clash = "it would make another kind of row of it"
	default:
		if _, err := open(now.kind, now.v, now.body); err != nil {
			now.clash = "it cannot be read: " + err.Error()
		}
	}
	*s.moves.edit(r.from.ref) = move{row: now}
	if now.clash == "" {
		o := s.moves.edit(c.Of)
		o.struck, o.reason, o.now = true, c.Reason, r.from.ref
	}
}

const removedDemo = "from the demo, removed"

// applyDemoRemoved takes out of a stream what a device of the invented workshop wrote. Only a device that said so in
// the first entry of this very stream can be taken out: what a maker wrote is never deleted.
func (s *State) applyDemoRemoved(stream string, r row, b *DemoRemoved) {
	dev, err := sync.ParseDeviceID(b.Device)
	if err != nil || dev == r.from.ref.Device {
		s.clash(stream, r.from, r.kind, "it removes a demo and names no other device")
		return
	}
	if s.inventors.get(streamDevice{stream, dev}) == nil {
		s.clash(stream, r.from, r.kind, "it removes a demo, and that device wrote none")
		return
	}
	s.gone.edit(streamDevice{stream, dev}).from = r.from
	s.forget(stream, dev)
}

// forget drops the rows of a device. A row of another device in a batch that goes is kept as a clash.
func (s *State) forget(stream string, dev sync.DeviceID) {
	if stream == Shelf {
		// Jars that a maker's device filled of an invented batch are the demo's too: they bear its mark.
		dropBy(&s.minted, func(k string, v *minted) bool {
			if v.body.Demo {
				s.goneKeys.edit(k).s = removedDemo
			}
			return v.body.Demo || s.leaves(k, v.from, dev)
		})
		dropBy(&s.jarKeys, func(_ string, v *text) bool { return s.minted.get(v.s) == nil })
		dropBy(&s.cards, func(k string, v *card) bool { return v.from.ref.Device == dev || s.goneKeys.get(k) != nil })
		dropBy(&s.bars, func(k string, v *bar) bool { return v.from.ref.Device == dev || s.goneKeys.get(k) != nil })
		dropBy(&s.places, func(_ string, v *place) bool { return v.from.ref.Device == dev })
		dropBy(&s.prices, func(_ string, v *priced) bool { return v.from.ref.Device == dev })
		dropBy(&s.moves, func(_ Ref, v *move) bool { return v.from.ref.Device == dev })
	} else {
		dropBy(&s.named, func(_ string, v *named) bool { return v.from.ref.Device == dev })
		dropBy(&s.chosen, func(_ string, v *chosen) bool { return v.from.ref.Device == dev })
		dropBy(&s.challenges, func(_ Ref, v *challenge) bool { return v.from.ref.Device == dev })
		dropBy(&s.lots, func(k string, v *lot) bool { return s.leaves(k, v.from, dev) })
		dropBy(&s.ingredients, func(k string, v *defined) bool { return s.leaves(k, v.from, dev) })
		dropBy(&s.containers, func(k string, v *container) bool { return s.leaves(k, v.from, dev) })
		dropBy(&s.strays, func(_ string, v *strays) bool { return len(v.rows) > 0 && v.rows[0].from.ref.Device == dev })
		dropBy(&s.letters, func(k sync.DeviceID, _ *text) bool { return k == dev })
		s.forgetFormulas(dev)
		s.forgetBatches(dev)
	}
	dropBy(&s.held, func(k streamRef, _ *waiting) bool { return k.stream == stream && k.ref.Device == dev })
	dropBy(&s.clashes, func(k streamRef, _ *Clash) bool { return k.stream == stream && k.ref.Device == dev })
}

func (s *State) leaves(key string, from origin, dev sync.DeviceID) bool {
	if from.ref.Device == dev {
		s.goneKeys.edit(key).s = removedDemo
	}
	return from.ref.Device == dev
}

// forgetFormulas drops the revisions of a device; a formula that the maker revised keeps the maker's revisions.
func (s *State) forgetFormulas(dev sync.DeviceID) {
	dropBy(&s.formulas, func(k string, f *formula) bool {
		for _, r := range f.revs {
			if r.from.ref.Device != dev {
				return false
			}
		}
		return s.leaves(k, f.revs[0].from, dev)
	})
	s.formulas.each(func(k string, f *formula) bool {
		for _, r := range f.revs {
			if r.from.ref.Device == dev {
				kept := []revision{}
				for _, x := range f.revs {
					if x.from.ref.Device != dev {
						kept = append(kept, x)
					}
				}
				s.formulas.edit(k).revs = kept
				break
			}
		}
		return true
	})
}

func (s *State) forgetBatches(dev sync.DeviceID) {
	dropBy(&s.batches, func(k string, b *batch) bool {
		if !s.leaves(k, b.from, dev) {
			return false
		}
		for _, r := range b.rows {
			if r.from.ref.Device != dev {
				s.clash(Workshop, r.from, r.kind, removedDemo)
			}
			s.rowAt.drop(r.from.ref)
		}
		return true
	})
}

// dropBy drops what f says. It gathers first: a table is not changed while it is walked.
func dropBy[K comparable, V any, P value[V]](t *table[K, V, P], f func(K, *V) bool) {
	var out []K
	t.each(func(k K, v *V) bool {
		if f(k, v) {
			out = append(out, k)
		}
		return true
	})
	for _, k := range out {
		t.drop(k)
	}
}
