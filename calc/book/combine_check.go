package book

import "stillroom/calc"

// Combining is the view combining: how warm the pots will be together (M2), ” while one of them was not read.
type Combining struct {
	Says     string `json:"says"`
	Findings []Note `json:"findings"`
}

func (s *State) viewCombining(args []byte) (any, *Refusal) {
	a, no := arguments[phaseArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	m := s.making(a.Batch)
	if m == nil {
		return nil, unseenBatch("batch")
	}
	v := Combining{Findings: []Note{}}
	for _, g := range m.groups() {
		if g.has(a.Phase) {
			s.combineCheck(m, &g, &v)
		}
	}
	return v, nil
}

func (s *State) combineCheck(m *making, g *sideBySide, v *Combining) {
	w, _ := m.b.weighed()
	var parts []calc.CombinePart
	var fats []calc.SettingFat
	for _, p := range g.pots {
		part := calc.CombinePart{Name: p.name}
		read := false
		for _, x := range p.phases {
			m.b.stands(func(_ *row, body visitable) {
				if r, ok := body.(*BatchRead); ok && r.What == "temperature" && r.Phase == x.Letter {
					part.MilliC, read = r.Value, true
				}
			})
			for _, l := range m.f.Lines {
				if in := w[l.ID]; l.Phase == x.Letter && in != nil && in.mass > 0 {
					part.Things = append(part.Things, calc.HeatThing{Ingredient: l.Ingredient, Mass: calc.Mass(in.mass)})
					if i := s.ingredient(l.Ingredient); i != nil && i.Melts != nil {
						fats = append(fats, calc.SettingFat{Name: i.Name, LowMilliC: i.Melts.LowMilliC, HighMilliC: i.Melts.HighMilliC})
					}
				}
			}
		}
		if !read || len(part.Things) == 0 {
			return
		}
		parts = append(parts, part)
	}
	got, e := calc.Combine(parts, fats, m.known)
	if e != nil {
		// A base in a pot has no heat capacity of its own here.
		v.Says = "not checked: how warm they will be together; " + e.Says
		return
	}
	v.Says = got.Says
	if len(got.Findings) > 0 {
		v.Findings = calc.Margin(got.Findings)
	}
}
