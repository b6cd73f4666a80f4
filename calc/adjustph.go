package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// TrialPoint is the pH of the sample after so much of the solution in all; the first point has none in it.
type TrialPoint struct {
	Added Mass
	PH    int // hundredths
}

// AdjustAsk is a trial on a weighed sample, to be scaled to the batch.
type AdjustAsk struct {
	Solution string  // "citric acid 50 %", for the sentence
	Strength Percent // of the acid or base in its solution
	Sample   Mass    // of product, without water that it was thinned with
	Points   []TrialPoint
	Batch    Mass
	Step     Mass // of the scale at the batch
	// Low and High are the pH wanted, hundredths; its middle is aimed at.
	Low, High int
	// Reads is the finest step of the meter or strip, hundredths (10 when 0).
	Reads int
	// Then, after the first part went into the batch: what was added so far and the pH measured.
	Then *TrialPoint
}

// Adjusted is how much solution the batch takes: in all, at first (80 %), and with Then what is still missing.
type Adjusted struct {
	All, First, Rest Mass
	Least, Most      Mass            // what the reading's own step leaves open
	Pure             decimal.Decimal // per cent of the batch that is acid or base itself, to 0.0001
	Aim              int
	Says             string
	Findings         []Finding
}

const adjustSource = "a trial on a weighed sample, by straight lines between its points; 80 % first, measure, finish (common practice)"

// AdjustPH scales a trial to the batch. It reads between the trial's points and never past the last one; it refuses a trial that turns back.
func AdjustPH(ask AdjustAsk) (Adjusted, *FieldError) {
	if err := ask.check(); err != nil {
		return Adjusted{}, err
	}
	out := Adjusted{Aim: (ask.Low + ask.High) / 2}
	first, last := ask.Points[0].PH, ask.Points[len(ask.Points)-1].PH
	if ask.Low <= first && first <= ask.High {
		out.Says = "pH " + showPH(first) + " is already where it should be: add nothing."
		return out, nil
	}
	want := out.Aim
	if !between(want, first, last) { // the trial may reach the wanted window without its middle
		want = ask.High
		if first < ask.Low {
			want = ask.Low
		}
	}
	sample, ok := ask.at(want)
	if !ok {
		do := "go on with the same sample until it is past pH " + showPH(want) + ", then ask again"
		if last < first != (want < first) {
			do = "it went the other way: take an acid to go down and a base to go up, on a fresh sample"
		}
		out.Says = "The trial ended at pH " + showPH(last) + " and did not reach " + showPH(want) + ": " + do + "."
		out.Findings = []Finding{{Rule: "adjust-ph", Level: Unchecked, Says: "not worked out: the trial did not reach pH " + showPH(want), Figure: "pH " + showPH(last), Limit: "pH " + showPH(want), Source: adjustSource, Do: do}}
		return out, nil
	}
	out.Aim = want
	reads := ask.Reads
	if reads == 0 {
		reads = 10
	}
	out.Least, out.Most = ask.span(want, reads, sample)
	out.All = ask.toBatch(sample)
	out.First = ask.toBatch(sample.Mul(decimal.New(8, -1)))
	out.Pure = sample.Mul(decimal.New(int64(ask.Strength), -4)).DivRound(decimal.New(int64(ask.Sample), 0), 4)
	grams := func(m Mass) string { return m.On(ask.Step) + " g" }
	out.Says = "The batch takes about " + grams(out.All) + " of " + ask.Solution + " to reach pH " + showPH(want) + ". Add " + grams(out.First) + " first (80 %), stir well, measure as in the trial, then finish."
	if out.All == 0 {
		out.Says = "The batch takes less of " + ask.Solution + " than the scale shows: thin the solution ten times with distilled water, and do the trial again with that."
	}
	if ask.Then != nil {
		ask.finish(&out, sample)
	}
	out.Findings = append(out.Findings, Finding{Rule: "adjust-list", Level: Note, Says: "what adjusts the pH is part of the product: about " + out.Pure.StringFixed(2) + " % of the pure acid or base", Figure: out.Pure.StringFixed(2) + " %",
		Source: "what went in is listed (G12)", Do: "write it down as weighed, and add it to the formula if it is not in it"})
	if reads > 20 {
		out.Findings = append(out.Findings, Finding{Rule: "adjust-strip", Level: Note, Says: "the strip reads in steps of " + showPH(reads) + ": anything from " + grams(out.Least) + " to " + grams(out.Most) + " may be right", Figure: showPH(reads), Limit: "0.2", Source: "this book's own rule",
			Do: "add in small parts, or measure with a meter"})
	}
	return out, nil
}

func (ask *AdjustAsk) check() *FieldError {
	if len(ask.Points) < 2 {
		return &FieldError{Field: "points", Says: "a trial needs the pH before and after", Want: "measure the sample, add a little, stir, measure again"}
	}
	if ask.Points[0].Added != 0 {
		return &FieldError{Field: "points[0].added", Says: "the first point already has " + ask.Points[0].Added.String() + " g in it", Want: "begin with the pH of the sample before anything was added, with added 0"}
	}
	if ask.Low > ask.High {
		return &FieldError{Field: "low", Says: "the wanted pH is upside down", Want: "write the lower figure as low"}
	}
	if ask.Then != nil && ask.Then.Added <= 0 {
		return &FieldError{Field: "then.added", Says: "nothing went into the batch yet", Want: "write the grams of solution that went in, or leave it out"}
	}
	down := ask.Points[len(ask.Points)-1].PH < ask.Points[0].PH
	for i := 1; i < len(ask.Points); i++ {
		p, q := ask.Points[i-1], ask.Points[i]
		at := "points[" + strconv.Itoa(i) + "]"
		if q.Added <= p.Added {
			return &FieldError{Field: at + ".added", Says: "no more is in the sample than at the point before", Want: "write what is in the sample in all, growing"}
		}
		if p.PH != q.PH && (q.PH < p.PH) != down {
			return &FieldError{Field: at + ".ph", Says: "the pH turns back from " + showPH(p.PH) + " to " + showPH(q.PH), Want: "stir, wait until the meter stands still, rinse it, and measure this point again"}
		}
	}
	return nil
}

// between tells whether a pH lies between two others, in either order.
func between(v, a, b int) bool { return min(a, b) <= v && v <= max(a, b) }

// at is how many milligrams of solution take the sample to a pH, by a straight line between the two points around it; the least of them
// where the pH stands still. ok is false outside the trial.
func (ask *AdjustAsk) at(pH int) (decimal.Decimal, bool) {
	for i := 1; i < len(ask.Points); i++ {
		p, q := ask.Points[i-1], ask.Points[i]
		switch {
		case pH == p.PH:
			return decimal.New(int64(p.Added), 0), true
		case p.PH != q.PH && between(pH, p.PH, q.PH):
			part := decimal.New(int64(q.Added-p.Added)*int64(pH-p.PH), 0).DivRound(decimal.New(int64(q.PH-p.PH), 0), quotientPlaces)
			return decimal.New(int64(p.Added), 0).Add(part), true
		}
	}
	return decimal.Decimal{}, false
}

// span is what the batch takes for a pH half a reading's step to either side, as far as the trial went.
func (ask *AdjustAsk) span(pH, reads int, sample decimal.Decimal) (least, most Mass) {
	least, most = ask.toBatch(sample), ask.toBatch(sample)
	for _, v := range []int{pH - reads/2, pH + reads/2} {
		first, last := ask.Points[0].PH, ask.Points[len(ask.Points)-1].PH
		v = max(min(v, max(first, last)), min(first, last))
		if s, ok := ask.at(v); ok {
			least, most = min(least, ask.toBatch(s)), max(most, ask.toBatch(s))
		}
	}
	return least, most
}

// toBatch scales milligrams in the sample to the batch, rounded down to the scale: what is too much cannot be taken out again.
func (ask *AdjustAsk) toBatch(sample decimal.Decimal) Mass {
	steps := sample.Mul(decimal.New(int64(ask.Batch), 0)).DivRound(decimal.New(int64(ask.Sample)*int64(ask.Step), 0), quotientPlaces)
	return Mass(steps.Round(6).RoundFloor(0).IntPart()) * ask.Step
}

// finish says what is missing after the first part: the trial's way from the measured pH to the aim.
func (ask *AdjustAsk) finish(out *Adjusted, sample decimal.Decimal) {
	grams := func(m Mass) string { return m.On(ask.Step) + " g" }
	first := ask.Points[0].PH
	measured, ok := ask.at(ask.Then.PH)
	past := first > out.Aim && ask.Then.PH < out.Aim || first < out.Aim && ask.Then.PH > out.Aim
	switch {
	case ask.Low <= ask.Then.PH && ask.Then.PH <= ask.High:
		out.Says = "pH " + showPH(ask.Then.PH) + " is where it should be: add no more."
	case past:
		out.Says = "pH " + showPH(ask.Then.PH) + " is past " + showPH(out.Aim) + ": add no more of this."
		out.Findings = append(out.Findings, Finding{Rule: "adjust-ph", Level: Care, Says: "the batch went past the wanted pH", Figure: "pH " + showPH(ask.Then.PH), Limit: "pH " + showPH(ask.Low) + " to " + showPH(ask.High), Source: adjustSource,
			Do: "measure again after more stirring; then go back with the opposite, from a new trial on a weighed sample"})
	case !ok:
		out.Says = "pH " + showPH(ask.Then.PH) + " lies outside the trial: do a new trial on a weighed sample of the batch as it is now."
		out.Findings = append(out.Findings, Finding{Rule: "adjust-ph", Level: Unchecked, Says: "not worked out: the batch's pH is not among those of the trial", Figure: "pH " + showPH(ask.Then.PH), Limit: "pH " + showPH(first) + " to " + showPH(ask.Points[len(ask.Points)-1].PH),
			Source: adjustSource, Do: "do a new trial on a weighed sample of the batch as it is now"})
	default:
		if out.Rest = ask.toBatch(sample.Sub(measured)); out.Rest <= 0 {
			out.Rest = 0
			out.Says = "At pH " + showPH(ask.Then.PH) + " less is missing than the scale shows: leave it, or thin the solution ten times with distilled water and do a new trial with that."
			return
		}
		out.Says = "At pH " + showPH(ask.Then.PH) + " about " + grams(out.Rest) + " more of " + ask.Solution + " is missing to pH " + showPH(out.Aim) + ". Add it in two parts and measure between."
	}
}
