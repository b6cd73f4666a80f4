package book

import "stillroom/sync"

// What may be done with jars of the invented workshop: they are moved about at home and counted, since trying that is what
// the demo is for. They never come before buyers and are never sold or given away, and nothing shows or exports them as a
// maker's own.

const notForSale = "invented: not for sale"

// invents tells whether a device wrote an invented workshop, by what either stream says of it.
func (s *State) invents(dev deviceID) bool {
	return s.inventors.get(streamDevice{Workshop, dev}) != nil || s.inventors.get(streamDevice{Shelf, dev}) != nil
}

// marksDemo remembers the device of an invented workshop. Only the very first entry of a device in a stream can say so,
// and no command of a maker writes that mark: what a maker wrote can therefore never be taken for the demo's and removed.
func (s *State) marksDemo(stream string, from origin, says bool) {
	if says && from.ref.Seq == 1 {
		s.inventors.edit(streamDevice{stream, from.ref.Device}).from = from
	}
}

// demoLeft tells whether an invented workshop was removed from the shelf.
func (s *State) demoLeft() bool {
	left := false
	s.gone.each(func(k streamDevice, _ *gone) bool { left = k.stream == Shelf; return !left })
	return left
}

// inventedBatch tells whether a batch is the demo's, whoever weighed or filled it.
func (s *State) inventedBatch(key string) bool {
	if b := s.batches.get(key); b != nil && s.invents(b.from.ref.Device) {
		return true
	}
	m := s.minted.get(key)
	return m != nil && (m.body.Demo || s.invents(m.from.ref.Device))
}

// noDemo refuses to bring jars of the invented workshop among people. The demo itself may play that it does.
func (s *State) noDemo(ctx Context, m *minted) *Refusal {
	if s.invents(ctx.Device) || !s.inventedBatch(m.body.Batch) {
		return nil
	}
	return refuse("demo", "batch", "batch "+m.body.Code+" is of the invented workshop, so its jars are never sold, given away or taken to buyers", "remove the demo, or take what you made")
}

// unsold refuses to sell jars of a batch. Decide and all that shows whether jars may be sold ask it alone; says is its
// short form for a tile.
func (s *State) unsold(ctx Context, m *minted) (says string, no *Refusal) {
	code := m.body.Code
	if no := s.noDemo(ctx, m); no != nil {
		return notForSale, no
	}
	switch state, why := s.shelfState(m.body.Batch); state {
	case Released:
		if b := s.bars.get(m.body.Batch); m.body.Purpose == "trial" && !b.body.ForSale {
			return "batch " + code + " is a trial: not for sale", refuse("trial", "batch", "batch "+code+" is a trial, and a trial is not for sale by being released", "release it for sale on purpose, with the reason why it may be sold, or give it away")
		}
		return "", nil
	case Held, Discarded:
		return "batch " + code + " on hold: do not sell", refuse("barred", "batch", "batch "+code+" must not be sold: "+why, "take it off the table")
	default:
		return "batch " + code + " is not released: do not sell", refuse("barred", "batch", "batch "+code+" must not be sold: "+why, "take it off the table")
	}
}

// mayGo refuses to bring before buyers what may not be sold. Given away, what still rests may be: to who tries it.
func (s *State) mayGo(ctx Context, m *minted, to string) *Refusal {
	given, out := to == "given", to == "sold" || s.selling(to)
	if !given && !out {
		return nil
	}
	if no := s.noDemo(ctx, m); no != nil {
		return no
	}
	state, _ := s.shelfState(m.body.Batch)
	if given && (state == Released || state == Resting) {
		return nil
	}
	if state != Released {
		return refuse("not released", "batch", "batch "+m.body.Code+" is "+state+", so it may not go to "+s.placeName(to), "look at it and release it by name first")
	}
	_, no := s.unsold(ctx, m)
	return no
}

// Invented tells whether an entry of this book belongs to the demo's invented workshop: its own device wrote it, or it
// speaks of an invented batch. It does so after the demo was removed as well.
func (s *State) Invented(stream string, dev sync.DeviceID, e sync.Entry) bool {
	if s.inventors.get(streamDevice{stream, dev}) != nil {
		return true
	}
	b, err := open(e.Kind, e.V, e.Body)
	if c, ok := b.(*Corrected); ok && err == nil {
		b, err = open(uint32(c.Kind), uint32(c.V), c.Body)
	}
	if err != nil {
		return false
	}
	key := batchOf(b)
	if key == "" {
		key = shelfBatchOf(b)
	}
	return key != "" && (s.inventedBatch(key) || s.goneKeys.get(key) != nil)
}

// shelfBatchOf is the batch that a body of the shelf speaks of, "" when it speaks of none.
func shelfBatchOf(body visitable) string {
	switch b := body.(type) {
	case *JarsMinted:
		return b.Batch
	case *JarMoved:
		return b.Batch
	case *JarCounted:
		return b.Batch
	case *Sold:
		return b.Batch
	case *CardPublished:
		return b.Batch
	case *BatchBarred:
		return b.Batch
	}
	return ""
}
