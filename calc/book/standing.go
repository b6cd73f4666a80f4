package book

// standing is what a batch counts as: its own state, or held while a lot that went into it is held, at any depth.
func (s *State) standing(b *batch) (state, why string) {
	if b.state == Discarded || b.state == Held {
		return b.state, b.why
	}
	if why := s.heldByLots()[b.body.Key]; why != "" {
		return Held, why
	}
	return b.state, b.why
}

// heldByLots says of every batch that a held lot reached why it is held. A made base of a held batch counts as held.
func (s *State) heldByLots() map[string]string {
	out := map[string]string{}
	s.lots.each(func(k string, l *lot) bool {
		why := ""
		if l.held {
			why = "lot " + l.body.Code + " of " + s.lineName(l.body.Ingredient, "") + " is held: " + l.reason
		} else if src := s.batches.get(l.body.SourceBatch); src != nil && src.state == Held {
			why = "batch " + src.body.Code + ", which lot " + l.body.Code + " was made in, is held: " + src.why
		}
		if why != "" {
			for _, r := range s.reach(k) {
				if out[r.batch] == "" {
					out[r.batch] = why
				}
			}
		}
		return true
	})
	return out
}

// reached is a batch that a lot went into; Mass is mg of that lot itself, 0 when it came by way of a made base.
type reached struct {
	batch  string
	mass   int64
	filled bool // into containers of that lot, as far as the book can tell
}

// reach is every batch that a lot went into, the direct ones first, then through made bases at any depth.
func (s *State) reach(lotKey string) []reached {
	var out []reached
	seen := map[string]bool{}
	todo := []string{lotKey}
	depth := 0
	if l := s.lots.get(lotKey); l != nil && l.body.What == "container" {
		// What was filled into them may have been scooped out again into another batch.
		var filled []string
		for _, r := range s.filledFrom(l) {
			seen[r.batch] = true
			out = append(out, r)
			filled = append(filled, r.batch)
		}
		todo, depth = s.lotsMadeIn(filled), 1
	}
	for ; len(todo) > 0; depth++ {
		var made []string
		for _, k := range todo {
			l := s.lots.get(k)
			if l == nil {
				continue
			}
			for _, b := range l.into {
				u := s.use(k, b)
				if u.rows <= 0 || seen[b] {
					continue
				}
				seen[b] = true
				r := reached{batch: b}
				if depth == 0 {
					r.mass = u.mass
				}
				out = append(out, r)
				made = append(made, b)
			}
		}
		todo = s.lotsMadeIn(made)
	}
	return out
}

// filledFrom is every batch that may have been filled into containers of a lot. A filling names its container and not the
// lot, so these are all that were filled into that container since the lot came; a batch from before it is one of them
// only where no other lot had come by then, and while the lot is held nothing is taken from it.
func (s *State) filledFrom(l *lot) []reached {
	var out []reached
	s.batches.each(func(k string, b *batch) bool {
		f := b.filling()
		if b.body.Container != l.body.Ingredient || f == nil || l.held && b.filledAt() > l.heldAt {
			return true
		}
		may := f.Day >= l.body.Received
		if !may {
			may = true
			s.lots.each(func(_ string, o *lot) bool {
				may = o == l || o.body.Ingredient != l.body.Ingredient || o.body.Received > f.Day
				return may
			})
		}
		if may {
			out = append(out, reached{batch: k, filled: true})
		}
		return true
	})
	return out
}

// filledAt is the corrected time of the filling, ms since 1970.
func (b *batch) filledAt() int64 {
	for i := range b.rows {
		if b.rows[i].from.ref == b.fill {
			return b.rows[i].from.time
		}
	}
	return 0
}

// lotsMadeIn are the lots whose source is one of these batches.
func (s *State) lotsMadeIn(batches []string) []string {
	if len(batches) == 0 {
		return nil
	}
	in := map[string]bool{}
	for _, b := range batches {
		in[b] = true
	}
	var out []string
	s.lots.each(func(k string, l *lot) bool {
		if in[l.body.SourceBatch] {
			out = append(out, k)
		}
		return true
	})
	return out
}

// barOf is what the shelf must know of a batch's standing. A stall reads it, so it names no lot and no supplier.
func (s *State) barOf(b *batch) *BatchBarred {
	state, why := s.standing(b)
	if state == Held && b.state != Held {
		why = "something that went into it is held"
	}
	return &BatchBarred{Batch: b.body.Key, Barred: state == Held || state == Discarded, State: state, Reason: why, ForSale: state == Released && b.forSale}
}
