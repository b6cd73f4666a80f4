package book

func (s *State) applyFormula(from origin, b *FormulaSaved, body []byte) {
	f := s.formulas.edit(b.Key)
	f.revs = append(f.revs, revision{from, len(f.revs) + 1, b.Parent, b.Also, body})
}

func (s *State) applyLot(from origin, b *LotReceived) {
	if s.lots.get(b.Key) != nil {
		s.clash(Workshop, from, KindLotReceived, "another lot already has the key "+b.Key)
		return
	}
	*s.lots.edit(b.Key) = lot{from: from, body: *b}
}

func (s *State) applyLotHeld(from origin, b *LotHeld) {
	if s.lots.get(b.Lot) == nil {
		s.clash(Workshop, from, KindLotHeld, "its lot is not in this book")
		return
	}
	l := s.lots.edit(b.Lot)
	l.held, l.reason, l.heldBy, l.heldAt = b.Held, b.Reason, from.ref, from.time
}

// use is how much of a lot went into a batch, and by how many weighings.
func (s *State) use(lot, batch string) use {
	if u := s.uses.get(lotIn{lot, batch}); u != nil {
		return *u
	}
	return use{}
}

// stock adds a weighing to its lot (sign 1) or takes it back (sign -1).
func (s *State) stock(b *BatchWeighed, sign int) {
	if b.Lot == "" || s.lots.get(b.Lot) == nil {
		return
	}
	l := s.lots.edit(b.Lot)
	mass := int64(sign) * b.Mass
	l.used += mass
	k := lotIn{b.Lot, b.Batch}
	if s.uses.get(k) == nil {
		l.into = append(l.into, b.Batch)
	}
	u := s.uses.edit(k)
	u.mass += mass
	u.rows += sign
}

func (s *State) applyMinted(from origin, b *JarsMinted) {
	old := s.minted.get(b.Batch)
	if old != nil && old.now != b.Of {
		s.clash(Shelf, from, KindJarsMinted, "the jars of this batch were already named")
		return
	}
	if b.Demo && s.demoLeft() {
		s.goneKeys.edit(b.Batch).s = removedDemo
		s.clash(Shelf, from, KindJarsMinted, removedDemo)
		return
	}
	for _, k := range b.Keys {
		if o := s.jarKeys.get(k.Key); o != nil && o.s != b.Batch {
			s.clash(Shelf, from, KindJarsMinted, "the jar key "+k.Key+" belongs to another batch")
			return
		}
	}
	for _, k := range b.Keys {
		s.jarKeys.edit(k.Key).s = b.Batch
	}
	now := minted{from, from.ref, *b}
	if old != nil {
		// The jars came to be when the filling was first written: what was moved and counted since still follows it.
		now.from = old.from
	}
	*s.minted.edit(b.Batch) = now
}
