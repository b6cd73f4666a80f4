package calc

import (
	"sort"
	"strconv"

	"github.com/shopspring/decimal"
)

// ScaleLine is one line to be scaled. Max nil means that no maximum is known; Step 0 means the batch's own step.
type ScaleLine struct {
	ID      string
	Percent Percent
	QS      bool
	Max     *Percent
	Step    Mass
}

// ScaledLine is one line in grams on its scale.
type ScaledLine struct {
	ID    string
	Mass  Mass
	Step  Mass
	Exact decimal.Decimal // grams before rounding, exact
	True  decimal.Decimal // per cent after rounding, to 0.0001
	Error decimal.Decimal // relative error of the rounding in per cent, to 0.01
}

// Scaled is a batch in grams; the lines sum to Batch exactly.
type Scaled struct {
	Batch    Mass
	Lines    []ScaledLine
	Findings []Finding
}

// BatchMass is jars × fill ÷ (1 − loss), rounded to the nearest step of the scale: 24 × 120 g with 4 % loss needs 3,000.0 g, for a loss
// is a share of what is made and not of what is wanted. Loss is below 100 %.
func BatchMass(jars int, fill Mass, loss Percent, step Mass) Mass {
	if jars <= 0 || fill <= 0 || loss < 0 || loss >= Hundred {
		return 0
	}
	if step <= 0 {
		step = 1
	}
	wanted := decimal.New(int64(jars), 0).Mul(decimal.New(int64(fill), 0)).Mul(decimal.New(int64(Hundred), 0))
	steps := wanted.DivRound(decimal.New(int64(Hundred-loss), 0).Mul(decimal.New(int64(step), 0)), 0)
	if steps.GreaterThan(decimal.New(int64(10*heaviest), 0)) {
		return 10 * heaviest // far above what Scale takes; it will say so
	}
	return Mass(steps.IntPart()) * step
}

// Scale turns percentages that sum to 100 into grams on the scale's grid (step 0.001 g to 1 kg, batch up to one tonne). The grams sum to the
// batch exactly. What rounding leaves goes to the q.s. line, else by the largest remainder. A line with a maximum is never rounded up past
// it. A batch that does not lie on the grid, or lines on coarser scales of their own, move the batch by up to half the coarsest step.
func Scale(lines []ScaleLine, batch, step Mass) (Scaled, *FieldError) {
	var sum Percent
	qs := -1
	for i, l := range lines {
		at := "lines[" + strconv.Itoa(i) + "]"
		if l.Percent < 0 || l.Percent > Hundred {
			return Scaled{}, &FieldError{Field: at + ".percent", Says: l.Percent.String() + " % is not between 0 and 100", Want: "write a share of the formula"}
		}
		if l.Step < 0 || l.Step > Kilogram {
			return Scaled{}, &FieldError{Field: at + ".step", Says: "no scale reads in steps of " + l.Step.String() + " g", Want: "write 0.1 or 0.01"}
		}
		if l.QS && qs >= 0 {
			return Scaled{}, &FieldError{Field: at + ".qs", Says: "two lines are q.s.", Want: "leave one"}
		}
		if l.QS {
			qs = i
		}
		sum += l.Percent
	}
	switch {
	case sum != Hundred:
		return Scaled{}, &FieldError{Field: "lines", Says: "the lines sum to " + sum.String() + " %", Want: "make them 100 first"}
	case batch <= 0 || batch > heaviest:
		return Scaled{}, &FieldError{Field: "batch", Says: batch.String() + " g is not a batch", Want: "write a mass above 0 up to a tonne"}
	case step <= 0 || step > Kilogram:
		return Scaled{}, &FieldError{Field: "step", Says: "no scale reads in steps of " + step.String() + " g", Want: "write 0.1 or 0.01"}
	}
	s := scaling{lines: lines, batch: Mass(roundDiv(int64(batch), int64(step))) * step, step: step, qs: qs}
	if s.batch == 0 {
		return Scaled{}, &FieldError{Field: "batch", Says: batch.String() + " g is less than the scale can show", Want: "make more, or take a finer scale"}
	}
	s.share()
	return s.answer(batch), nil
}

// scaling holds the sharing out; masses are whole steps of each line's own grid.
type scaling struct {
	lines       []ScaleLine
	batch, step Mass
	qs          int
	mass        []Mass
}

func (s *scaling) stepOf(i int) Mass {
	if s.lines[i].Step > 0 {
		return s.lines[i].Step
	}
	return s.step
}

// past tells whether a mass is more than a line's maximum.
func (s *scaling) past(i int, m Mass) bool {
	max := s.lines[i].Max
	return max != nil && int64(m)*int64(Hundred) > int64(*max)*int64(s.batch)
}

func (s *scaling) share() {
	s.mass = make([]Mass, len(s.lines))
	if s.qs >= 0 && s.shareToQS() {
		return
	}
	for i := range s.lines {
		if s.stepOf(i) != s.stepOf(0) { // on different scales no residue can be shared out fairly: the batch moves instead
			for i := range s.lines {
				s.mass[i] = s.nearest(i)
			}
			return
		}
	}
	s.shareByRemainder()
}

// nearest rounds a line to the nearest step of its scale, or down when up would pass its maximum.
func (s *scaling) nearest(i int) Mass {
	step := s.stepOf(i)
	unit := int64(Hundred) * int64(step)
	exact := int64(s.lines[i].Percent) * int64(s.batch)
	m := Mass(exact/unit) * step
	if 2*(exact%unit) >= unit && !s.past(i, m+step) {
		m += step
	}
	return m
}

// shareToQS rounds every other line to the nearest and lets the q.s. line take what is left; false when it cannot.
func (s *scaling) shareToQS() bool {
	left := s.batch
	for i := range s.lines {
		if i != s.qs {
			s.mass[i] = s.nearest(i)
			left -= s.mass[i]
		}
	}
	step := s.stepOf(s.qs)
	m := left
	if left%step != 0 {
		m = Mass(roundDiv(int64(left), int64(step))) * step
	}
	if left < 0 || m < 0 || s.past(s.qs, m) && int64(m)*int64(Hundred) > int64(s.lines[s.qs].Percent)*int64(s.batch) {
		return false
	}
	s.mass[s.qs] = m
	return true
}

// shareByRemainder, for lines on one grid, rounds every line down and gives the steps that are left to the largest remainders, passing lines at their maximum.
func (s *scaling) shareByRemainder() {
	type rest struct {
		line int
		part int64 // what rounding down took away, the same unit for all lines
	}
	left := s.batch
	rests := make([]rest, 0, len(s.lines))
	for i, l := range s.lines {
		step := s.stepOf(i)
		unit := int64(Hundred) * int64(step)
		exact := int64(l.Percent) * int64(s.batch)
		s.mass[i] = Mass(exact/unit) * step
		left -= s.mass[i]
		if l.Percent > 0 {
			rests = append(rests, rest{i, exact % unit})
		}
	}
	sort.SliceStable(rests, func(a, b int) bool { return rests[b].part < rests[a].part })
	for again := true; again && left > 0; {
		again = false
		for _, r := range rests {
			step := s.stepOf(r.line)
			if step > left || s.past(r.line, s.mass[r.line]+step) {
				continue
			}
			s.mass[r.line] += step
			left -= step
			again = true
			if left == 0 {
				break
			}
		}
	}
}

func (s *scaling) answer(asked Mass) Scaled {
	out := Scaled{Lines: make([]ScaledLine, len(s.lines))}
	for i := range s.lines {
		out.Batch += s.mass[i]
	}
	for i, l := range s.lines {
		line := ScaledLine{ID: l.ID, Mass: s.mass[i], Step: s.stepOf(i), Exact: decimal.New(int64(l.Percent)*int64(s.batch), -9)}
		if out.Batch > 0 {
			line.True = decimal.New(roundDiv(int64(line.Mass)*int64(Hundred), int64(out.Batch)), -4)
		}
		if exact := int64(l.Percent) * int64(s.batch); exact > 0 {
			off := decimal.New(int64(line.Mass)*int64(Hundred)-exact, 0)
			line.Error = off.Mul(decimal.New(100, 0)).DivRound(decimal.New(exact, 0), 2)
		}
		if l.Percent > 0 && line.Mass == 0 {
			out.Findings = append(out.Findings, Finding{Rule: "too-small-to-weigh", Level: Care, Subject: l.ID, Says: "this line is less than half a step of the scale, so nothing of it would be weighed",
				Figure: line.Exact.String() + " g", Limit: line.Step.String() + " g", Source: ownScale, Do: "make more, take a finer scale, or make a dilution first"})
		}
		out.Lines[i] = line
	}
	if out.Batch != asked {
		out.Findings = append(out.Findings, Finding{Rule: "batch-moved", Level: Note, Says: "the batch moved to what the scale can show and the maxima allow",
			Figure: out.Batch.String() + " g", Limit: asked.String() + " g asked", Source: ownScale})
	}
	return out
}

const ownScale = "this book's own rule: every line on the grid of its scale, none rounded up past a maximum"
