package book

import (
	"stillroom/calc"
)

// known is what calc needs to know beside the given list: the formulas that these lines use as bases, at any depth, in
// the revision that the line fixed or else the newest. Others are left out: a keystroke must not read the whole book.
func (s *State) known(lines []Line) calc.Known {
	k := s.matter()
	k.Bases = map[string]*calc.Formula{}
	for todo := lines; len(todo) > 0; {
		l := todo[0]
		todo = todo[1:]
		if l.Base == "" || k.Bases[l.Base] != nil {
			continue
		}
		b := s.revision(l.Base, l.BaseRev)
		if b == nil {
			b = s.formulas.get(l.Base).newest().read()
		}
		if b != nil {
			c := b.calc()
			k.Bases[l.Base] = &c
			todo = append(todo, b.Lines...)
		}
	}
	return k
}

// basesOf are the bases that a draft names, in their newest revisions.
func basesOf(d calc.Draft) []Line {
	var out []Line
	for _, l := range d.Lines {
		out = append(out, Line{Base: l.Base})
	}
	return out
}

func (r *revision) read() *FormulaSaved {
	b := &FormulaSaved{}
	if r == nil || decode(newest, r.body, b) != nil {
		return nil
	}
	return b
}

// newest is the last revision that no other follows. With a fork there are several; the one that came last is shown.
func (f *formula) newest() *revision {
	if f == nil || len(f.revs) == 0 {
		return nil
	}
	leaves := f.leaves()
	return leaves[len(leaves)-1]
}

// asked is the formula and the revision that a command names, the newest when it names none. again says how to go on
// from a revision that is not here.
func (s *State) asked(key, rev, again string) (*formula, *revision, *Refusal) {
	f := s.formulas.get(key)
	if f == nil {
		return nil, nil, refuse("formula unknown", "formula", "this formula is not in this book", "choose it from the list of formulas")
	}
	if rev == "" {
		return f, f.newest(), nil
	}
	ref, err := ParseRef(rev)
	r := f.find(ref)
	if err != nil || r == nil {
		return nil, nil, refuse("revision unknown", "revision", "this revision of the formula is not in this book", again)
	}
	return f, r, nil
}

// leaves are the revisions that no other follows: one, or more after a fork.
func (f *formula) leaves() []*revision {
	followed := map[Ref]bool{}
	for _, r := range f.revs {
		followed[r.parent] = true
		for _, a := range r.also {
			followed[a.Ref] = true
		}
	}
	var out []*revision
	for i := range f.revs {
		if !followed[f.revs[i].from.ref] {
			out = append(out, &f.revs[i])
		}
	}
	if len(out) == 0 { // a revision that names itself as its parent: no honest device writes one
		out = append(out, &f.revs[len(f.revs)-1])
	}
	return out
}

func (f *formula) find(ref Ref) *revision {
	if f == nil {
		return nil
	}
	for i := range f.revs {
		if f.revs[i].from.ref == ref {
			return &f.revs[i]
		}
	}
	return nil
}

// revision reads one revision of a formula, nil when it is not in this book.
func (s *State) revision(key string, ref Ref) *FormulaSaved {
	if ref.Seq == 0 {
		return nil
	}
	return s.formulas.get(key).find(ref).read()
}

// calc is the formula in the words of package calc.
func (b *FormulaSaved) calc() calc.Formula {
	f := calc.Formula{Key: b.Key, Name: b.Name, Wash: b.Wash, Site: b.Site, Age: b.Age, LifeMonths: int(b.Life), PAOMonths: int(b.AfterOpen)}
	for _, p := range b.Phases {
		t := calc.Treatment{Do: p.Do, To: p.To, HoldMin: int(p.HoldMin)}
		if p.To != "" {
			if d, e := calc.ReadDegrees(p.To, "C"); e == nil {
				t.Degrees = &d
			}
		}
		f.Phases = append(f.Phases, calc.Phase{Letter: p.Letter, Treatment: t})
	}
	for _, l := range b.Lines {
		f.Lines = append(f.Lines, calc.Line{ID: l.ID, Phase: l.Phase, Ingredient: l.Ingredient, Base: l.Base,
			Percent: calc.Percent(l.Percent), QS: l.QS, Compatible: l.Compatible, Note: l.Note})
	}
	f.Lines = calc.Total(f.Lines).Lines
	return f
}

// draft is the formula as it would be typed.
func (b *FormulaSaved) draft(revision string) calc.Draft {
	d := calc.Draft{Key: b.Key, Parent: revision, Name: b.Name, Wash: b.Wash, Site: b.Site, Age: b.Age, Life: blankZero(b.Life, 0), AfterOpen: blankZero(b.AfterOpen, 0),
		Phases: []calc.DraftPhase{}, Lines: []calc.DraftLine{}}
	for _, p := range b.Phases {
		d.Phases = append(d.Phases, calc.DraftPhase{Letter: p.Letter, Treatment: calc.DraftTreatment{Do: p.Do, To: calc.DegreesWithUnit(p.To, "C"), HoldMin: blankZero(p.HoldMin, 0)}, Pot: p.Pot})
	}
	for _, l := range b.Lines {
		percent := plain(l.Percent, 4)
		if l.QS {
			percent = ""
		}
		d.Lines = append(d.Lines, calc.DraftLine{ID: l.ID, Phase: l.Phase, Ingredient: l.Ingredient, Base: l.Base,
			Percent: percent, QS: l.QS, Note: l.Note, Compatible: l.Compatible})
	}
	d.Plan = calc.Plan{Jars: blankZero(b.Plan.Jars, 0), Fill: blankZero(b.Plan.Fill, 3), Loss: blankZero(b.Plan.Loss, 4), Step: blankZero(b.Plan.Step, 3), Container: b.Container}
	return d
}

// lineName is what a line is called.
func (s *State) lineName(ingredient, base string) string {
	if base != "" {
		if b := s.formulas.get(base).newest().read(); b != nil {
			return b.Name
		}
		return base
	}
	if i := s.ingredient(ingredient); i != nil {
		return i.Name
	}
	if c := s.containers.get(ingredient); c != nil {
		return c.body.Name
	}
	if b := s.formulas.get(ingredient).newest().read(); b != nil {
		return b.Name
	}
	if g := s.goneKeys.get(ingredient); g != nil {
		return g.s
	}
	return ingredient
}
