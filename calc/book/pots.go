package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

// Two pots may be combined when each reads from 3 °C below its aim to 10 °C above it: this book's own rule. Colder, fat
// sets in lumps where the two meet; the pot that waited longer in the bath may well be hotter.
const (
	potBelow = 3000  // m°C
	potAbove = 10000 // m°C
)

const combine = "combine"

// pot is a vessel and the phases in it.
type pot struct {
	name   string
	phases []calc.Phase
}

// sideBySide are pots that are heated at the same time and then combined: phases [first, end) of the formula.
type sideBySide struct {
	first, end int
	pots       []pot
}

// last is the letter that the combining is written under.
func (g *sideBySide) last() string {
	p := g.pots[len(g.pots)-1].phases
	return p[len(p)-1].Letter
}

func (g *sideBySide) has(letter string) bool {
	return slices.ContainsFunc(g.pots, func(p pot) bool {
		return slices.ContainsFunc(p.phases, func(x calc.Phase) bool { return x.Letter == letter })
	})
}

// groups finds the phases that stand side by side: heated or melted ones in a row, in two pots or more, before a phase
// that is not heated. A phase stands in the pot that the formula names, else in one of its own.
func (m *making) groups() []sideBySide {
	var out []sideBySide
	g := sideBySide{}
	for i, p := range m.f.Phases {
		if p.Treatment.Do != "heat" && p.Treatment.Do != "melt" {
			if g.end = i; len(g.pots) > 1 {
				out = append(out, g)
			}
			g = sideBySide{first: i + 1}
			continue
		}
		if !slices.ContainsFunc(m.f.Lines, func(l calc.Line) bool { return l.Phase == p.Letter }) {
			continue // nothing is in it, so nothing is heated
		}
		name := m.rev.Phases[i].Pot
		if name == "" {
			name = "pot " + p.Letter
		}
		at := slices.IndexFunc(g.pots, func(x pot) bool { return x.name == name })
		if at < 0 {
			g.pots = append(g.pots, pot{name: name})
			at = len(g.pots) - 1
		}
		g.pots[at].phases = append(g.pots[at].phases, p)
	}
	return out
}

// combined tells whether pots were combined: the row that says so, or that the batch went on without one, as it did in
// books from before pots stood side by side.
func (m *making) combined(g *sideBySide) (by Ref, passed bool) {
	later := func(letter string) bool {
		i := slices.IndexFunc(m.f.Phases, func(p calc.Phase) bool { return p.Letter == letter })
		return i >= g.end
	}
	m.b.stands(func(r *row, body visitable) {
		switch x := body.(type) {
		case *BatchTreated:
			if x.Do == combine && g.has(x.Phase) {
				by = r.from.ref
			}
			passed = passed || later(x.Phase)
		case *BatchWeighed:
			l := m.line(x.Line)
			passed = passed || l != nil && later(l.Phase)
		case *BatchRead:
			passed = passed || x.Phase != "" && later(x.Phase)
		case *BatchFilled:
			passed = true
		}
	})
	return by, passed
}

// stand shows a pot with the last temperature read in it. It is ready when that is in range, and without an aim when
// any was read.
func (m *making) stand(p pot) Pot {
	v := Pot{Name: p.name, Phases: []string{}}
	var aim *calc.Degrees
	for _, x := range p.phases {
		v.Phases = append(v.Phases, x.Letter)
		if d := x.Treatment.Degrees; d != nil && (aim == nil || d.MilliC > aim.MilliC) {
			aim = d
		}
	}
	var read *BatchRead
	m.b.stands(func(_ *row, body visitable) {
		if x, ok := body.(*BatchRead); ok && x.What == "temperature" && slices.Contains(v.Phases, x.Phase) {
			read = x
		}
	})
	span := ""
	if aim != nil {
		show := calc.Celsius
		if aim.Unit == "F" || aim.Both {
			show = calc.Fahrenheit
		}
		span = show(aim.MilliC-potBelow) + " to " + show(aim.MilliC+potAbove)
		v.Aim = aim.Show()
	}
	switch {
	case read == nil:
		v.Says = "no temperature was read yet"
		return v
	case aim == nil:
		v.Ready, v.Says = true, "no temperature was asked for"
	case read.Value < aim.MilliC-potBelow:
		v.Says = "too cold to combine; in range from " + span
	case read.Value > aim.MilliC+potAbove:
		v.Says = "too hot to combine; in range from " + span
	default:
		v.Ready, v.Says = true, "in range, "+span
	}
	v.Temperature = degrees(read, m.known.Bench)
	return v
}

// notReady names the pots that are not in range.
func (m *making) notReady(g *sideBySide) []string {
	var out []string
	for _, p := range g.pots {
		if v := m.stand(p); !v.Ready {
			out = append(out, strings.TrimSpace(v.Name+" "+v.Temperature)+": "+v.Says)
		}
	}
	return out
}

// potViews are the pots that are not combined yet.
func (m *making) potViews() []Pot {
	out := []Pot{}
	for _, g := range m.groups() {
		if by, passed := m.combined(&g); by.Seq == 0 && !passed {
			for _, p := range g.pots {
				out = append(out, m.stand(p))
			}
		}
	}
	return out
}

// combineStep opens when every pot is in range.
func (b *bench) combineStep(g *sideBySide) {
	names := []string{}
	for _, p := range g.pots {
		names = append(names, p.name)
	}
	t := Step{ID: combine + ":" + g.last(), What: combine, Phase: g.last(), Title: "Combine " + listed(names), Last: b.last.combined[g.last()]}
	by, passed := b.combined(g)
	switch wait := b.notReady(g); {
	case by.Seq != 0:
		t.Done, t.Entry, t.Says = true, by.String(), "combined"
	case passed:
		t.Done, t.Says = true, "not written down; the batch went on"
	case len(wait) > 0:
		t.Says = "opens when every pot reads from 3 °C below its aim to 10 °C above it (this book's own rule)"
	default:
		t.Says = "every pot is in range: pour together and scrape out the empty one"
	}
	b.step(t, 0)
}

// combining tells whether "treated" means that pots were combined: said in so many words, or said of the last pot when
// its own treatment is closed. A refusal names the pots that are not in range.
func (m *making) combining(phase, do string) (g *sideBySide, no *Refusal) {
	for _, x := range m.groups() {
		if x.has(phase) {
			g = &x
		}
	}
	switch {
	case g == nil && do == combine:
		return nil, refuse("nothing to combine", "phase", "phase "+phase+" stands in no pot beside another", "go back to the bench and choose a step there")
	case g == nil:
		return nil, nil
	case do != combine:
		for _, p := range m.f.Phases {
			if p.Letter == phase && (phase != g.last() || m.closes(p).Seq == 0) {
				return nil, nil
			}
		}
	}
	if wait := m.notReady(g); len(wait) > 0 {
		return nil, refuse("not ready", "phase", "not every pot is in range; "+join(wait...), "read each pot again when it is warm; if they were combined all the same, write a note and go on")
	}
	return g, nil
}
