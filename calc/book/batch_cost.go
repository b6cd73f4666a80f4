package book

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

// BatchCost is the view cost: what a jar cost to make from its lots. It is read from the workshop alone, and nothing
// that leaves it (cards, labels, the shelf, shared formulas) holds any of it.
type BatchCost struct {
	Says string     `json:"says"`
	Jar  Figure     `json:"jar"`
	All  Figure     `json:"all"`
	Rows []CostLine `json:"rows"`
	// Unchecked name what has no cost, one sentence each.
	Unchecked []string `json:"unchecked"`
}

// CostLine is what one ingredient of the batch cost.
type CostLine struct {
	Name  string `json:"name"`
	Grams string `json:"grams"`
	Cost  Figure `json:"cost"`
}

// costMove is a purchase or a use with the moment that puts it in order.
type costMove struct {
	at   int64
	move calc.CostMove
}

// movesOf are the purchases of an ingredient that have a cost, and all that was weighed from them, in order of time. A
// purchase comes before a use of the same moment.
func (s *State) movesOf(ingredient string, priced map[string]bool) []calc.CostMove {
	var all []costMove
	s.lots.each(func(key string, x *lot) bool {
		if x.body.Ingredient == ingredient && priced[key] {
			all = append(all, costMove{x.from.at, calc.CostMove{In: x.body.Mass, Paid: x.body.Cost, Lot: key}})
		}
		return true
	})
	s.batches.each(func(key string, b *batch) bool {
		b.stands(func(r *row, body visitable) {
			if x, ok := body.(*BatchWeighed); ok && x.Mass > 0 && priced[x.Lot] && s.lots.get(x.Lot).body.Ingredient == ingredient {
				all = append(all, costMove{r.from.at, calc.CostMove{Out: x.Mass, Lot: x.Lot, For: key}})
			}
		})
		return true
	})
	slices.SortStableFunc(all, func(a, b costMove) int {
		switch {
		case a.at != b.at:
			return int(min(max(a.at-b.at, -1), 1))
		case a.move.In > 0 && b.move.In == 0:
			return -1
		case b.move.In > 0 && a.move.In == 0:
			return 1
		}
		return 0
	})
	out := make([]calc.CostMove, 0, len(all))
	for _, x := range all {
		out = append(out, x.move)
	}
	return out
}

func (s *State) viewCost(args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	m := s.making(a.Key)
	if m == nil {
		return nil, unseenBatch("key")
	}
	v := BatchCost{Rows: []CostLine{}, Unchecked: []string{}}
	fill := m.b.filling()
	if fill == nil || fill.Jars == 0 {
		return v, nil
	}
	priced := map[string]bool{}
	s.lots.each(func(key string, x *lot) bool {
		priced[key] = x.body.Cost > 0 && x.body.Mass > 0
		return true
	})
	used := map[string]int64{} // by ingredient, of lots with a cost
	var order []string
	m.b.stands(func(_ *row, body visitable) {
		x, ok := body.(*BatchWeighed)
		if !ok || x.Mass <= 0 {
			return
		}
		name := s.lineName(x.Ingredient, "")
		if l := m.line(x.Line); l != nil {
			name = s.lineName(l.Ingredient, l.Base)
		}
		says := ""
		switch lot := s.lots.get(x.Lot); {
		case strings.HasPrefix(x.Why, whyGotIn):
			return
		case x.Lot == "" || lot == nil:
			says = "not checked: " + name + ", no lot was said"
		case !priced[x.Lot]:
			says = "not checked: " + name + ", lot " + lot.body.Code + " has no cost"
		default:
			ingredient := lot.body.Ingredient
			if used[ingredient] == 0 {
				order = append(order, ingredient)
			}
			used[ingredient] += x.Mass
			return
		}
		if !slices.Contains(v.Unchecked, says) {
			v.Unchecked = append(v.Unchecked, says)
		}
	})
	ask := calc.CostAsk{Made: int(fill.Jars), Places: 2}
	var masses []int64
	for _, ingredient := range order {
		name := s.lineName(ingredient, "")
		moves := s.movesOf(ingredient, priced)
		got, e := calc.CostStock(moves, "average")
		if e != nil {
			v.Unchecked = append(v.Unchecked, "not checked: "+name+", "+e.Says)
			continue
		}
		sum := decimal.Decimal{}
		for i, x := range moves {
			if x.For == a.Key {
				sum = sum.Add(got.Exact[i])
			}
		}
		masses = append(masses, used[ingredient])
		ask.Parts = append(ask.Parts, calc.CostPart{Name: name, Kind: "ingredient", Amount: sum.Shift(-2)})
	}
	if len(ask.Parts) == 0 {
		v.Says = "not checked: no lot of it has a cost"
		return v, nil
	}
	got, e := calc.Cost(ask)
	if e != nil {
		return nil, unseen("not worked out", "", e.Says, e.Want)
	}
	unit := strings.TrimSpace(" " + s.habits().Money)
	step := m.b.body.Plan.Step
	var terms []string
	for i, r := range got.Rows {
		mass := masses[i]
		each := r.Amount.Shift(5).DivRound(decimal.New(mass, 0), 4)
		v.Rows = append(v.Rows, CostLine{r.Name, grams(mass, step), Figure{Text: r.Rounded.StringFixed(2),
			Sum: onGrid(mass, step) + " g at " + each.StringFixed(4) + " for 100 g, the moving average of its lots with a cost = " + r.Amount.StringFixed(4)}})
		terms = append(terms, r.Rounded.StringFixed(2))
	}
	v.All = Figure{Text: strings.TrimSpace(got.Total.StringFixed(2) + " " + unit), Sum: strings.Join(terms, " + ") + " = " + got.Total.StringFixed(2)}
	v.Jar = Figure{Text: strings.TrimSpace(got.PerMade.StringFixed(3) + " " + unit), Sum: got.Exact.StringFixed(4) + " ÷ " + pieces(fill.Jars, fill.Word) + " = " + got.PerMade.StringFixed(3) + "; by the moving average of its lots"}
	v.Unchecked = append(v.Unchecked, "not counted: jars and lids, labels, your own time, the stall")
	return v, nil
}
