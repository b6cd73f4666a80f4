package calc

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"
)

// Target is one figure that a formula shall have, from Low to High; nil leaves that side open. What is "active matter", "water", "oil", "cost" (money for
// 100 g), "hlb" or "line" (that line's own per cent).
type Target struct {
	What, Line string
	Low, High  *decimal.Decimal
}

// TargetResult is what became of a target: its figure before and after, exact, and by how much it is missed; ShortBy is 0 when it is met.
type TargetResult struct {
	Target
	Before, After decimal.Decimal
	Known         bool
	ShortBy       decimal.Decimal
	Against       string // which targets stand in its way, in words
}

// Aimed is the nearest formula to the present one that meets the targets, in the order in which they were written.
type Aimed struct {
	Before, After Formula
	Targets       []TargetResult
	Findings      []Finding
}

// aimDoubt is how far a figure may lie beside its target by the rounding of shares to 0.0001 %.
var aimDoubt = decimal.New(1, -2)

// Aim changes the shares of a formula as little as may be (the least sum of squares) so that it meets targets. fixed names lines that stay, cost is money
// for 100 g of an ingredient by key, shelf the most per cent of a line that the stock allows, by line. A target that cannot be met beside those written
// before it is met as nearly as can be, and it is said by how much it fails: nothing is traded away in silence.
func Aim(f Formula, k Known, targets []Target, fixed map[string]bool, cost map[string]decimal.Decimal, shelf map[string]Percent) (Aimed, *FieldError) {
	t := Total(f.Lines)
	if len(t.Findings) > 0 {
		return Aimed{}, &FieldError{Field: "formula.lines", Says: t.Findings[0].Says, Want: t.Findings[0].Do}
	}
	f.Lines = t.Lines
	n := len(f.Lines)
	if n > 60 || len(targets) > 30 {
		return Aimed{}, &FieldError{Field: "targets", Says: "that is more than can be weighed against one another here", Want: "at most 60 lines and 30 targets"}
	}
	free := 0
	for _, l := range f.Lines {
		if !fixed[l.ID] {
			free++
		}
	}
	if free < 2 {
		return Aimed{}, &FieldError{Field: "fixed", Says: "with so many lines that stay, nothing can change", Want: "let at least two lines change"}
	}
	have, one := make([]float64, n), make([]float64, n)
	for i, l := range f.Lines {
		have[i], one[i] = float64(l.Percent)/1e4, 1
	}
	under := []most{{a: one, b: 100, equal: true}}
	for i, l := range f.Lines {
		row := make([]float64, n)
		row[i] = 1
		if fixed[l.ID] {
			under = append(under, most{a: row, b: have[i], equal: true})
		} else if p, ok := shelf[l.ID]; ok {
			under = append(under, most{a: row, b: float64(p) / 1e4})
		}
	}
	x, _, ok := minimum(make([]float64, n), under)
	if !ok {
		return Aimed{}, &FieldError{Field: "fixed", Says: "the lines that stay and what is on the shelf leave no full jar", Want: "let more lines change"}
	}
	out := Aimed{Before: f, After: f}
	for i, tg := range targets {
		rows, err := aimRows(&f, k, tg, cost)
		if err != nil {
			return Aimed{}, err.under("targets[" + strconv.Itoa(i) + "]")
		}
		for _, r := range rows {
			under, x = meetOrNear(r, under, x)
		}
	}
	x, ok = nearest(have, x, under)
	if !ok {
		return Aimed{}, &FieldError{Field: "targets", Says: "no nearest formula was found", Want: "leave one target out, or give it more room"}
	}
	out.After.Lines = onGrid(f.Lines, x, fixed)
	var met []string
	for _, tg := range targets {
		r := TargetResult{Target: tg}
		r.Before, _ = aimFigure(&out.Before, k, tg, cost)
		r.After, r.Known = aimFigure(&out.After, k, tg, cost)
		if r.Known {
			r.ShortBy = missedBy(r.After, tg)
		}
		if r.ShortBy.IsPositive() {
			r.Against = list(met)
		} else {
			met = append(met, tg.says(&f, k))
		}
		out.Targets = append(out.Targets, r)
	}
	out.judge(k)
	return out, nil
}

// meetOrNear adds a·x ≤ b. Where it cannot be met beside the rest, b becomes the nearest that can.
func meetOrNear(r most, under []most, x []float64) ([]most, []float64) {
	if got, _, ok := minimum(make([]float64, len(x)), append(under[:len(under):len(under)], r)); ok {
		return append(under, r), got
	}
	got, value, ok := minimum(r.a, under)
	if !ok {
		return under, x
	}
	r.b = value + 1e-7
	return append(under, r), got
}

// aimRows writes a target as one or two rows of a·x ≤ b over the lines' per cents.
func aimRows(f *Formula, k Known, t Target, cost map[string]decimal.Decimal) ([]most, *FieldError) {
	n := len(f.Lines)
	each := make([]float64, n)
	var rows []most
	row := func(low bool, bound decimal.Decimal, of func(i int) float64) {
		a, sign := make([]float64, n), 1.0
		if low {
			sign = -1
		}
		for i := range a {
			a[i] = sign * of(i)
		}
		rows = append(rows, most{a: a, b: sign * bound.InexactFloat64()})
	}
	if t.What == "hlb" { // Σ (HLB − bound) x over the emulsifiers: at most, or at least, nothing
		zero := decimal.Decimal{}
		has := func(i int) (float64, bool) {
			h, ok := lineHLB(f, k, i)
			return h.InexactFloat64(), ok
		}
		some := false
		for i := range f.Lines {
			_, ok := has(i)
			some = some || ok
		}
		if !some {
			return nil, &FieldError{Field: "what", Says: "no line is an emulsifier whose HLB is known", Want: "add one, or leave this target out"}
		}
		for _, side := range []struct {
			bound *decimal.Decimal
			low   bool
		}{{t.Low, true}, {t.High, false}} {
			if side.bound != nil {
				row(side.low, zero, func(i int) float64 {
					if h, ok := has(i); ok {
						return h - side.bound.InexactFloat64()
					}
					return 0
				})
			}
		}
		return rows, nil
	}
	for i := range f.Lines {
		v, err := aimPart(f, k, t, i, cost)
		if err != nil {
			return nil, err
		}
		each[i] = v.InexactFloat64()
	}
	of := func(i int) float64 { return each[i] }
	if t.Low != nil {
		row(true, *t.Low, of)
	}
	if t.High != nil {
		row(false, *t.High, of)
	}
	return rows, nil
}

// lineHLB is the HLB of a line that is an emulsifier with a figure; the middle where sources differ.
func lineHLB(f *Formula, k Known, i int) (decimal.Decimal, bool) {
	ing := k.Ingredients[f.Lines[i].Ingredient]
	if f.Lines[i].Base != "" || ing == nil || !does(ing, "emulsifier") && !does(ing, "co-emulsifier") && !does(ing, "solubiliser") {
		return decimal.Decimal{}, false
	}
	all := ownHLB(ing)
	if len(all) == 0 {
		return decimal.Decimal{}, false
	}
	low, high := spread(all)
	return decimal.New(int64(low+high)*5, -2), true
}

// aimPart is what 1 % of a line brings to a target's figure.
func aimPart(f *Formula, k Known, t Target, i int, cost map[string]decimal.Decimal) (decimal.Decimal, *FieldError) {
	l := f.Lines[i]
	alone := Formula{Lines: []Line{{ID: l.ID, Ingredient: l.Ingredient, Base: l.Base, Percent: Hundred}}}
	switch t.What {
	case "line":
		if l.ID == t.Line {
			return decimal.New(1, 0), nil
		}
		return decimal.Decimal{}, nil
	case "cost":
		c, ok := cost[l.Ingredient]
		if l.Base != "" {
			c, ok = cost[l.Base]
		}
		if !ok {
			return c, &FieldError{Field: "what", Says: "the cost of " + k.name(l) + " is missing", Want: "give what 100 g of it cost"}
		}
		return c.Shift(-2), nil
	}
	e := gatherEvidence(&alone, k, 0)
	switch t.What {
	case "active matter":
		total, _ := e.active()
		return total.Shift(-2), nil
	case "water":
		return e.waterIn().Shift(-2), nil
	case "oil":
		return e.emulsion().Oily.Shift(-2), nil
	}
	return decimal.Decimal{}, &FieldError{Field: "what", Says: "“" + short(t.What) + "” is not a figure that can be aimed at", Want: "active matter, water, oil, cost, hlb or line"}
}

// aimFigure is a target's figure of a whole formula, exact. known is false for an HLB without emulsifier.
func aimFigure(f *Formula, k Known, t Target, cost map[string]decimal.Decimal) (decimal.Decimal, bool) {
	sum, holds := decimal.Decimal{}, []HLBShare{}
	for i, l := range f.Lines {
		share := decimal.New(int64(l.Percent), -4)
		if t.What == "hlb" {
			if h, ok := lineHLB(f, k, i); ok {
				holds = append(holds, HLBShare{share, h})
			}
			continue
		}
		part, err := aimPart(f, k, t, i, cost)
		if err != nil {
			return sum, false
		}
		sum = sum.Add(share.Mul(part))
	}
	if t.What == "hlb" {
		return HLBOf(holds)
	}
	return sum, true
}

// FigureNow is a figure that can be aimed at, as a formula has it, exact; known is false where the formula has none, such as an HLB without emulsifier.
func FigureNow(f Formula, k Known, what string, cost map[string]decimal.Decimal) (decimal.Decimal, bool) {
	f.Lines = Total(f.Lines).Lines
	return aimFigure(&f, k, Target{What: what}, cost)
}

func missedBy(figure decimal.Decimal, t Target) decimal.Decimal {
	switch {
	case t.Low != nil && t.Low.Sub(figure).GreaterThan(aimDoubt):
		return t.Low.Sub(figure)
	case t.High != nil && figure.Sub(*t.High).GreaterThan(aimDoubt):
		return figure.Sub(*t.High)
	}
	return decimal.Decimal{}
}

// Says is the target in words: "active matter 12 to 15".
func (t Target) Says(f Formula, k Known) string { return t.says(&f, k) }

func (t Target) says(f *Formula, k Known) string {
	name := t.What
	if t.What == "line" {
		name = k.name(*f.lineOf(t.Line))
	}
	switch {
	case t.Low != nil && t.High != nil:
		return name + " " + t.Low.String() + " to " + t.High.String()
	case t.Low != nil:
		return name + " at least " + t.Low.String()
	case t.High != nil:
		return name + " at most " + t.High.String()
	}
	return name
}

// onGrid rounds shares to 0.0001 %; what is left over goes to the largest line that may change.
func onGrid(lines []Line, x []float64, fixed map[string]bool) []Line {
	out := append([]Line(nil), lines...)
	sum, largest := Percent(0), -1
	for i := range out {
		if !fixed[out[i].ID] {
			out[i].Percent = Percent(math.Round(math.Max(0, x[i]) * 1e4))
			if largest < 0 || out[i].Percent > out[largest].Percent {
				largest = i
			}
		}
		sum += out[i].Percent
	}
	if largest >= 0 {
		out[largest].Percent += Hundred - sum
	}
	return out
}

func (a *Aimed) judge(k Known) {
	for _, r := range a.Targets {
		if !r.ShortBy.IsPositive() {
			continue
		}
		says := "“" + r.says(&a.Before, k) + "” cannot be met"
		if r.Against != "" {
			says += " beside " + r.Against
		}
		a.Findings = append(a.Findings, Finding{Rule: "aim", Level: Care, Subject: r.Line, Says: says + "; the formula comes as near as it can", Figure: r.After.Round(2).String() + ", missed by " + r.ShortBy.Round(2).String(), Limit: r.says(&a.Before, k),
			Source: "worked out from the formula's own figures; targets written first go first", Do: "give it more room, let another line change, or write it above the others"})
	}
	for _, l := range a.After.Lines {
		ing := k.Ingredients[l.Ingredient]
		if ing == nil || l.Base != "" {
			continue
		}
		most := ing.Maximum
		if before := a.Before.lineOf(l.ID).Percent; most != nil && l.Percent > most.Percent && before <= most.Percent {
			a.Findings = append(a.Findings, Finding{Rule: "aim", Level: Stop, Subject: l.ID, Says: ing.Name + " would stand above its supplier's maximum", Figure: l.Percent.String() + " %", Limit: most.Percent.String() + " %", Source: most.Cite.String(), Date: most.Cite.Dated(), Do: "keep this line as it is, and aim again"})
		}
	}
	a.Findings = append(a.Findings, Finding{Rule: "aim", Level: Note, Says: "texture and keeping are not among these figures: make 100 g", Source: "this book's own rule", Do: "compare it with the one before, at the same age"})
}
