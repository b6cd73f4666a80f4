package calc

import (
	"github.com/shopspring/decimal"
)

// WeighLine is one line to be weighed: what it is meant to be, and what it must stay within. Nil means that no such limit is known.
type WeighLine struct {
	ID, Name       string
	Percent        Percent
	Mass           Mass // as it stands on the scale, 0 to take the nearest step
	Low, High, Max *Percent
	Source         string // of the range or maximum
	Date           string // of that source
	Soluble        string // water, oil, both, neither or "" when not known
	Water, Oil     bool   // the line can carry a dilution: it is water, or an oil
	Step           Mass   // readability of its own scale, 0 for the batch's
}

// Weighing is what a scale can say of one line. Shares are in per cent of the batch, Plus in per cent of the line.
type Weighing struct {
	ID      string
	Mass    Mass
	Plus    decimal.Decimal // half a step and the rounding, relative to the line, to 0.01
	Quiet   string          // "± 5.0 %"
	Lowest  decimal.Decimal // true per cent of the batch at worst, to 0.0001
	Highest decimal.Decimal
	Breaks  bool // the reading error can carry it past its range or maximum
	Edge    Percent
	Ways    WaysOut // set when Breaks
}

// WaysOut are what helps when a line is too small for its scale; a zero value means that this way is not open.
type WaysOut struct {
	Batch  Mass // from this batch on the reading error breaks nothing, on the same scale
	Step   Mass // the coarsest finer scale that does, of 0.1, 0.01 and 0.001 g
	Dilute Dilution
}

// Dilution is how to weigh a small line through a dilution: Active in In makes Whole, of which Take carries the line; the solvent's own line
// gives In's share back, Less.
type Dilution struct {
	Active, In, Whole, Take, Less Mass
	Solvent                       string // id of the line that gives the solvent
	Says                          string
}

const smallestSource = "general form of USP <41>; this book's own rule: half a step and the rounding against the line's range, passing an edge by less than 1 % of it counts as met"

// SmallestMass is the least mass in grams that a scale weighs within a tolerance: 2 × max(s, 0.41 d) ÷ p, with s the standard deviation of
// ten weighings in grams (0 when not known) and d the readability (general form of USP <41>). The tolerance is above 0.
func SmallestMass(step Mass, s decimal.Decimal, tolerance Percent) decimal.Decimal {
	floor := decimal.New(int64(step)*41, -5)
	if s.LessThan(floor) {
		s = floor
	}
	return s.Mul(decimal.New(2*int64(Hundred), 0)).DivRound(decimal.New(int64(tolerance), 0), quotientPlaces)
}

// WeighLines gives a formula's lines ready for Smallest. A range is a limit for a preservative and where a supplier states it; a range of
// common practice is none.
func WeighLines(f Formula, k Known) []WeighLine {
	f.Lines = Total(f.Lines).Lines
	return weighLines(&f, k)
}

func weighLines(f *Formula, k Known) []WeighLine {
	out := make([]WeighLine, len(f.Lines))
	for i := range f.Lines {
		l := &f.Lines[i]
		out[i] = WeighLine{ID: l.ID, Name: k.name(*l), Percent: l.Percent}
		w := &out[i]
		ing := k.Ingredients[l.Ingredient]
		if l.Base != "" || ing == nil {
			continue
		}
		w.Soluble = ing.Soluble
		w.Water = does(ing, "water")
		w.Oil = ing.Soluble == "oil" && does(ing, "emollient")
		if r := ing.Usual; r != nil && (does(ing, "preservative") || r.Mark != "CP") {
			w.Low, w.High, w.Source, w.Date = &r.Low, &r.High, r.Cite.String(), r.Dated()
		}
		if ing.Maximum != nil {
			w.Max, w.Source, w.Date = &ing.Maximum.Percent, ing.Maximum.Cite.String(), ing.Maximum.Dated()
		}
		if most, ok := legalMaximum(ing, f, k.region()); ok && (w.Max == nil || most < *w.Max) {
			w.Max, w.Source, w.Date = &most, "the law's maximum, see limit", tableDate("limits")
		}
	}
	return out
}

// Smallest tells for each line what its scale can say of it, and a finding only where the reading error can break the line's range or
// maximum. The batch is above 0 up to a tonne; step is the scale's readability where a line has none of its own.
func Smallest(lines []WeighLine, batch, step Mass) ([]Weighing, []Finding, *FieldError) {
	switch {
	case batch <= 0 || batch > heaviest:
		return nil, nil, &FieldError{Field: "batch", Says: batch.String() + " g is not a batch", Want: "write a mass above 0 up to a tonne"}
	case step <= 0 || step > Kilogram:
		return nil, nil, &FieldError{Field: "step", Says: "no scale reads in steps of " + step.String() + " g", Want: "write 0.1 or 0.01"}
	}
	out := make([]Weighing, len(lines))
	var findings []Finding
	for i := range lines {
		l := &lines[i]
		d := step
		if l.Step > 0 {
			d = l.Step
		}
		w := weigh(l, batch, d)
		if w.Breaks {
			w.Ways = waysOut(lines, i, batch, d)
			findings = append(findings, w.finding(l))
		}
		out[i] = w
	}
	return out, findings, nil
}

// tolerated is how far an edge may be passed, in parts of the edge: 1 in 100.
const tolerated = 100

// room is how far a line may move down and up, in 10⁻⁶ % of the batch; −1 where nothing holds it. An edge that the formula itself has passed
// is no matter of weighing.
func (l *WeighLine) room() (down, up int64, low, high Percent) {
	down, up = -1, -1
	p := int64(l.Percent) * tolerated
	if l.Low != nil && *l.Low > 0 {
		if r := p - int64(*l.Low)*(tolerated-1); r > 0 {
			down, low = r, *l.Low
		}
	}
	for _, m := range []*Percent{l.High, l.Max} {
		if m == nil {
			continue
		}
		if r := int64(*m)*(tolerated+1) - p; r > 0 && l.Percent <= *m && (up < 0 || r < up) {
			up, high = r, *m
		}
	}
	return down, up, low, high
}

func weigh(l *WeighLine, batch, d Mass) Weighing {
	exact := int64(l.Percent) * int64(batch) // in mg × 10⁻⁶
	w := Weighing{ID: l.ID, Mass: l.Mass}
	if w.Mass == 0 {
		w.Mass = Mass(roundDiv(exact, int64(Hundred)*int64(d))) * d
	}
	if l.Percent <= 0 || w.Mass == 0 {
		return w
	}
	off := int64(w.Mass)*int64(Hundred) - exact
	if off < 0 {
		off = -off
	}
	worst := decimal.New(2*off+int64(d)*int64(Hundred), 0)
	w.Plus = worst.Shift(2).DivRound(decimal.New(2*exact, 0), 2)
	w.Quiet = "± " + w.Plus.StringFixed(1) + " %"
	// twice the mass, so that half a step stays whole
	share := func(twice int64) decimal.Decimal {
		return decimal.New(roundDiv(twice*int64(Hundred), 2*int64(batch)), -4)
	}
	w.Lowest, w.Highest = share(2*int64(w.Mass)-int64(d)), share(2*int64(w.Mass)+int64(d))
	down, up, low, high := l.room()
	if down >= 0 && (2*int64(w.Mass)-int64(d))*int64(Hundred)*tolerated < 2*int64(batch)*int64(low)*(tolerated-1) {
		w.Breaks, w.Edge = true, low
	}
	if up >= 0 && (2*int64(w.Mass)+int64(d))*int64(Hundred)*tolerated > 2*int64(batch)*int64(high)*(tolerated+1) {
		w.Breaks, w.Edge = true, high
	}
	return w
}

func (w *Weighing) finding(l *WeighLine) Finding {
	name := l.Name
	if name == "" {
		name = "this line"
	}
	f := Finding{Rule: "smallest", Level: Care, Subject: l.ID, Says: "too little " + name + " for this scale: it may be " + w.Lowest.StringFixed(2) + " to " + w.Highest.StringFixed(2) + " %",
		Figure: w.Quiet, Limit: "at least " + w.Edge.String() + " %", Source: smallestSource, Date: both(rulesDate, l.Date)}
	if l.Low == nil || w.Edge != *l.Low {
		f.Limit = "at most " + w.Edge.String() + " %"
	}
	if l.Source != "" {
		f.Source += "; limit: " + l.Source
	}
	f.Do = w.Ways.says()
	return f
}

func (w WaysOut) says() string {
	var ways []string
	if w.Step > 0 {
		ways = append(ways, "take a scale that reads "+w.Step.On(w.Step)+" g")
	}
	if w.Batch > 0 {
		ways = append(ways, "make "+plainGrams(w.Batch)+" g or more")
	}
	if w.Dilute.Take > 0 {
		ways = append(ways, w.Dilute.Says)
	}
	if len(ways) == 0 {
		return "move the line away from its limit"
	}
	out := ways[0]
	for _, way := range ways[1:] {
		out += "; or " + way
	}
	return out
}
