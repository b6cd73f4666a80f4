package book

import (
	"strings"

	"stillroom/calc"
)

const (
	wayTrial = "ph trial"
	whyPH    = "for the pH"
)

// adjustArgs are a trial on a sample as it was typed so far, and what then goes into the pot.
type adjustArgs struct {
	Batch      string        `json:"batch"`
	Ingredient string        `json:"ingredient"`
	Strength   string        `json:"strength"` // per cent of it in water
	Sample     string        `json:"sample"`
	Pot        string        `json:"pot"`
	Low        string        `json:"low"`
	High       string        `json:"high"`
	Points     []AdjustPoint `json:"points"`
	// Fresh asks for a new trial though one stands in the record.
	Fresh bool   `json:"fresh"`
	Grams string `json:"grams"` // of solution that went into the pot
	Lot   string `json:"lot"`
}

// AdjustPoint is one point of a trial as typed: grams of solution in the sample in all, and its pH.
type AdjustPoint struct {
	Added string `json:"added"`
	PH    string `json:"ph"`
}

// wantedPH is the window in which all that is known of a formula keeps, in hundredths; false when there is none.
func (m *making) wantedPH() (low, high int, ok bool) {
	w := calc.PHBars(m.f, m.known)
	return w.Low, w.High, len(w.Bars) > 0 && !w.Empty()
}

// milliPH writes a pH in thousandths with one decimal, or two where it has them.
func milliPH(v int64) string { return fixed(v, 3, 1) }

// trying is what the record says of the last trial: its note, what went in since, and the pH that was read after that.
type trying struct {
	of   *BatchNoted
	went int64 // mg of solution
	ph   int64 // thousandths, 0 while not read
}

func (m *making) trying() trying {
	var out trying
	m.b.stands(func(_ *row, body visitable) {
		switch x := body.(type) {
		case *BatchNoted:
			if x.Way == wayTrial && x.Strength > 0 {
				out = trying{of: x}
			}
		case *BatchWeighed:
			of := x.Ingredient
			if l := m.line(x.Line); l != nil {
				of = l.Ingredient
			}
			if out.of != nil && of == out.of.Ingredient && x.Mass > 0 && strings.HasPrefix(x.Why, whyPH) {
				solution := x.Solution
				if solution == 0 { // undiluted, corrected, or of a book that kept what was dissolved alone
					solution = dissolved(x.Mass, out.of.Strength)
				}
				out.went, out.ph = out.went+solution, 0
			}
		case *BatchRead:
			if out.went > 0 && x.What == "ph" {
				out.ph = x.Value
			}
		}
	})
	return out
}

// dissolved is how much solution holds so much of what is dissolved in it, mg.
func dissolved(mass, strength int64) int64 { return (mass*int64(calc.Hundred) + strength/2) / strength }

// inPot is all that was weighed in, less the samples of trials that stand in the record, in mg.
func (m *making) inPot() (all, samples int64) {
	w, _ := m.b.weighed()
	for _, x := range w {
		all += x.mass
	}
	m.b.stands(func(_ *row, body visitable) {
		if n, ok := body.(*BatchNoted); ok && n.Way == wayTrial {
			samples += n.Sample
		}
	})
	return all, samples
}

// readsPH is the smallest step of the instrument that read the last pH, in thousandths, and whether that was a strip.
func (m *making) readsPH() (reads int64, strip bool) {
	m.b.stands(func(_ *row, body visitable) {
		if r, ok := body.(*BatchRead); ok && r.What == "ph" {
			reads, strip = r.Step, r.Method == "strip"
		}
	})
	return reads, strip
}

// trial reads what was typed, whole: sample, strength, pot and what is wanted; the points may still be missing.
func (s *State) trial(m *making, a adjustArgs) (*BatchNoted, *Refusal) {
	i := s.ingredient(a.Ingredient)
	if i == nil {
		return nil, refuse("ingredient missing", "ingredient", "it was not said what brings the pH up or down", "choose it from the list, or add your own")
	}
	n := &BatchNoted{Batch: a.Batch, Way: wayTrial, Ingredient: a.Ingredient}
	strength, e := calc.ReadPercent(a.Strength)
	if e == nil && strength == 0 {
		e = &calc.FieldError{Says: "a solution of 0 % is water", Want: "write how much of 100 g of it is " + i.Name}
	}
	if e != nil {
		return nil, misread(e, "strength")
	}
	n.Strength = int64(strength)
	for _, g := range []struct {
		field, text string
		into        *int64
	}{{"sample", a.Sample, &n.Sample}, {"pot", a.Pot, &n.Pot}} {
		mass, no := readWeighing(g.text, 0, g.field)
		if no != nil {
			return nil, no
		}
		*g.into = mass
	}
	for _, p := range []struct {
		field, text string
		into        *int64
	}{{"low", a.Low, &n.Low}, {"high", a.High, &n.High}} {
		v, e := calc.ReadPH(p.text)
		if e != nil {
			return nil, misread(e, p.field)
		}
		*p.into = int64(v) * 10
	}
	switch {
	case n.Low > n.High:
		return nil, refuse("upside down", "low", "the wanted pH runs from "+milliPH(n.Low)+" down to "+milliPH(n.High), "write the lower figure first")
	case n.Sample*2 > n.Pot:
		return nil, refuse("too heavy", "sample", "a sample of "+plain(n.Sample, 3)+" g is more than half of the "+plain(n.Pot, 3)+" g in the pot", "weigh 20 to 50 g for a sample, and look at the decimal point")
	}
	n.Reads, _ = m.readsPH()
	for _, typed := range a.Points {
		p := TrialPoint{}
		if strings.Trim(typed.Added, " 0.,") != "" {
			mass, e := calc.ReadGrams(typed.Added)
			if e != nil {
				return nil, misread(e, "added")
			}
			p.Added = int64(mass)
		}
		v, e := calc.ReadPH(typed.PH)
		if e != nil {
			return nil, misread(e, "ph")
		}
		p.PH = int64(v) * 10
		n.Points = append(n.Points, p)
	}
	return n, nil
}

// solution is what a trial was done with, in words: "citric acid, 20 % in water".
func (s *State) solution(n *BatchNoted) string {
	name := s.lineName(n.Ingredient, "")
	if n.Strength < int64(calc.Hundred) {
		name += ", " + plain(n.Strength, 4) + " % in water"
	}
	return name
}

// adjusted scales a trial to its pot.
func (s *State) adjusted(m *making, n *BatchNoted, then *calc.TrialPoint) (calc.Adjusted, *calc.FieldError) {
	ask := calc.AdjustAsk{Solution: s.solution(n), Sample: calc.Mass(n.Sample), Batch: calc.Mass(n.Pot), Step: calc.Mass(m.b.body.Plan.Step), Low: int(n.Low / 10), High: int(n.High / 10), Reads: int(n.Reads / 10), Then: then}
	// What is pure in the solution: what the ingredient is without its own water, as far as it is dissolved.
	pure := calc.Hundred
	if i := s.ingredient(n.Ingredient); i != nil {
		for _, c := range i.Composition {
			if c.INCI == "Aqua" {
				pure -= c.Percent
			}
		}
	}
	ask.Strength = calc.Percent(int64(pure) * n.Strength / int64(calc.Hundred))
	for _, p := range n.Points {
		ask.Points = append(ask.Points, calc.TrialPoint{Added: calc.Mass(p.Added), PH: int(p.PH / 10)})
	}
	return calc.AdjustPH(ask)
}

// keepTrial writes a trial down, whole or not at all. It is not edited: a better one is a new one.
func (s *State) keepTrial(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, m, no := s.adjusting(args)
	if no != nil {
		return nil, nil, no
	}
	n, no := s.trial(m, a)
	if no != nil {
		return nil, nil, no
	}
	got, e := s.adjusted(m, n, nil)
	if e != nil {
		return nil, nil, misread(e, "")
	}
	n.Text = got.Says
	return s.one(ctx, KindBatchNoted, n)
}

func (s *State) adjusting(args []byte) (adjustArgs, *making, *Refusal) {
	a, no := arguments[adjustArgs](args)
	if no != nil {
		return a, nil, no
	}
	m, no := s.atBench(a.Batch)
	return a, m, no
}

// adjustPot writes what went into the pot of the solution that was tried: the acid or base by its own name, and the water
// that it was dissolved in, so that list, limits and findings follow both.
func (s *State) adjustPot(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, m, no := s.adjusting(args)
	if no != nil {
		return nil, nil, no
	}
	now := m.trying()
	if now.of == nil {
		return nil, nil, refuse("no trial", "batch", "no trial of what the batch takes is in its record", "do the trial on a weighed sample first")
	}
	mass, no := readWeighing(a.Grams, 0, "grams")
	if no != nil {
		return nil, nil, no
	}
	if mass > now.of.Pot {
		return nil, nil, refuse("too heavy", "grams", plain(mass, 3)+" g is more than all that is in the pot", "look at the decimal point, then type the grams again")
	}
	why, all, solution := whyPH, int64(calc.Hundred), int64(0)
	if mass*now.of.Strength < all {
		what := s.lineName(now.of.Ingredient, "")
		return nil, nil, refuse("too little", "grams", plain(mass, 3)+" g of "+s.solution(now.of)+" hold less than 1 mg of "+what+", and no row holds less than that",
			"take a weaker solution or a finer scale and do the trial anew; what is in the pot already is typed together with the next of it, from "+plain((all+now.of.Strength-1)/now.of.Strength, 3)+" g on")
	}
	dry := (mass*now.of.Strength + all/2) / all
	if dry < mass {
		solution = mass
		why = join(why, plain(mass, 3)+" g of "+s.solution(now.of))
	}
	var bodies []kindBody
	for _, part := range []additionArgs{{Batch: a.Batch, Ingredient: now.of.Ingredient, Lot: a.Lot, Grams: plain(dry, 3), Why: why}, {Batch: a.Batch, Ingredient: "water", Grams: plain(mass-dry, 3), Why: why}} {
		if part.Grams == "0" {
			continue
		}
		row, no := s.additionRow(m, part)
		if no != nil {
			return nil, nil, no
		}
		if part.Ingredient == now.of.Ingredient {
			row.Solution = solution
		}
		bodies = append(bodies, kindBody{KindBatchWeighed, row})
	}
	out, no := several(bodies...)
	return out, entryValue{s.next(ctx, Workshop, 0).String()}, no
}

// trialRow shows a trial on the record, so that it can be read long after.
func (s *State) trialRow(v *RowView, b *BatchNoted) {
	v.What, v.Title = "trial", "Trial for the pH"
	if len(b.Points) > 0 {
		v.Value = milliPH(b.Points[0].PH) + " → " + milliPH(b.Points[len(b.Points)-1].PH)
	}
	v.Detail = join(s.solution(b)+", on a sample of "+plain(b.Sample, 3)+" g: "+strings.Join(pointWords(b.Points), ", "), "wanted "+milliPH(b.Low)+" to "+milliPH(b.High), b.Text)
}

func pointWords(points []TrialPoint) []string {
	out := []string{}
	for _, p := range points {
		out = append(out, plain(p.Added, 3)+" g pH "+milliPH(p.PH))
	}
	return out
}
