package calc

import "github.com/shopspring/decimal"

// The temperatures at which it is asked how much dissolves: on the shelf, and in a warm bathroom.
const (
	roomMilliC = 20_000
	bathMilliC = 38_000
)

// Grit is one soluble grit against the free water. Shares are in per cent of the formula; Room and Bath are upper bounds.
type Grit struct {
	Line, Name, INCI string
	Percent          decimal.Decimal
	Room, Bath       decimal.Decimal // at most so much dissolves at 20 and 38 °C
	Says             string
	Source           string
}

// Grits is what the free water can do to the grits.
type Grits struct {
	FreeWater decimal.Decimal // water inside supplied solutions included
	Grits     []Grit
	Findings  []Finding
}

// GritsOf tells of each soluble grit how much the free water can dissolve at most. It is an end state: grain size changes how soon, not how
// much, and glycerin or a set foam lower it (E2). Each grit is reckoned as if it had all the water.
func GritsOf(f Formula, k Known) Grits {
	f.Lines = Total(f.Lines).Lines
	e := gatherEvidence(&f, k, 0)
	return Grits{FreeWater: e.waterIn(), Grits: e.grits(), Findings: append(append(ruleGrit(e), ruleGritHot(e)...), ruleGritOrder(e)...)}
}

// leastGrit is the share from which something soluble is meant to scrub (own rule); less is a thickener or a taste.
const leastGrit = 5

func (e *evidence) isGrit(ing *Ingredient, share decimal.Decimal) bool {
	return ing != nil && does(ing, "grit") && !share.LessThan(decimal.New(leastGrit, 0))
}

func (e *evidence) grits() []Grit {
	water := e.waterIn()
	var out []Grit
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if !e.isGrit(ing, p.Percent) || !water.IsPositive() {
			continue
		}
		room, from, ok := Solubility(ing.INCI, roomMilliC)
		bath, _, ok2 := Solubility(ing.INCI, bathMilliC)
		if !ok || !ok2 {
			continue
		}
		g := Grit{Line: first(p), Name: ing.Name, INCI: ing.INCI, Percent: p.Percent, Room: water.Mul(room).Shift(-2), Bath: water.Mul(bath).Shift(-2), Source: from.String()}
		if g.Room.GreaterThanOrEqual(p.Percent) {
			g.Says = "all of these " + few(p.Percent) + " % may dissolve, in time."
		} else {
			g.Says = "at most " + few(g.Room) + " of these " + few(p.Percent) + " %, in time."
		}
		g.Room, g.Bath = decimal.Min(g.Room, p.Percent), decimal.Min(g.Bath, p.Percent)
		g.Says += " Coarse only slows it. A grit that does not dissolve stays."
		out = append(out, g)
	}
	return out
}

// few writes a share to whole per cents from 10 on, below that to a tenth.
func few(d decimal.Decimal) string {
	if d.LessThan(decimal.New(10, 0)) {
		return d.Round(1).String()
	}
	return d.Round(0).String()
}
