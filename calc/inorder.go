package calc

import (
	"sort"

	"github.com/shopspring/decimal"

	"stillroom/calc/matter"
)

// inOrder gives the indices of the lines as they go in: by phase, then as written.
func (e *evidence) inOrder() []int {
	out := make([]int, len(e.f.Lines))
	for i := range out {
		out[i] = i
	}
	sort.SliceStable(out, func(a, b int) bool { return e.rank(out[a]) < e.rank(out[b]) })
	return out
}

// rank is the place of a line's phase; a phase that is not among the formula's stands last.
func (e *evidence) rank(i int) int {
	for j, p := range e.f.Phases {
		if p.Letter == e.f.Lines[i].Phase {
			return j
		}
	}
	return len(e.f.Phases)
}

// percentOf is a share as an exact decimal.
func percentOf(p Percent) decimal.Decimal { return decimal.New(int64(p), -4) }

// celsius writes thousandths of a degree Celsius.
func celsius(milliC int64) string { return matter.Decimals(milliC, 3, 0) + " °C" }

// watery is the share of water from which an ingredient brings water for others to dissolve in (own rule).
const watery = 5 * OnePercent

// holdsWater tells whether any of the chosen lines brings water; a base counts by what it is made of.
func (e *evidence) holdsWater(which func(*Line) bool) bool {
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		if l.Percent == 0 || !which(l) {
			continue
		}
		if ing := e.ingredient(l); ing != nil && e.waterOf(ing) >= watery {
			return true
		}
		if b := e.k.Bases[l.Base]; l.Base != "" && b != nil {
			for _, bl := range b.Lines {
				if ing := e.k.Ingredients[bl.Ingredient]; bl.Base != "" || ing != nil && e.waterOf(ing) >= watery {
					return true // a base in a base is taken to be wet, so that nothing is said in error
				}
			}
		}
	}
	return false
}

func (e *evidence) waterOf(ing *Ingredient) Percent {
	sum := Percent(0)
	for _, c := range ing.Composition {
		if s := e.k.Substances[c.INCI]; s != nil && s.Does("water") {
			sum += c.Percent
		}
	}
	return sum
}
