package book

const (
	Making    = "making"
	Resting   = "resting"
	Held      = "held"
	Released  = "released"
	Discarded = "discarded"
)

func (s *State) applyStarted(r row, b *BatchStarted) {
	if s.batches.get(b.Key) != nil {
		s.clash(Workshop, r.from, KindBatchStarted, "another batch already has the key "+b.Key)
		return
	}
	n := s.batches.edit(b.Key)
	*n = batch{from: r.from, body: *b, state: Making}
	if b.Letter != "" {
		s.letters.edit(r.from.ref.Device).s = b.Letter
	}
	if early := s.strays.get(b.Key); early != nil && len(early.rows) > 0 {
		for _, e := range early.rows {
			e.clash = "it came before its batch was started"
			s.addRow(n, b.Key, e)
		}
		s.strays.edit(b.Key).rows = nil
	}
}

func (s *State) addRow(b *batch, key string, r row) {
	b.rows = append(b.rows, r)
	s.rowAt.edit(r.from.ref).s = key
}

// applyRow puts a row into the record of its batch. A row with a clash is kept and shown there and does nothing else.
// It answers whether the row took effect.
func (s *State) applyRow(r row, key, clash string) bool {
	if s.batches.get(key) == nil {
		t := s.strays.edit(key)
		t.rows = append(t.rows, r)
		s.clash(Workshop, r.from, r.kind, "its batch is not in this book")
		return false
	}
	r.clash = clash
	s.addRow(s.batches.edit(key), key, r)
	if clash == "" {
		s.effect(r, 1)
	}
	return clash == ""
}

// effect is what a row changes outside its batch: a weighing takes from its lot.
func (s *State) effect(r row, sign int) {
	if r.kind == KindBatchWeighed {
		b := &BatchWeighed{}
		if decode(r.v, r.body, b) == nil {
			s.stock(b, sign)
		}
	}
}

// closedClash says why a step of making no longer fits a batch, "" when it does. Resting is no reason: what was
// weighed on another phone before the filling may arrive after it.
func (s *State) closedClash(key string) string {
	b := s.batches.get(key)
	switch {
	case b == nil:
		return ""
	case b.state == Released:
		return "the batch was already released by " + b.by
	case b.state == Discarded:
		return "the batch was already discarded"
	}
	return ""
}

func (s *State) weighedClash(w *BatchWeighed) string {
	b := s.batches.get(w.Batch)
	if b == nil {
		return ""
	}
	if c := s.closedClash(w.Batch); c != "" {
		return c
	}
	return s.weighedFits(b, w)
}

// weighedFits says why a weighing names something that is not in this book, "" when it does not.
func (s *State) weighedFits(b *batch, w *BatchWeighed) string {
	if w.Lot != "" && s.lots.get(w.Lot) == nil {
		return "its lot is not in this book"
	}
	if w.Line == "" && w.Ingredient != "" {
		return ""
	}
	for _, t := range b.body.Targets {
		if t.Line == w.Line {
			return ""
		}
	}
	return "its line is not in the plan of this batch"
}

func (s *State) applyFilled(r row, f *BatchFilled) {
	clash := s.closedClash(f.Batch)
	if b := s.batches.get(f.Batch); b != nil && clash == "" {
		if b.fill.Seq != 0 {
			clash = "the batch was already filled"
		}
	}
	if s.applyRow(r, f.Batch, clash) {
		b := s.batches.edit(f.Batch)
		b.fill = r.from.ref
		if b.state == Making {
			b.state, b.set = Resting, r.from.ref
		}
	}
}

func (s *State) applyState(r row, f *BatchState) {
	clash := ""
	if b := s.batches.get(f.Batch); b != nil {
		switch {
		case b.state == Discarded:
			clash = "the batch was already discarded"
		case f.State == Released && b.fill.Seq == 0:
			clash = "the batch is not filled yet"
		case f.State == Released && b.state == Released && (!f.ForSale || b.forSale):
			clash = "the batch was already released by " + b.by
		case f.State != Held && f.State != Released && f.State != Discarded && f.State != Resting:
			clash = "the state " + f.State + " is not known"
		}
	}
	if s.applyRow(r, f.Batch, clash) {
		b := s.batches.edit(f.Batch)
		b.state, b.why, b.by, b.set = f.State, f.Reason, f.By, r.from.ref
		if f.State == Released {
			b.forSale = f.ForSale
		}
	}
}
