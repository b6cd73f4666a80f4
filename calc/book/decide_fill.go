package book

import (
	"strings"

	"stillroom/calc"
)

type fillArgs struct {
	Batch string `json:"batch"`
	Jars  string `json:"jars"`
	Place string `json:"place"`
	Note  string `json:"note"`
}

type fillValue struct {
	Entry string `json:"entry"`
	Jars  int64  `json:"jars"`
}

// fill ends a making: the filling goes to the workshop, the jars and the public card to the shelf, in one go. If the
// program is cut between the two, Missing writes the shelf's half at the next start.
func (s *State) fill(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[fillArgs](args)
	if no != nil {
		return nil, nil, no
	}
	m, no := s.atBench(a.Batch)
	if no != nil {
		return nil, nil, no
	}
	n, e := calc.ReadCount(a.Jars)
	if e != nil {
		return nil, nil, misread(e, "jars")
	}
	plan := m.b.body.Plan
	if plan.Jars > 0 && int64(n) > 10*plan.Jars {
		return nil, nil, refuse("too many", "jars", number(int64(n))+" is more than ten times the "+pieces(plan.Jars, "jar")+" planned", "count again; if it is true, start a batch with the right plan")
	}
	if open := s.unweighed(m); len(open) > 0 {
		return nil, nil, refuse("not weighed", "", "not weighed yet: "+listed(open), "weigh what went in, so that the record says what is in the jars")
	}
	where, no := s.placeNamed(a.Place)
	if no != nil {
		return nil, nil, no
	}
	f := &BatchFilled{Batch: a.Batch, Jars: int64(n), Place: where, Note: strings.TrimSpace(a.Note), Net: plan.Fill, Day: dayOf(ctx.Now, ctx.Zone)}
	f.Word = s.wordOf(m.b)
	f.Keys = s.runs(ctx, a.Batch, n)
	life := s.shelfLife(m, f.Day)
	f.Best, f.Lots = numberOfDay(life.Best), int64(life.Lots)
	half, no := s.shelfHalf(m, f)
	if no != nil {
		return nil, nil, no
	}
	d, no := draft(KindBatchFilled, f)
	if no != nil {
		return nil, nil, no
	}
	return append([]Draft{d}, half...), fillValue{s.next(ctx, Workshop, 0).String(), f.Jars}, nil
}

// unweighed names the lines of the plan that the record holds nothing of.
func (s *State) unweighed(m *making) []string {
	w, _ := m.b.weighed()
	var out []string
	for _, t := range m.b.body.Targets {
		if x := w[t.Line]; t.Mass > 0 && (x == nil || !x.done) {
			if l := m.line(t.Line); l != nil {
				out = append(out, s.lineName(l.Ingredient, l.Base))
			}
		}
	}
	return out
}

// runs spreads jars over keys: the batch's own first, then further ones when its numbers are used up.
func (s *State) runs(ctx Context, batchKey string, jars int) []JarRun {
	var out []JarRun
	d := drawer{seed: ctx.Rand}
	key := batchKey
	for jars > 0 {
		n := len(calc.JarNumbers(key, jars, firstJar))
		out = append(out, JarRun{key, int64(n)})
		jars -= n
		key = d.key(5, func(k string) bool {
			for _, r := range out {
				if r.Key == k {
					return true
				}
			}
			return s.jarKeyTaken(k)
		})
	}
	return out
}

// firstJar is the number of a key's first jar; people count from one.
const firstJar = 1

// placeNamed finds a place by key or by name. Home is built in, and so is the stall, named or not.
func (s *State) placeNamed(text string) (string, *Refusal) {
	text = strings.TrimSpace(text)
	if text == "" {
		return "home", nil
	}
	if k := strings.ToLower(text); k == "home" || k == "stall" {
		return k, nil
	}
	found, names := "", []string{"home", "stall"}
	s.places.each(func(k string, p *place) bool {
		if text == k || strings.EqualFold(text, p.body.Name) {
			found = k
		}
		if k != "home" && k != "stall" {
			names = append(names, p.body.Name)
		}
		return true
	})
	if found == "" {
		return "", refuse("place unknown", "place", "no place is called "+text, "choose one of "+listed(names))
	}
	return found, nil
}

func (s *State) placeName(key string) string {
	if p := s.places.get(key); p != nil {
		return p.body.Name
	}
	return key
}
