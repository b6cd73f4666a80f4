package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

const (
	whySteam  = "gone off as steam"
	whyGotIn  = "water got in"
	whyBehind = "stayed behind in its vessel"
)

type topUpArgs struct {
	Batch   string `json:"batch"`
	Phase   string `json:"phase"`
	Tare    string `json:"tare"`
	Before  string `json:"before"`
	After   string `json:"after"`
	Covered bool   `json:"covered"`
	Poured  bool   `json:"poured"` // a vessel that was poured out: tare and after only
}

// TopUp is the view topup: a vessel before and after heating, or poured out.
type TopUp struct {
	Says     string `json:"says"`
	PutBack  string `json:"putBack"`
	Line     string `json:"line"`
	Name     string `json:"name"`
	Key      string `json:"key"`
	Findings []Note `json:"findings"`
}

// potOf are the phases that stand in one vessel with this one.
func (m *making) potOf(phase string) []string {
	for _, g := range m.groups() {
		for _, p := range g.pots {
			if slices.ContainsFunc(p.phases, func(x calc.Phase) bool { return x.Letter == phase }) {
				var out []string
				for _, x := range p.phases {
					out = append(out, x.Letter)
				}
				return out
			}
		}
	}
	return []string{phase}
}

// waterLine is the line of a pot that is nothing but water: what steam is taken from and hot water is put back to.
func (s *State) waterLine(m *making, phase string) (line, name string) {
	in := m.potOf(phase)
	for _, l := range m.f.Lines {
		i := s.ingredient(l.Ingredient)
		if i != nil && slices.Contains(in, l.Phase) && len(i.Composition) == 1 && i.Composition[0].INCI == "Aqua" {
			return l.ID, i.Name
		}
	}
	return "", ""
}

// three reads the weighings of a vessel; what was not typed yet is 0.
func (a topUpArgs) three() (tare, before, after calc.Mass, no *Refusal) {
	for _, x := range []struct {
		field, text string
		into        *calc.Mass
	}{{"tare", a.Tare, &tare}, {"before", a.Before, &before}, {"after", a.After, &after}} {
		if strings.TrimSpace(x.text) == "" {
			continue
		}
		v, e := calc.ReadGrams(x.text)
		if e != nil {
			return 0, 0, 0, misread(e, x.field)
		}
		*x.into = v
	}
	return tare, before, after, nil
}

// topUp works out what a vessel says, with the rows that would be written of it.
func (s *State) topUp(m *making, a topUpArgs) (TopUp, []*BatchWeighed, *Refusal) {
	v := TopUp{Findings: []Note{}}
	tare, before, after, no := a.three()
	if no != nil {
		return v, nil, no
	}
	if a.Poured {
		return s.poured(m, a, tare, after)
	}
	v.Line, v.Name = s.waterLine(m, a.Phase)
	if before == 0 || after == 0 {
		return v, nil, refuse("not weighed", "before", "the vessel was not weighed before and after heating", "weigh it covered or bare both times")
	}
	step := calc.Mass(m.b.body.Plan.Step)
	got, e := calc.TopUp(calc.TopUpAsk{Tare: tare, Before: before, After: after, Step: step, Covered: a.Covered})
	if e != nil {
		return v, nil, misread(e, e.Field)
	}
	v.Says = got.Says
	if len(got.Findings) > 0 {
		v.Findings = calc.Margin(got.Findings)
	}
	how := before.On(step) + " g before heating, " + after.On(step) + " g after"
	b := &BatchWeighed{Batch: a.Batch, Line: v.Line, Mass: -int64(got.Lost), Text: strings.TrimSpace(a.After)}
	if b.Line == "" {
		b.Ingredient, b.Phase = "water", a.Phase
	}
	switch {
	case got.PutBack > 0 && v.Line == "":
		v.Says = join(v.Says, "no line of this pot is plain water, so write it down as a note")
		return v, nil, refuse("no water", "phase", "no line of this pot is plain water, so there is nothing to take steam from", "write a note of it")
	case got.PutBack > 0:
		v.PutBack, v.Key, b.Why = onGrid(int64(got.PutBack), int64(step)), "Write, and weigh water in", join(whySteam, how)
	case got.Lost <= -2*step:
		v.Key, b.Why = "Write the water down", join(whyGotIn, how)
	default:
		return v, nil, refuse("nothing lost", "after", "the two weighings differ by no more than the scale can tell", "go on at the bench")
	}
	return v, []*BatchWeighed{b}, nil
}

// poured works out what a poured vessel kept (M3): it is missing from the product, of each of its lines its share.
func (s *State) poured(m *making, a topUpArgs, tare, after calc.Mass) (TopUp, []*BatchWeighed, *Refusal) {
	v := TopUp{Findings: []Note{}}
	if tare == 0 || after == 0 {
		return v, nil, refuse("not weighed", "tare", "the poured vessel was not weighed clean and poured out", "weigh it scraped out, and look up what it weighs clean")
	}
	step := m.b.body.Plan.Step
	ask := calc.ResidueAsk{Tare: tare, After: after, Step: calc.Mass(step)}
	in := m.potOf(a.Phase)
	w, _ := m.b.weighed()
	var whole int64
	for _, l := range m.f.Lines {
		if x := w[l.ID]; x != nil && x.mass > 0 {
			out := slices.Contains(in, l.Phase)
			ask.Lines = append(ask.Lines, calc.PouredLine{ID: l.ID, Name: s.lineName(l.Ingredient, l.Base), Mass: calc.Mass(x.mass), Poured: out})
			if out {
				whole += x.mass
			}
		}
	}
	got, e := calc.ResidueLeft(ask)
	if e != nil {
		return v, nil, misread(e, strings.TrimPrefix(e.Field, "residue."))
	}
	v.Says = got.Says
	if len(got.Findings) > 0 {
		v.Findings = calc.Margin(got.Findings)
	}
	if got.Mass < calc.Mass(step) {
		return v, nil, refuse("nothing stayed", "after", "no more stayed behind than the scale can tell", "go on at the bench")
	}
	v.Key = "Write what stayed behind"
	left, of := int64(got.Mass), whole
	var rows []*BatchWeighed
	for _, l := range ask.Lines {
		if !l.Poured {
			continue
		}
		// Each line takes its share of what the lines before it left, so that the parts sum to what was weighed.
		n := left * int64(l.Mass) / of
		if of == int64(l.Mass) {
			n = left
		}
		left, of = left-n, of-int64(l.Mass)
		if n > 0 {
			rows = append(rows, &BatchWeighed{Batch: a.Batch, Line: l.ID, Mass: -n, Text: strings.TrimSpace(a.After), Why: join(whyBehind, grams(int64(got.Mass), step)+" in all")})
		}
	}
	return v, rows, nil
}

func (s *State) viewTopUp(args []byte) (any, *Refusal) {
	a, no := arguments[topUpArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	m := s.making(a.Batch)
	if m == nil {
		return nil, unseenBatch("batch")
	}
	v, _, no := s.topUp(m, a)
	// Half typed is no mistake: what cannot be read is said when it is to be written.
	if no != nil && v.Says == "" && no.Code != "not weighed" {
		v.Says = no.Says
	}
	return v, nil
}

// writeTopUp writes what the vessel lost, gained or kept. Water that is put back is weighed by itself.
func (s *State) writeTopUp(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[topUpArgs](args)
	if no != nil {
		return nil, nil, no
	}
	m, no := s.atBench(a.Batch)
	if no != nil {
		return nil, nil, no
	}
	if !m.hasPhase(a.Phase) {
		return nil, nil, refuse("phase unknown", "phase", "batch "+m.b.body.Code+" has no phase "+a.Phase, "go back to the bench and choose a step there")
	}
	v, rows, no := s.topUp(m, a)
	if no != nil {
		return nil, nil, no
	}
	w, _ := m.b.weighed()
	bodies := make([]kindBody, 0, len(rows))
	for _, r := range rows {
		if x := w[r.Line]; r.Mass < 0 && (x == nil || x.mass+r.Mass < 0 || !x.done) {
			return nil, nil, refuse("more than is in", "after", "more is missing than was weighed in of "+v.Name, "weigh again, and look whether it is the same vessel")
		}
		bodies = append(bodies, kindBody{KindBatchWeighed, r})
	}
	out, no := several(bodies...)
	return out, entryValue{s.next(ctx, Workshop, 0).String()}, no
}
