package book

import (
	"slices"

	"stillroom/calc"
)

// making is a batch with its formula at hand: what every step and every view of a batch starts from.
type making struct {
	b     *batch
	rev   *FormulaSaved // nil when the revision is not in this book
	f     calc.Formula
	known calc.Known
	// scaledUp is true when a rescue set a plan in the place of the one that the batch was started with.
	scaledUp bool
}

func (s *State) making(key string) *making {
	b := s.batches.get(key)
	if b == nil {
		return nil
	}
	m := &making{b: b.asPlannedNow(), rev: s.revision(b.body.Formula, b.body.Revision)}
	m.scaledUp = m.b != b
	if m.rev != nil {
		m.f = m.rev.calc()
		m.known = s.known(m.rev.Lines)
		for i := range m.f.Phases {
			if d := m.f.Phases[i].Treatment.Degrees; d != nil {
				d.Both = m.known.Bench.Fahrenheit
			}
		}
	} else {
		m.known = s.known(nil)
	}
	return m
}

func (m *making) target(line string) (int64, bool) {
	for _, t := range m.b.body.Targets {
		if t.Line == line {
			return t.Mass, true
		}
	}
	return 0, false
}

func (m *making) line(id string) *Line {
	if m.rev == nil {
		return nil
	}
	for i := range m.rev.Lines {
		if m.rev.Lines[i].ID == id {
			return &m.rev.Lines[i]
		}
	}
	return nil
}

func (m *making) hasPhase(letter string) bool {
	return slices.ContainsFunc(m.f.Phases, func(p calc.Phase) bool { return p.Letter == letter })
}

// stands walks the rows that count: not struck, no clash, and readable.
func (b *batch) stands(f func(r *row, body visitable)) {
	for i := range b.rows {
		r := &b.rows[i]
		if r.struck || r.clash != "" {
			continue
		}
		if body, err := open(r.kind, r.v, r.body); err == nil {
			f(r, body)
		}
	}
}

// weighedOn is what the record says of one line.
type weighedOn struct {
	mass  int64
	rows  int
	done  bool
	entry Ref
	lots  []fromLot
	ingr  string
	phase string
}

// fromLot is how much of a line came from a lot, "" for no lot said.
type fromLot struct {
	lot  string
	mass int64
}

// takeBack takes what was spooned out again from the lots that went in last: it lay on top.
func (l *weighedOn) takeBack(mass int64) {
	for i := len(l.lots) - 1; i >= 0 && mass > 0; i-- {
		n := min(mass, max(l.lots[i].mass, 0))
		l.lots[i].mass, mass = l.lots[i].mass-n, mass-n
	}
}

// weighed sums the record by line. Additions that the formula does not name stand under "+" and their ingredient.
func (b *batch) weighed() (map[string]*weighedOn, []string) {
	out := map[string]*weighedOn{}
	var order []string
	b.stands(func(r *row, body visitable) {
		if n, ok := body.(*BatchNoted); ok && n.Way == wayScaleUp {
			reopen(out, n.Targets, b.body.Plan.Step)
		}
		w, ok := body.(*BatchWeighed)
		if !ok {
			return
		}
		id := w.Line
		if id == "" {
			id = "+" + w.Ingredient
		}
		l := out[id]
		if l == nil {
			l = &weighedOn{ingr: w.Ingredient, phase: w.Phase}
			out[id] = l
			order = append(order, id)
		}
		l.mass += w.Mass
		l.rows++
		l.entry = r.from.ref
		l.done = l.done || !w.More
		if w.Mass < 0 && w.Lot == "" {
			l.takeBack(-w.Mass)
			return
		}
		i := slices.IndexFunc(l.lots, func(u fromLot) bool { return u.lot == w.Lot })
		if i < 0 {
			l.lots = append(l.lots, fromLot{lot: w.Lot})
			i = len(l.lots) - 1
		}
		l.lots[i].mass += w.Mass
	})
	return out, order
}

// filling is the row that filled the batch, nil before.
func (b *batch) filling() *BatchFilled {
	for i := range b.rows {
		if r := &b.rows[i]; b.fill.Seq != 0 && r.from.ref == b.fill {
			f := &BatchFilled{}
			if decode(r.v, r.body, f) == nil {
				return f
			}
		}
	}
	return nil
}

// wentIn is the formula as it was really made: each line's share of all that was weighed, summing to exactly 100 %.
func (m *making) wentIn() (calc.Formula, int64) {
	f := calc.Formula{Key: m.f.Key, Name: m.f.Name, Wash: m.f.Wash, Site: m.f.Site, Age: m.f.Age, Phases: m.f.Phases}
	w, order := m.b.weighed()
	var total int64
	for _, x := range w {
		total += x.mass
	}
	if total <= 0 {
		return f, 0
	}
	big, left := -1, int64(calc.Hundred)
	add := func(l calc.Line, mass int64) {
		l.Percent, l.QS = calc.Percent(share(mass, total)), false
		left -= int64(l.Percent)
		f.Lines = append(f.Lines, l)
		if big < 0 || l.Percent > f.Lines[big].Percent {
			big = len(f.Lines) - 1
		}
	}
	for _, l := range m.f.Lines {
		if x := w[l.ID]; x != nil {
			add(l, x.mass)
		}
	}
	for _, id := range order {
		if id[:1] == "+" {
			add(calc.Line{ID: id, Phase: w[id].phase, Ingredient: w[id].ingr}, w[id].mass)
		}
	}
	if big >= 0 {
		f.Lines[big].Percent += calc.Percent(left)
	}
	return f, total
}

// share is part of whole in 0.0001 %, rounded down. Masses here stay below 2^53 mg, so the product is split to fit.
func share(part, whole int64) int64 {
	const full = int64(calc.Hundred)
	q, r := part/whole, part%whole
	for whole > 1<<40 {
		whole, r = whole>>1, r>>1
	}
	return q*full + r*full/whole
}

// closes is the row that closes the treatment of a phase. That its pot was combined with another is not its treatment.
func (m *making) closes(p calc.Phase) Ref {
	if measures(p.Treatment) {
		return m.measured(p)
	}
	var out Ref
	m.b.stands(func(r *row, body visitable) {
		if x, ok := body.(*BatchTreated); ok && x.Phase == p.Letter && x.Do != combine && x.Do != coolingChanged {
			out = r.from.ref
		}
	})
	return out
}
