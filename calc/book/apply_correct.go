package book

import "slices"

// applyCorrected strikes the row that is pointed at and puts the new one behind it: what was said stays readable.
// A correction that finds nothing to strike is kept and shown as a clash. Of two corrections of one row made apart,
// the first in the store's order stands and the second is shown beside it.
func (s *State) applyCorrected(stream string, r row, c *Corrected) {
	if stream == Shelf {
		s.correctShelf(r, c)
		return
	}
	at := s.rowIn(c.Of)
	if stream != Workshop || at == nil {
		s.clash(stream, r.from, r.kind, "it corrects an entry that is not a row of a batch in this book")
		return
	}
	key := at.s
	now := row{from: r.from, kind: uint32(c.Kind), v: uint32(c.V), body: c.Body, of: c.Of, reason: c.Reason}
	b := s.batches.get(key)
	i := slices.IndexFunc(b.rows, func(x row) bool { return x.from.ref == c.Of })
	now.clash = s.correctionClash(b, b.rows[i], now)
	b = s.batches.edit(key)
	s.addRow(b, key, now)
	if now.clash != "" {
		return
	}
	s.effect(b.rows[i], -1)
	b.rows[i].struck, b.rows[i].reason, b.rows[i].now = true, c.Reason, r.from.ref
	s.effect(now, 1)
	if b.fill == c.Of {
		b.fill = r.from.ref
	}
}

func (s *State) correctionClash(b *batch, old, now row) string {
	switch {
	case old.clash != "":
		return "the row that it corrects did not apply either"
	case old.struck:
		return "the row was already corrected"
	case now.kind != old.kind:
		return "it would make another kind of row of it"
	}
	body, err := open(now.kind, now.v, now.body)
	if err != nil {
		return "it cannot be read: " + err.Error()
	}
	if batchOf(body) != b.body.Key {
		return "it would move the row to another batch"
	}
	switch w := body.(type) {
	case *BatchWeighed:
		return s.weighedFits(b, w)
	case *BatchFilled:
		if b.fill != old.from.ref {
			return "the batch was filled by another row"
		}
		return ""
	case *BatchRead, *BatchTreated, *BatchWore, *BatchNoted, *BatchLooked, *BatchAged:
		return ""
	}
	return "a row of this kind cannot be corrected"
}

// batchOf is the batch that a row's body belongs to.
func batchOf(body visitable) string {
	switch b := body.(type) {
	case *BatchWeighed:
		return b.Batch
	case *BatchRead:
		return b.Batch
	case *BatchTreated:
		return b.Batch
	case *BatchWore:
		return b.Batch
	case *BatchNoted:
		return b.Batch
	case *BatchFilled:
		return b.Batch
	case *BatchState:
		return b.Batch
	case *BatchLooked:
		return b.Batch
	case *BatchAged:
		return b.Batch
	case *PhotoKept:
		return b.Batch
	}
	return ""
}
