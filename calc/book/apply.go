package book

import "stillroom/sync"

// Apply folds one entry. It is total: it never fails and never drops anything. What does not fit what came before is
// kept as a clash, an unknown kind or version is counted, an entry that was applied already changes nothing except
// that it is now in the book. env is nil for an own entry that the store has not acknowledged yet.
//
// An own pending entry that comes back held was shown as applied; only laying the overlay again takes it back.
// The bytes of e.Body are kept, not copied.
func (s *State) Apply(stream string, dev sync.DeviceID, env *sync.Envelope, e sync.Entry) {
	k := headKey{stream, dev}
	if old := s.heads.get(k); old != nil && e.Seq <= old.seq {
		if env != nil && e.Seq > old.booked {
			s.heads.edit(k).booked = e.Seq
			if ref := (Ref{dev, e.Seq}); stream == Shelf && s.moves.get(ref) != nil {
				s.moves.edit(ref).from = originOf(dev, env, e)
				s.shelfChanges()
			}
		}
		return
	}
	h := s.heads.edit(k)
	// Entries of a device come dense; a hole is damage that the transport repairs, and is counted here, not guessed at.
	h.missing += e.Seq - h.seq - 1
	h.seq = e.Seq
	if env != nil {
		h.booked = e.Seq
	}
	if s.gone.get(streamDevice{stream, dev}) != nil {
		return // what is left of a removed demo changes nothing
	}
	from := originOf(dev, env, e)
	if env != nil && env.Held {
		w := s.held.edit(streamRef{stream, from.ref})
		w.entry, w.from = e, from
		return
	}
	s.fold(stream, from, e.Kind, e.V, e.Body)
}

// fold applies what an entry says.
func (s *State) fold(stream string, from origin, kind, v uint32, body []byte) {
	row0, known := KindOf(kind)
	if !known || blank(kind, v) == nil {
		s.unknown.edit(kindV{stream, kind, v}).n++
		return
	}
	if row0.Stream != stream {
		s.clash(stream, from, kind, "it was written to the wrong stream")
		return
	}
	b, err := open(kind, v, body)
	if err != nil {
		s.clash(stream, from, kind, "it cannot be read: "+err.Error())
		return
	}
	if c, ok := b.(*Corrected); ok && blank(uint32(c.Kind), uint32(c.V)) == nil {
		// What it puts in the place of the old is for a later program to read, so the old stands until the update.
		s.unknown.edit(kindV{stream, uint32(c.Kind), uint32(c.V)}).n++
		return
	}
	r := row{from: from, kind: kind, v: v, body: body}
	switch b := b.(type) {
	case *WorkshopNamed:
		*s.named.edit("") = named{from, *b}
		s.marksDemo(stream, from, b.Demo)
	case *WorkshopChosen:
		*s.chosen.edit("") = chosen{from, *b}
	case *IngredientDefined:
		s.applyIngredient(from, b)
	case *ContainerDefined:
		s.applyContainer(from, b)
	case *FormulaSaved:
		s.applyFormula(from, b, body)
	case *FormulaChallenged:
		s.applyChallenged(r, b)
	case *LotReceived:
		s.applyLot(from, b)
	case *LotHeld:
		s.applyLotHeld(from, b)
	case *BatchStarted:
		s.applyStarted(r, b)
	case *BatchWeighed:
		s.applyRow(r, b.Batch, s.weighedClash(b))
	case *BatchRead:
		s.applyRow(r, b.Batch, "")
	case *BatchTreated:
		s.applyRow(r, b.Batch, s.closedClash(b.Batch))
	case *BatchWore:
		s.applyRow(r, b.Batch, s.closedClash(b.Batch))
	case *BatchNoted:
		s.applyRow(r, b.Batch, "")
	case *PhotoKept:
		s.applyPhoto(r, b)
	case *BatchFilled:
		s.applyFilled(r, b)
	case *BatchLooked:
		s.applyAfterFilling(r, b.Batch)
	case *BatchAged:
		s.applyAfterFilling(r, b.Batch)
	case *BatchState:
		s.applyState(r, b)
	case *StoreBegan:
		s.lives.edit(from.epoch).from = from
		s.shelfChanges()
	case *DemoRemoved:
		s.shelfChanges()
		s.applyDemoRemoved(stream, r, b)
	case *JarMoved, *JarCounted, *Sold:
		*s.moves.edit(from.ref) = move{row: r}
		s.shelfAdds(from.ref)
	case *Priced:
		*s.prices.edit(b.Product) = priced{from, *b}
	case *Corrected:
		if stream == Shelf {
			s.shelfChanges()
		}
		s.applyCorrected(stream, r, b)
	case *Accepted:
		s.applyAccepted(stream, r, b)
	case *JarsMinted:
		s.shelfChanges()
		s.applyMinted(from, b)
	case *PlaceNamed:
		*s.places.edit(b.Key) = place{from, *b}
		s.marksDemo(stream, from, b.Demo)
	case *CardPublished:
		*s.cards.edit(b.Batch) = card{from, *b}
	case *BatchBarred:
		*s.bars.edit(b.Batch) = bar{from, *b}
	}
}

// clash keeps an entry that belongs to no batch record and does not fit.
func (s *State) clash(stream string, from origin, kind uint32, says string) {
	name := ""
	if k, ok := KindOf(kind); ok {
		name = k.Name
	}
	*s.clashes.edit(streamRef{stream, from.ref}) = Clash{stream, from.ref.String(), name, says}
}

func (s *State) applyAccepted(stream string, r row, b *Accepted) {
	k := streamRef{stream, b.Entry}
	w := s.held.get(k)
	if w == nil {
		s.clash(stream, r.from, r.kind, "it accepts an entry that is not held")
		return
	}
	if w.done {
		s.clash(stream, r.from, r.kind, "it accepts an entry that was accepted before")
		return
	}
	w = s.held.edit(k)
	w.done = true
	s.fold(stream, w.from, w.entry.Kind, w.entry.V, w.entry.Body)
}
