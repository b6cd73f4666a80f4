package book

import (
	"bytes"
	"strconv"
	"strings"

	"stillroom/calc"
)

type formulaValue struct {
	Key      string `json:"key"`
	Revision string `json:"revision"`
}

func (s *State) saveFormula(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	d, no := arguments[calc.Draft](args)
	if no != nil {
		return nil, nil, no
	}
	if strings.TrimSpace(d.Name) == "" {
		return nil, nil, refuse("name missing", "name", "the formula has no name", "give it one; it can be changed later")
	}
	b, no := s.formulaBody(d)
	if no != nil {
		return nil, nil, no
	}
	f := s.formulas.get(b.Key)
	if d.Key != "" && f == nil {
		return nil, nil, refuse("formula unknown", "key", "the formula "+d.Key+" is not in this book", "save it as a new formula")
	}
	if b.Parent.Seq != 0 && f.find(b.Parent) == nil {
		return nil, nil, refuse("revision unknown", "parent", "the revision that this one follows is not in this book", "open the formula again and save from there")
	}
	if b.Key == "" {
		b.Key = (&drawer{seed: ctx.Rand}).key(8, s.formulaKeyTaken)
	}
	out, no := draft(KindFormulaSaved, b)
	if no != nil {
		return nil, nil, no
	}
	// A key pressed twice must not make a fork of two equal revisions.
	if f != nil {
		for i := range f.revs {
			r := &f.revs[i]
			if r.parent == b.Parent && bytes.Equal(r.body, out.Body) {
				return nil, formulaValue{b.Key, r.from.ref.String()}, nil
			}
		}
	}
	return []Draft{out}, formulaValue{b.Key, s.next(ctx, Workshop, 0).String()}, nil
}

// formulaBody reads a draft into a revision, or says why it cannot be saved.
func (s *State) formulaBody(d calc.Draft) (*FormulaSaved, *Refusal) {
	d = s.withUnits(d)
	k := s.known(basesOf(d))
	f, e := calc.ReadDraft(d, k)
	if e != nil {
		return nil, misread(e, "")
	}
	if d.Key != "" {
		// The formula as it would become stands among the bases while it is taken apart: so a circle is found at any depth.
		k.Bases[d.Key] = &f
	}
	if _, e := calc.TakeApart(f, k); e != nil {
		return nil, misread(e, "")
	}
	b := &FormulaSaved{Key: d.Key, Name: strings.TrimSpace(d.Name), Wash: d.Wash, Site: d.Site, Age: d.Age, Life: int64(f.LifeMonths), AfterOpen: int64(f.PAOMonths)}
	var err error
	if b.Parent, err = ParseRef(d.Parent); err != nil {
		return nil, refuse("revision unknown", "parent", "the revision that this one follows cannot be read", "open the formula again and save from there")
	}
	if b.Parent.Seq == 0 && d.Key != "" {
		if n := s.formulas.get(d.Key).newest(); n != nil {
			b.Parent = n.from.ref
		}
	}
	for i, p := range f.Phases {
		row := Phase{Letter: p.Letter, Do: p.Treatment.Do, To: p.Treatment.To, HoldMin: int64(p.Treatment.HoldMin), Pot: strings.TrimSpace(d.Phases[i].Pot)}
		if p.Treatment.Degrees != nil {
			row.ToMilli = p.Treatment.Degrees.MilliC
		}
		b.Phases = append(b.Phases, row)
	}
	for i, l := range f.Lines {
		row := Line{ID: l.ID, Phase: l.Phase, Ingredient: l.Ingredient, Base: l.Base, Percent: int64(l.Percent), QS: l.QS, Note: l.Note, Compatible: l.Compatible}
		if row.ID == "" {
			row.ID = strconv.Itoa(i + 1)
		}
		if l.Base != "" {
			row.Ingredient = ""
			if n := s.formulas.get(l.Base).newest(); n != nil {
				row.BaseRev = n.from.ref
			}
		}
		b.Lines = append(b.Lines, row)
	}
	plan, no := savedPlan(d.Plan)
	if no != nil {
		return nil, no
	}
	b.Plan, b.Container = plan, d.Plan.Container
	if no := s.chosenContainer(b.Container); no != nil {
		return nil, no
	}
	// What a screen does not show is not lost by saving from it.
	if d.Key != "" {
		if before := s.formulas.get(d.Key).newest().read(); before != nil {
			b.Word, b.Credit, b.Lineage, b.LineageRev = before.Word, before.Credit, before.Lineage, before.LineageRev
		}
	}
	if c := s.containers.get(b.Container); c != nil {
		b.Word = c.body.Word
	}
	return b, nil
}

// savedPlan keeps a plan with its formula. A plan is not needed to save: with neither jars nor fill there is none yet.
func savedPlan(p calc.Plan) (Plan, *Refusal) {
	if strings.TrimSpace(p.Jars) == "" || strings.TrimSpace(p.Fill) == "" {
		return Plan{}, nil
	}
	r, e := calc.ReadPlan(p)
	if e != nil {
		return Plan{}, misread(e, "")
	}
	return Plan{Jars: int64(r.Jars), Fill: int64(r.Fill), Loss: int64(r.Loss), Step: int64(r.Step)}, nil
}
