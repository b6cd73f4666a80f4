package book

import (
	"strings"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

// usable is what can be weighed from, in mg by key of ingredient or base: lots that are not held and not past their date. A key that no lot was ever
// received of is left out, since nobody counts it; one whose lots are used up, held or past is there with nothing.
func (s *State) usable(today int64) map[string]calc.Mass {
	out := map[string]calc.Mass{}
	s.lots.each(func(_ string, l *lot) bool {
		if l.body.What == "container" {
			return true
		}
		out[l.body.Ingredient] += 0
		if rest := l.body.Mass - l.used; rest > 0 && !l.held && (l.body.Expiry == 0 || l.body.Expiry >= today) {
			out[l.body.Ingredient] += calc.Mass(rest)
		}
		return true
	})
	return out
}

// paid is what 100 g of each ingredient cost, in money, by the newest lot with a price.
func (s *State) paid() map[string]decimal.Decimal {
	out, newest := map[string]decimal.Decimal{}, map[string]int64{}
	s.lots.each(func(_ string, l *lot) bool {
		if b := &l.body; b.What != "container" && b.Cost > 0 && b.Mass > 0 && b.Received >= newest[b.Ingredient] {
			newest[b.Ingredient] = b.Received
			out[b.Ingredient] = decimal.New(b.Cost, -2).Mul(decimal.New(100_000, 0)).DivRound(decimal.New(b.Mass, 0), 8)
		}
		return true
	})
	return out
}

// costs are what 100 g of each line's ingredient or base cost. Water without a price counts as nothing. without names what has no price.
func (s *State) costs(f calc.Formula, k calc.Known) (of map[string]decimal.Decimal, without []string) {
	of = s.paid()
	missing := map[string]bool{}
	var cost func(lines []calc.Line) (decimal.Decimal, bool)
	cost = func(lines []calc.Line) (sum decimal.Decimal, all bool) {
		all = true
		for _, l := range calc.Total(lines).Lines {
			key := l.Ingredient + l.Base // one of the two is empty
			if _, done := of[key]; !done && !missing[key] {
				i := k.Ingredients[l.Ingredient]
				switch {
				case l.Base != "" && k.Bases[l.Base] != nil:
					missing[key] = true // until it is known, so that a base is looked into once
					if c, ok := cost(k.Bases[l.Base].Lines); ok {
						of[key] = c
						delete(missing, key)
					}
				case i != nil && strings.EqualFold(i.INCI, "Aqua"):
					of[key] = decimal.Decimal{}
				default:
					missing[key] = true
					without = append(without, s.lineName(l.Ingredient, l.Base))
				}
			}
			all = all && !missing[key]
			sum = sum.Add(of[key].Mul(decimal.New(int64(l.Percent), -6)))
		}
		return sum, all
	}
	cost(f.Lines)
	return of, without
}
