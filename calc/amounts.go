package calc

import "github.com/shopspring/decimal"

// Allowed is how much of a formula something allows: whole jars, and the mass that they take.
type Allowed struct {
	Jars  int
	Batch Mass
	// Most is the batch in mg before it is cut to whole jars.
	Most Mass
	// Limit is the key that runs out first: an ingredient, or a base that is made beforehand. "" for a vessel.
	Limit string
	// Uncounted are the keys of which there is no stock to count, in the order of the lines.
	Uncounted []string
}

// StockAllows is the largest batch that what is on hand allows, and which ingredient limits it. onHand is in mg by key; a key without an entry is not
// counted, and is said. A base with an entry is taken as made; without one its own ingredients are needed. The plan gives fill, loss and scale.
func StockAllows(f Formula, k Known, onHand map[string]Mass, plan PlanRead) (Allowed, *FieldError) {
	if t := Total(f.Lines); !t.Full() {
		return Allowed{}, &FieldError{Field: "lines", Says: "the lines sum to " + t.Sum.String() + " %", Want: "make them 100 first"}
	}
	if _, err := TakeApart(f, k); err != nil {
		return Allowed{}, err
	}
	n := needing{k: k, onHand: onHand, of: map[string]*needed{}}
	all := n.sum(f.Lines)
	a := Allowed{Most: -1}
	for _, key := range all.keys {
		have, counted := onHand[key]
		if all.share[key].IsZero() {
			continue
		}
		if !counted {
			a.Uncounted = append(a.Uncounted, key)
			continue
		}
		if most := Mass(decimal.New(int64(max(have, 0)), 0).Div(all.share[key]).Floor().IntPart()); a.Most < 0 || most < a.Most {
			a.Most, a.Limit = most, key
		}
	}
	if a.Most < 0 {
		return a, &FieldError{Field: "stock", Says: "nothing of this formula is on the shelf of this book", Want: "receive its ingredients first, with their grams"}
	}
	a.cut(plan)
	return a, nil
}

// needed is what share of a batch each key takes, 0 to 1, in the order of the lines.
type needed struct {
	keys  []string
	share map[string]decimal.Decimal
}

func (n *needed) add(key string, share decimal.Decimal) {
	if _, seen := n.share[key]; !seen {
		n.keys = append(n.keys, key)
	}
	n.share[key] = n.share[key].Add(share)
}

// needing sums each base once, however often it is used.
type needing struct {
	k      Known
	onHand map[string]Mass
	of     map[string]*needed
}

func (n *needing) sum(lines []Line) *needed {
	out := &needed{share: map[string]decimal.Decimal{}}
	for _, l := range Total(lines).Lines {
		part := decimal.New(int64(l.Percent), -6)
		if _, made := n.onHand[l.Base]; l.Base == "" || made || n.k.Bases[l.Base] == nil {
			out.add(l.Ingredient+l.Base, part) // one of the two is empty
			continue
		}
		if n.of[l.Base] == nil {
			n.of[l.Base] = n.sum(n.k.Bases[l.Base].Lines)
		}
		for _, key := range n.of[l.Base].keys {
			out.add(key, part.Mul(n.of[l.Base].share[key]))
		}
	}
	return out
}

// VesselAllows is the largest batch that fits a vessel of so many µL at a density in mg/mL: that of the product at its lightest, air and grit in it.
func VesselAllows(microL, mgPerML int64, plan PlanRead) (Allowed, *FieldError) {
	switch {
	case microL <= 0:
		return Allowed{}, &FieldError{Field: "vessel", Says: "the vessel holds nothing", Want: "write how many mL may be filled"}
	case mgPerML <= 0:
		return Allowed{}, &FieldError{Field: "density", Says: "its density is not known", Want: "weigh a cup of it, or write the density of an earlier batch"}
	}
	a := Allowed{Most: Mass(decimal.New(microL, 0).Mul(decimal.New(mgPerML, 0)).Shift(-3).Floor().IntPart())}
	a.cut(plan)
	return a, nil
}

// cut goes down to whole jars whose batch is not above the most.
func (a *Allowed) cut(plan PlanRead) {
	if plan.Fill <= 0 {
		return
	}
	wanted := decimal.New(int64(a.Most), 0).Mul(decimal.New(int64(Hundred-plan.Loss), -6)) // mg that reach jars
	a.Jars = int(min(wanted.Div(decimal.New(int64(plan.Fill), 0)).Floor().IntPart(), mostJars))
	a.Batch = BatchMass(a.Jars, plan.Fill, plan.Loss, plan.Step)
	for a.Jars > 0 && a.Batch > a.Most { // rounding to the scale's grid may go up by half a step
		a.Jars--
		a.Batch = BatchMass(a.Jars, plan.Fill, plan.Loss, plan.Step)
	}
}

// mostJars is the most that one plan makes here.
const mostJars = 100_000
