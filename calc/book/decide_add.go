package book

import (
	"strings"

	"stillroom/calc"
)

// additionArgs name what goes in beside the plan: more of a line of the formula, or something that it does not name.
type additionArgs struct {
	Batch      string `json:"batch"`
	Line       string `json:"line"`
	Ingredient string `json:"ingredient"`
	Phase      string `json:"phase"`
	Lot        string `json:"lot"`
	Grams      string `json:"grams"`
	Out        bool   `json:"out"`
	Why        string `json:"why"`
}

// addition is where an addition belongs in the record.
type addition struct {
	id   string // line of the formula, or "+" and the ingredient
	line Line
	name string
	in   *weighedOn // what the record holds of it already
}

// addition finds the line that is meant. What the formula names is more of that line, however it was chosen: two rows
// of one thing under two names would hide how much of it is in the pot.
func (s *State) addition(m *making, a additionArgs) (addition, *Refusal) {
	var out addition
	for _, t := range m.b.body.Targets {
		l := m.line(t.Line)
		same := l != nil && a.Ingredient != "" && (l.Ingredient == a.Ingredient || l.Base == a.Ingredient)
		if l != nil && (t.Line == a.Line || same && (out.id == "" || l.Phase == a.Phase)) {
			out.id, out.line = t.Line, *l
		}
	}
	switch {
	case out.id == "" && a.Ingredient == "":
		return out, refuse("ingredient missing", "ingredient", "it was not said what goes in", "choose it from the list")
	case out.id == "" && s.ingredient(a.Ingredient) == nil:
		return out, refuse("ingredient unknown", "ingredient", "this ingredient is not in this book", "choose one from the list, or add your own")
	case out.id == "":
		out.id, out.line = "+"+a.Ingredient, Line{Ingredient: a.Ingredient, Phase: a.Phase}
	}
	out.name = s.lineName(out.line.Ingredient, out.line.Base)
	all, _ := m.b.weighed()
	if out.in = all[out.id]; out.in == nil {
		out.in = &weighedOn{}
	}
	return out, nil
}

// addToPot writes what went in beside the plan, or what was spooned out again. It counts in what went in, so that the
// ingredient list is of the jar and not of the paper.
func (s *State) addToPot(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[additionArgs](args)
	if no != nil {
		return nil, nil, no
	}
	m, no := s.atBench(a.Batch)
	if no != nil {
		return nil, nil, no
	}
	b, no := s.additionRow(m, a)
	if no != nil {
		return nil, nil, no
	}
	return s.one(ctx, KindBatchWeighed, b)
}

// additionRow is the row that an addition is written as.
func (s *State) additionRow(m *making, a additionArgs) (*BatchWeighed, *Refusal) {
	if a.Phase != "" && !m.hasPhase(a.Phase) {
		return nil, refuse("phase unknown", "phase", "batch "+m.b.body.Code+" has no phase "+a.Phase, "go back to the bench and choose a step there")
	}
	what, no := s.addition(m, a)
	if no != nil {
		return nil, no
	}
	planned := what.id[:1] != "+"
	if planned && !what.in.done {
		return nil, refuse("not weighed", "ingredient", what.name+" is in the formula and was not weighed yet", "weigh it at its own step; more of it can follow then")
	}
	mass, no := readWeighing(a.Grams, 0, "grams")
	if no != nil {
		return nil, no
	}
	step := m.b.body.Plan.Step
	switch {
	case a.Out && mass > what.in.mass:
		return nil, refuse("more than is in", "grams", grams(what.in.mass, step)+" of "+what.name+" went in, and "+grams(mass, step)+" were to be taken out", "weigh again what was taken out")
	case mass > m.b.body.Mass:
		return nil, refuse("too heavy", "grams", grams(mass, 0)+" is more than the whole batch as planned, "+grams(m.b.body.Mass, step), "look at the decimal point, then type the grams again")
	}
	b := &BatchWeighed{Batch: a.Batch, Lot: a.Lot, Mass: mass, Text: strings.TrimSpace(a.Grams), Why: strings.TrimSpace(a.Why)}
	if planned {
		b.Line = what.id
	} else {
		b.Ingredient, b.Phase = a.Ingredient, a.Phase
	}
	if a.Out {
		// What was in the pot does not go back to its lot.
		b.Mass, b.Lot = -mass, ""
	} else if no := s.lotFits(a.Lot, &what.line, what.name); no != nil {
		return nil, no
	}
	return b, nil
}

// Addition is the view addition: what is known of something before it goes in beside the plan.
type Addition struct {
	Name string      `json:"name"`
	Says string      `json:"says"`
	Lots []LotChoice `json:"lots"`
	Wear []Note      `json:"wear"`
	In   string      `json:"in"`
	Last string      `json:"last"`
}

func (s *State) viewAddition(ctx Context, args []byte) (any, *Refusal) {
	a, no := arguments[additionArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	m := s.making(a.Batch)
	if m == nil {
		return nil, unseenBatch("batch")
	}
	what, no := s.addition(m, a)
	if no != nil {
		return nil, no
	}
	b := &bench{making: m, s: s, ctx: ctx}
	l := calc.Line{ID: what.id, Phase: what.line.Phase, Ingredient: what.line.Ingredient, Base: what.line.Base}
	v := Addition{Name: what.name, Lots: b.lots(l, 0), Wear: []Note{}, Last: s.lastTime(m).line[what.id]}
	if what.in.rows > 0 {
		v.In = grams(what.in.mass, m.b.body.Plan.Step) + " in so far"
	}
	f := m.f
	if what.id[:1] == "+" {
		v.Says = "Not in the formula: it counts in what went in, and a note stands until the formula is revised."
		f.Lines = append(append([]calc.Line{}, f.Lines...), l)
	} else {
		v.Says = "It is in the formula: this counts as more of that line."
	}
	if wear := calc.WearBefore(f, m.known, l.Phase, l.ID); len(wear) > 0 {
		v.Wear = calc.Margin(wear)
	}
	return v, nil
}
