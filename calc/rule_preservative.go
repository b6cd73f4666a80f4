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
	if !alcohol.LessThan(decimal.New(20, 0)) {
		keeps = append(keeps, "Alcohol")
	}
	unread := len(e.apart.unknown) > 0 || e.err != nil
	switch {
	case water.IsZero() && unread:
		return []Finding{{Rule: "preservative", Level: Unchecked, Says: "not checked: whether it holds water; what a line is made of is missing", Source: keepingSource}}
	case water.IsZero():
		if len(e.apart.Substances) == 0 {
			return nil
		}
		return []Finding{{Rule: "preservative", Level: Note, Says: "no water in it, so no preservative is asked for; used with wet hands, water gets in", Figure: "0.00 % water",
			Source: "common practice", Do: "print: dry hands, keep water out, close the lid; a challenge test tells more"}}
	case len(keeps) > 0:
		return nil
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
		f.Says = "not checked: the water activity is missing. Glycerin is " + show(g) + " % beside " + show(water) + " % water, which may keep by itself"
		f.Do = "have the water activity measured, or add a preservative"
		f.Source = "standards of water activity, glycerin 60 in 40 of water: 0.73 (computed)"
	}
	return []Finding{f}
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
