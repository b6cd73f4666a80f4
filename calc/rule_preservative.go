package calc

import (
	"strings"

	"github.com/shopspring/decimal"
)

const (
	keepingSource = "common practice: what holds water grows microbes; K1 of this book's rules for what is not counted"
	// wet is the least water, in per cent, at which a missing preservative is a stop (own rule).
	wet = 1
)

// waterIn is all water of the formula, water inside supplied solutions included.
func (e *evidence) waterIn() decimal.Decimal {
	sum := decimal.Decimal{}
	for i := range e.apart.Substances {
		if s := e.k.Substances[e.apart.Substances[i].Key]; s != nil && s.Does("water") {
			sum = sum.Add(e.apart.Substances[i].Percent)
		}
	}
	return sum
}

// rulePreservative: a product with water needs a preservative. Substances that are often taken for one and are none (K1) are named, with
// the reason. Alcohol counts from 20 % of the product (ISO 29621). Much glycerin lowers the water activity, which is not worked out here.
func rulePreservative(e *evidence) []Finding {
	water := e.waterIn()
	var keeps, taken []string
	var why []string
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		s := e.k.Substances[p.Key]
		if s == nil || p.Percent.IsZero() {
			continue
		}
		switch s.Keeping {
		case "preservative":
			keeps = append(keeps, p.Key)
		case "not counted":
			if p.Key == "Glycerin" && p.Percent.LessThan(decimal.New(20, 0)) {
				continue // an ordinary humectant, which nobody takes for a preservative
			}
			taken = append(taken, p.Key)
			why = append(why, p.Key+": "+s.KeepingWhy)
		}
	}
	alcohol := e.amount("Alcohol").Add(e.amount("Alcohol Denat."))
	switch {
	case water.IsZero():
		return e.dry()
	case !alcohol.LessThan(decimal.New(20, 0)):
		return nil
	case len(keeps) > 0:
		return e.carriedIn(keeps, water)
	}
	f := Finding{Rule: "preservative", Level: Stop, Says: "there is water in it and no preservative", Figure: show(water) + " % water", Source: keepingSource,
		Do: "add a preservative that works at the product's pH, within its supplier's range"}
	if water.LessThan(decimal.New(wet, 0)) {
		f.Level, f.Says = Care, "a little water comes in with the ingredients and there is no preservative"
	}
	f.Subject = e.wettest()
	f.Phase = e.phaseOf(f.Subject)
	if len(taken) > 0 {
		f.Says += ". Not counted as one: " + strings.Join(why, "; ")
	}
	if g := e.amount("Glycerin"); g.IsPositive() && !g.LessThan(g.Add(water).Mul(decimal.New(6, -1))) {
		f.Level = Unchecked
		f.Says = "not checked: the water activity, how much of the water microbes can use, is missing. Glycerin is " + show(g) + " % beside " + show(water) + " % water, which may keep by itself"
		f.Do = "have the water activity measured, or add a preservative"
		f.Source = "standards of water activity, glycerin 60 in 40 of water: 0.73 (computed)"
	}
	return []Finding{f}
}

// dry is what is said of a product without water (K6): it needs no preservative until water gets in, and with wet hands it does. What is rinsed off or made for
// hands meets them every day; what is strewn into a bath is gone at once.
func (e *evidence) dry() []Finding {
	if unread := e.mayHoldWater(); len(unread) > 0 {
		return []Finding{{Rule: "preservative", Level: Unchecked, Says: "not checked: whether there is water in it; what " + list(unread) + " is made of is missing", Source: keepingSource,
			Do: "look it up with the supplier, and write it with the ingredient; until then treat the product as one with water"}}
	}
	if len(e.apart.Substances) == 0 {
		return nil
	}
	f := Finding{Rule: "preservative", Level: Note, Says: "no water in it, so no preservative is asked for; used with wet hands, water gets in", Figure: "0.00 % water",
		Source: "common practice", Do: "print: dry hands, keep water out, close the lid; a challenge test, in which a laboratory adds microbes and counts them, tells more"}
	if e.f.Wash == "rinse-off" && e.f.Site != "bath" || e.f.Site == "hand" {
		f.Level = Care
		f.Says = "no water in it, so no preservative is asked for, but it will be used with wet hands: water gets into the jar, and nothing in it stops microbes there"
		f.Do = "print: dry hands or a dry spoon, keep water out, close the lid; or add a preservative, and have a challenge test made"
	}
	return []Finding{f}
}

// mayHoldWater names what may bring water that is not counted: lines that could not be taken apart, and substances of which nothing is known here, unless the
// ingredient is said to go into oil.
func (e *evidence) mayHoldWater() []string {
	var out []string
	for _, id := range e.apart.unknown {
		if l := e.line(id); l != nil {
			out = append(out, e.called(l))
		}
	}
	for i := range e.f.Lines {
		if l := &e.f.Lines[i]; e.err != nil && l.Base != "" {
			out = append(out, e.called(l))
		}
	}
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !p.Percent.IsPositive() || ing.Soluble == "oil" || ing.Soluble == "neither" {
			continue
		}
		for _, c := range ing.Composition {
			if e.k.Substances[c.INCI] == nil {
				out = append(out, ing.Name)
				break
			}
		}
	}
	return out
}

// called is a line's name, or what was typed there when it names nothing known.
func (e *evidence) called(l *Line) string {
	if name := e.k.name(*l); name != "" {
		return name
	}
	if l.Ingredient != "" {
		return "“" + short(l.Ingredient) + "”"
	}
	return "a line without a name"
}

// carriedIn holds a preservative that no line was put in for, such as the one that keeps an extract, against the least that a maker would put in of it: what an
// extract brings for itself does not keep the whole. keeps are the preserving substances that are there.
func (e *evidence) carriedIn(keeps []string, water decimal.Decimal) []Finding {
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		if ing := e.k.Ingredients[p.Key]; ing != nil && p.Percent.IsPositive() && does(ing, "preservative") {
			return nil // put in on purpose: its range is another rule's
		}
	}
	var amounts, limits []string
	f := Finding{Rule: "preservative", Level: Stop, Source: keepingSource, Do: "add a preservative that works at the product's pH, within its supplier's range"}
	for _, inci := range keeps {
		p := e.part(inci)
		if f.Subject == "" {
			f.Subject, f.Phase = first(p), e.phaseOf(first(p))
		}
		amounts = append(amounts, show(p.Percent)+" % "+inci)
		low, ok := e.least(inci)
		switch {
		case !ok:
			f.Level = Unchecked
		case !p.Percent.Round(comparePlaces).LessThan(percentOf(low)):
			return nil
		default:
			limits = append(limits, "at least "+low.String()+" % "+inci)
		}
	}
	f.Figure, f.Limit = list(amounts), list(limits)
	of := e.nameLines([]string{f.Subject})
	if f.Level == Unchecked {
		f.Says = "not checked: whether the preservative inside " + of + " is enough for the whole; the least that keeps a product is missing"
		return []Finding{f}
	}
	f.Says = "the only preservative is what " + of + " brings for itself, and that is too little for the " + few(water) + " % of water in the whole"
	return []Finding{f}
}

// least is the low end of the usual range of an ingredient that is this substance alone.
func (e *evidence) least(inci string) (low Percent, ok bool) {
	for _, ing := range e.k.Ingredients {
		if len(ing.Composition) == 1 && ing.Composition[0].INCI == inci && ing.Usual != nil && does(ing, "preservative") && (!ok || ing.Usual.Low < low) {
			low, ok = ing.Usual.Low, true
		}
	}
	return low, ok
}

// wettest is the line that brings most of the water, where the finding stands.
func (e *evidence) wettest() string {
	best, line := decimal.Decimal{}, ""
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil {
			if l.Base != "" && line == "" {
				line = l.ID
			}
			continue
		}
		for _, c := range ing.Composition {
			if s := e.k.Substances[c.INCI]; s != nil && s.Does("water") {
				if w := decimal.New(int64(l.Percent)*int64(c.Percent), 0); w.GreaterThan(best) {
					best, line = w, l.ID
				}
			}
		}
	}
	return line
}
