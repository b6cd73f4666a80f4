package book

// shelfHalf is what a filling writes to the shelf: the jars, and the card that anyone may read. It follows from the
// filling and the record alone, so that it can be written later as well as at once.
func (s *State) shelfHalf(m *making, f *BatchFilled) ([]Draft, *Refusal) {
	b := &m.b.body
	name := m.f.Name
	if b.Part != "" {
		name = b.Part
	}
	w := s.workshop()
	ingredients, cautions := m.cardSays(w.labelRegion(), f.Net)
	return several(
		kindBody{KindJarsMinted, &JarsMinted{Batch: b.Key, Code: b.Code, Product: name, Keys: f.Keys, Place: f.Place, Net: f.Net,
			Made: f.Day, Best: f.Best, Purpose: b.Purpose, Word: f.Word, Part: b.Part, Demo: s.inventedBatch(b.Key)}},
		kindBody{KindCardPublished, &CardPublished{Batch: b.Key, Code: b.Code, Product: name, Ingredients: ingredients, Made: f.Day,
			Best: f.Best, Net: f.Net, Cautions: cautions, Maker: w.Maker, Address: w.Address, Contact: w.Contact, AfterOpen: int64(m.f.PAOMonths)}},
	)
}

// signed is the workshop as it was last named.
func (s *State) signed() WorkshopNamed {
	if n := s.named.get(""); n != nil {
		return n.body
	}
	return WorkshopNamed{}
}

// workshop is the workshop as it was last named, with region and money by the answers in force.
func (s *State) workshop() WorkshopNamed {
	w, h := s.signed(), s.habits()
	w.Region, w.Money = h.Region, h.Money
	return w
}

// Missing is the shelf's half of what this device wrote to the workshop and was cut in the middle of: jars and card of
// a filling, and holds and releases that the shelf does not know of. The device that wrote the first half runs it at
// every start; when nothing is missing it answers nothing. An older program that cannot read all that the shelf was told
// writes nothing: the half that it misses may be there in words that it does not know.
func (s *State) Missing(ctx Context) []Draft {
	if s.unread(KindJarsMinted, KindCardPublished, KindBatchBarred) {
		return nil
	}
	var out []Draft
	s.batches.each(func(k string, b *batch) bool {
		if b.fill.Seq != 0 && b.fill.Device == ctx.Device && s.minted.get(k) == nil {
			m := s.making(k)
			if f := b.filling(); f != nil {
				if half, no := s.shelfHalf(m, f); no == nil {
					out = append(out, half...)
				}
			}
		}
		if b.fill.Device == ctx.Device && s.corrected(b) {
			if half, no := s.shelfDiffers(s.making(k)); no == nil {
				out = append(out, half...)
			}
		}
		want := s.barOf(b)
		have := BatchBarred{Batch: k}
		if x := s.bars.get(k); x != nil {
			have = x.body
		}
		if (want.Barred != have.Barred || want.State == Released && (have.State != Released || want.ForSale != have.ForSale)) && s.causedBy(ctx, b) {
			if d, no := draft(KindBatchBarred, want); no == nil {
				out = append(out, d)
			}
		}
		return true
	})
	return out
}

// corrected tells whether the filling of a batch stands in the place of another.
func (s *State) corrected(b *batch) bool {
	for i := range b.rows {
		if r := &b.rows[i]; r.from.ref == b.fill {
			return r.of.Seq != 0
		}
	}
	return false
}

// causedBy says whether this device wrote what a batch's standing comes from.
func (s *State) causedBy(ctx Context, b *batch) bool {
	if b.set.Device == ctx.Device && b.set.Seq != 0 {
		return true
	}
	caused := false
	s.lots.each(func(k string, l *lot) bool {
		if l.heldBy.Seq != 0 && l.heldBy.Device == ctx.Device {
			for _, r := range s.reach(k) {
				caused = caused || r.batch == b.body.Key
			}
		}
		return !caused
	})
	return caused
}
