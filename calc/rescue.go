package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// RescueAsk is a batch in which too much of something went in.
type RescueAsk struct {
	Formula Formula // sums to 100
	Known   Known
	Batch   Mass // as planned
	Step    Mass // of the scale
	// Went is what is in the pot by line id; a line that is not in it has not gone in yet.
	Went    map[string]Mass
	Stirred bool
	Last    LastStep
	// Stock is what is still at hand by line id, without what is in the pot; a line that is not in it is not known.
	Stock map[string]Mass
	// Room is what the vessel takes in all, 0 when not known.
	Room Mass
	// Slack is how many per cent of its plan a line may be over before it counts as too much; 0 counts every step of the scale.
	Slack int64
}

// LastStep is the last step that was done: in which phase, what (weighed, heated, melted, mixed, cooled, whipped, folded or filled), and how
// warm the pot is now, nil when not measured.
type LastStep struct {
	Phase, Did string
	Degrees    *Degrees
}

// RescueLine is one line of a way out: what is in the pot, what goes in now or later, and what that makes it.
type RescueLine struct {
	ID, Name       string
	InPot, Add     Mass // Add is below 0 where something comes out
	Planned, True  Percent
	Short          Mass // how much more than the stock it takes
	NotIn, MeltOut bool // not in yet; has to be melted or dissolved again in a pot that has cooled
}

// RescueWay is one way out. Why says what closes it, or what speaks against it.
type RescueWay struct {
	Way      string // take back, accept, scale up, discard
	Open     bool
	Says     string
	Why      string
	Batch    Mass
	Lines    []RescueLine
	Findings []Finding
}

// Rescued is what is over the plan, and the ways out in the order in which they should be thought of.
type Rescued struct {
	Over     []RescueLine
	Ways     []RescueWay
	Findings []Finding
}

const rescueSource = "mass balance, this book's own rule"

// rescue holds what the ways out share.
type rescue struct {
	ask     RescueAsk
	e       *evidence
	planned []Mass
	over    []int // lines, the first is the one that is furthest over
	cooled  *bool // worked out once
}

// Rescue works out the ways out when too much went in: take it back, accept it with its true percentages checked again, scale all up so that
// every percentage is restored, or discard.
func Rescue(ask RescueAsk) (Rescued, *FieldError) {
	t := Total(ask.Formula.Lines)
	if len(t.Findings) > 0 {
		return Rescued{}, &FieldError{Field: "formula.lines", Says: t.Findings[0].Says, Want: t.Findings[0].Do}
	}
	ask.Formula.Lines = t.Lines
	s, err := Scale(ScaleLines(ask.Formula, ask.Known), ask.Batch, ask.Step)
	if err != nil {
		return Rescued{}, err
	}
	r := rescue{ask: ask, planned: make([]Mass, len(t.Lines))}
	r.e = gatherEvidence(&r.ask.Formula, ask.Known, 0)
	seen := map[string]bool{}
	for i, l := range t.Lines {
		if seen[l.ID] {
			return Rescued{}, &FieldError{Field: "formula.lines[" + strconv.Itoa(i) + "].id", Says: "two lines have the id “" + short(l.ID) + "”", Want: "give each line its own id"}
		}
		seen[l.ID] = true
		r.planned[i] = s.Lines[i].Mass
		if much := ask.Went[l.ID] - r.planned[i]; much >= ask.Step && int64(much)*100 > int64(r.planned[i])*ask.Slack {
			r.over = append(r.over, i)
		}
	}
	if len(r.over) == 0 {
		f := Finding{Rule: "rescue", Level: Note, Says: "nothing in the pot is over the plan", Source: rescueSource, Do: "weigh in what is still missing"}
		return Rescued{Ways: []RescueWay{}, Findings: []Finding{f}}, nil
	}
	for n := range r.over { // the one that asks for the largest batch leads
		if r.asksMore(r.over[n], r.over[0]) {
			r.over[0], r.over[n] = r.over[n], r.over[0]
		}
	}
	return r.answer(), nil
}

// asksMore tells whether line a, at what went in, asks for a larger batch than line b.
func (r *rescue) asksMore(a, b int) bool {
	la, lb := r.line(a), r.line(b)
	x := decimal.New(int64(r.ask.Went[la.ID]), 0).Mul(decimal.New(int64(lb.Percent), 0))
	y := decimal.New(int64(r.ask.Went[lb.ID]), 0).Mul(decimal.New(int64(la.Percent), 0))
	return x.GreaterThan(y)
}

func (r *rescue) line(i int) *Line { return &r.ask.Formula.Lines[i] }
func (r *rescue) went(i int) Mass  { return r.ask.Went[r.line(i).ID] }
func (r *rescue) called(i int) string {
	return nameOr(r.ask.Known.name(*r.line(i)), "line "+strconv.Itoa(i+1))
}
func (r *rescue) grams(m Mass) string  { return m.On(r.ask.Step) + " g" }
func (r *rescue) leader() (int, *Line) { return r.over[0], r.line(r.over[0]) }

func (r *rescue) answer() Rescued {
	out := Rescued{}
	for _, i := range r.over {
		l := r.row(i)
		l.Add = r.planned[i] - l.InPot
		out.Over = append(out.Over, l)
		out.Findings = append(out.Findings, Finding{Rule: "rescue", Level: Care, Subject: l.ID, Phase: r.line(i).Phase,
			Says: r.grams(-l.Add) + " too much of " + l.Name + " is in the pot", Figure: r.grams(l.InPot), Limit: r.grams(r.planned[i]) + " planned", Source: rescueSource,
			Do: "stop here: add nothing more, and do not stir, until you have chosen a way out"})
	}
	back, accept, up := r.takeBack(), r.accept(), r.scaleUp()
	away := RescueWay{Way: "discard", Open: true, Says: "Discard it and begin again: " + r.grams(r.inPot()) + " are lost.", Batch: r.inPot()}
	again, bad := false, false
	for _, l := range up.Lines {
		again = again || l.MeltOut
	}
	worse := false
	for _, f := range accept.Findings {
		bad = bad || f.Level == Stop
		worse = worse || f.Level == Care
	}
	ways := []RescueWay{back, accept, up, away}
	switch {
	case bad && up.Open && !again:
		ways = []RescueWay{back, up, away, accept}
	case bad:
		ways = []RescueWay{back, away, up, accept}
	case worse && up.Open && !again:
		ways = []RescueWay{back, up, accept, away}
	}
	for _, open := range []bool{true, false} { // what is closed comes last, since its reason may still be wanted
		for _, w := range ways {
			if w.Open == open {
				out.Ways = append(out.Ways, w)
			}
		}
	}
	return out
}

func (r *rescue) inPot() (sum Mass) {
	for i := range r.planned {
		sum += r.went(i)
	}
	return sum
}

func (r *rescue) row(i int) RescueLine {
	_, in := r.ask.Went[r.line(i).ID]
	return RescueLine{ID: r.line(i).ID, Name: r.called(i), InPot: r.went(i), Planned: r.line(i).Percent, NotIn: !in}
}

// takeBack (G19): the first thing that anyone does with powder that still lies on top.
func (r *rescue) takeBack() RescueWay {
	w := RescueWay{Way: "take back", Open: !r.ask.Stirred, Batch: r.inPot()}
	tooMuch := map[string]bool{}
	for n, i := range r.over {
		l := r.row(i)
		l.Add = r.planned[i] - l.InPot
		w.Batch += l.Add
		w.Lines = append(w.Lines, l)
		if n > 0 {
			w.Says += " and "
		}
		w.Says += r.grams(-l.Add) + " of " + l.Name
		tooMuch[l.ID] = true
	}
	for _, f := range append(ruleWearPowder(r.e), ruleWearEyes(r.e)...) {
		if tooMuch[f.Subject] {
			w.Findings = append(w.Findings, f)
		}
	}
	w.Says = "Take it back out: spoon " + w.Says + " off the top into a clean cup, and weigh the cup. Only what still lies by itself can come out; what has run in or dissolved stays in."
	if !w.Open {
		w.Why = "it is stirred in, so it can no longer be taken out by itself"
	}
	return w
}

// accept finishes the batch as it was planned in grams, and checks its true percentages as if they were a formula of their own.
func (r *rescue) accept() RescueWay {
	w := RescueWay{Way: "accept", Open: true}
	whole := make([]Mass, len(r.planned))
	for i := range r.planned {
		l := r.row(i)
		if l.NotIn || l.InPot < r.planned[i] {
			l.Add = r.planned[i] - l.InPot
		}
		whole[i] = l.InPot + l.Add
		w.Batch += whole[i]
		w.Lines = append(w.Lines, l)
	}
	shares := sharesOf(whole)
	f := r.ask.Formula
	f.Lines = append([]Line(nil), f.Lines...)
	for i := range f.Lines {
		w.Lines[i].True = shares[i]
		f.Lines[i].Percent, f.Lines[i].QS = shares[i], false
	}
	type name struct {
		rule, subject string
		level         Level
	}
	had := map[name]bool{}
	for _, x := range Findings(r.ask.Formula, r.ask.Known, 0) {
		had[name{x.Rule, x.Subject, x.Level}] = true
	}
	for _, x := range Findings(f, r.ask.Known, 0) {
		if !had[name{x.Rule, x.Subject, x.Level}] {
			w.Findings = append(w.Findings, x)
		}
	}
	i, l := r.leader()
	w.Says = "Accept it: weigh in the rest in grams as planned. It makes " + r.grams(w.Batch) + " with " + hundredths(shares[i]) + " % of " + r.called(i) + " where the formula says " + l.Percent.String() +
		" %. Label, limits and cautions then follow what went in."
	if len(w.Findings) > 0 {
		w.Why = "with these true percentages a new warning appears: " + w.Findings[0].Says
	}
	return w
}

// hundredths writes a share to 0.01 %, for a sentence; the exact one stands in its line.
func hundredths(p Percent) string { return Percent(roundDiv(int64(p), 100) * 100).String() }

// sharesOf gives masses as per cents that sum to exactly 100, what rounding leaves to the largest remainders; all zero for no mass.
func sharesOf(masses []Mass) []Percent {
	n := Noted{Lines: make([]NotedShare, len(masses))}
	out := make([]Percent, len(masses))
	for i, m := range masses {
		n.Lines[i].Grams = decimal.New(int64(m), -3)
		n.Grams = n.Grams.Add(n.Lines[i].Grams)
	}
	if n.Grams.IsPositive() {
		n.share()
	}
	for i := range out {
		out[i] = n.Lines[i].Percent
	}
	return out
}
