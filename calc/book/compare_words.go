package book

import (
	"strconv"
	"strings"

	"stillroom/calc"
)

// alsoDiffers says in plain words what differs beside the lines: name, kind, treatments, notes, bases, plan.
func (s *State) alsoDiffers(from, to *FormulaSaved, pairs []linePair) []string {
	var out []string
	changed := func(what, a, b string) {
		switch {
		case a == b:
		case a == "":
			out = append(out, what+": "+b+", not said before")
		case b == "":
			out = append(out, what+": no longer said; it was "+a)
		default:
			out = append(out, what+": "+a+" → "+b)
		}
	}
	if from.Key == to.Key { // a variant is expected to have a name of its own
		changed("name", from.Name, to.Name)
	}
	changed("kind", from.Wash, to.Wash)
	changed("made for", from.Site, to.Site)
	changed("age", from.Age, to.Age)
	changed("months unopened", blankZero(from.Life, 0), blankZero(to.Life, 0))
	changed("months after opening", blankZero(from.AfterOpen, 0), blankZero(to.AfterOpen, 0))
	before := map[string]*Phase{}
	for i := range from.Phases {
		before[from.Phases[i].Letter] = &from.Phases[i]
	}
	for i := range to.Phases {
		p := &to.Phases[i]
		if old := before[p.Letter]; old != nil {
			changed("phase "+p.Letter, old.words(s.bench()), p.words(s.bench()))
			delete(before, p.Letter)
		} else {
			out = append(out, join("phase "+p.Letter+" is new", p.words(s.bench())))
		}
	}
	for i := range from.Phases {
		if p := &from.Phases[i]; before[p.Letter] == p {
			out = append(out, join("phase "+p.Letter+" is gone", p.words(s.bench())))
		}
	}
	for _, p := range pairs {
		if p.from == nil || p.to == nil {
			continue
		}
		name := s.lineName(p.to.Ingredient, p.to.Base)
		changed("note on "+name, p.from.Note, p.to.Note)
		if p.from.QS != p.to.QS {
			out = append(out, map[bool]string{true: name + " now takes up the rest (q.s.)", false: name + " no longer takes up the rest (q.s.)"}[p.to.QS])
		}
		if p.to.Base != "" {
			changed("base "+name, s.baseRevision(from, p.from.ID), s.baseRevision(to, p.to.ID))
		}
	}
	changed("jars", blankZero(from.Plan.Jars, 0), blankZero(to.Plan.Jars, 0))
	changed("fill", unit(blankZero(from.Plan.Fill, 3), " g"), unit(blankZero(to.Plan.Fill, 3), " g"))
	changed("loss", unit(blankZero(from.Plan.Loss, 4), " %"), unit(blankZero(to.Plan.Loss, 4), " %"))
	changed("scale", unit(blankZero(from.Plan.Step, 3), " g"), unit(blankZero(to.Plan.Step, 3), " g"))
	changed("container", s.containerName(from.Container), s.containerName(to.Container))
	return out
}

// words is a treatment as it would be said: "heat to 75 °C, hold 20 min", with °F beside it for who thinks in that.
func (p *Phase) words(in calc.Bench) string {
	out := p.Do
	if p.To != "" {
		to := p.To
		if d, e := calc.ReadDegrees(p.To, "C"); e == nil {
			d.Both = in.Fahrenheit
			to = d.Show()
		}
		out = strings.TrimSpace(out + " to " + to)
	}
	if p.HoldMin > 0 {
		out += ", hold " + number(p.HoldMin) + " min"
	}
	if p.Pot != "" {
		out += ", in " + p.Pot
	}
	return strings.TrimPrefix(out, ", ")
}

// baseRevision is the number of the revision that a line's base had when it was saved.
func (s *State) baseRevision(b *FormulaSaved, line string) string {
	for _, l := range b.Lines {
		if r := s.formulas.get(l.Base).find(l.BaseRev); l.ID == line && r != nil {
			return "revision " + strconv.Itoa(r.number)
		}
	}
	return ""
}

func unit(figure, name string) string {
	if figure == "" {
		return ""
	}
	return figure + name
}

func (s *State) containerName(key string) string {
	if c := s.containers.get(key); c != nil {
		return c.body.Name
	}
	return key
}
