package calc

import (
	"strings"

	"github.com/shopspring/decimal"
)

// scaleUp makes the smallest batch in which what is in the pot is no longer too much: every line in it gets a top-up, every line still to
// come a new target, each within half a step of its percentage, and none past a maximum.
func (r *rescue) scaleUp() RescueWay {
	w := RescueWay{Way: "scale up"}
	for _, i := range r.over {
		if r.line(i).Percent == 0 {
			w.Why = "the formula has no " + r.called(i) + ", so no amount of the others makes it right"
			w.Says = "Scale up: not possible."
			return w
		}
	}
	i, l := r.leader()
	target := decimal.New(int64(r.went(i)), 0).Mul(decimal.New(int64(Hundred), 0)).DivRound(decimal.New(int64(l.Percent), 0), 0)
	if target.GreaterThan(heaviestDecimal) {
		w.Says, w.Why = "Scale up: not possible.", "it would take more than a tonne"
		return w
	}
	batch := Mass(target.IntPart())
	most := ScaleLines(r.ask.Formula, r.ask.Known)
	for i := range r.planned {
		row := r.row(i)
		row.Add = r.topUp(i, batch, most[i].Max)
		if have, known := r.ask.Stock[row.ID]; known && row.Add > have {
			row.Short = row.Add - have
		}
		row.MeltOut = row.Add > 0 && r.heatIsOver(i) && r.needsHeat(i)
		w.Batch += row.InPot + row.Add
		w.Lines = append(w.Lines, row)
	}
	whole := make([]Mass, len(w.Lines))
	for i, row := range w.Lines {
		whole[i] = row.InPot + row.Add
	}
	for i, share := range sharesOf(whole) {
		w.Lines[i].True = share
	}
	times := decimal.New(int64(w.Batch), 0).DivRound(decimal.New(int64(r.ask.Batch), 0), 2)
	w.Says = "Scale up: add " + r.toAdd(w.Lines) + ". That makes " + r.grams(w.Batch) + ", " + times.String() + " times the plan, with the formula's own percentages."
	w.Open = true
	r.bound(&w)
	r.warm(&w)
	return w
}

// topUp is what a line still takes in a batch of this size, on the scale's grid.
func (r *rescue) topUp(i int, batch Mass, most *Percent) Mass {
	step := r.ask.Step
	miss := int64(r.line(i).Percent)*int64(batch) - int64(r.went(i))*int64(Hundred)
	if miss <= 0 {
		return 0
	}
	unit := int64(Hundred) * int64(step)
	add := Mass(roundDiv(miss, unit)) * step
	if most != nil && add > 0 && int64(r.went(i)+add)*int64(Hundred) > int64(*most)*int64(batch) && int64(add)*int64(Hundred) > miss {
		add -= step
	}
	return add
}

func (r *rescue) toAdd(lines []RescueLine) string {
	var parts []string
	for _, l := range lines {
		if l.Add > 0 {
			parts = append(parts, r.grams(l.Add)+" of "+l.Name)
		}
	}
	if len(parts) == 0 {
		return "nothing to add"
	}
	return strings.Join(parts, "; ")
}

// bound closes the way where the vessel or the stock does not reach, and says what of it was not checked.
func (r *rescue) bound(w *RescueWay) {
	var unknown []string
	for i, l := range w.Lines {
		if l.Add <= 0 {
			continue
		}
		if _, known := r.ask.Stock[l.ID]; !known {
			unknown = append(unknown, l.Name)
		}
		if l.Short > 0 {
			w.Open = false
			w.Findings = append(w.Findings, Finding{Rule: "rescue-stock", Level: Stop, Subject: l.ID, Phase: r.line(i).Phase, Says: "there is not enough " + l.Name + " to scale up: " + r.grams(l.Short) + " more would be needed",
				Figure: r.grams(l.Add), Limit: r.grams(l.Add-l.Short) + " at hand", Source: rescueSource, Do: "fetch more, or take another way out"})
		}
	}
	if r.ask.Room > 0 && w.Batch > r.ask.Room {
		w.Open = false
		w.Findings = append(w.Findings, Finding{Rule: "rescue-vessel", Level: Stop, Says: "the vessel is too small for the larger batch", Figure: r.grams(w.Batch), Limit: r.grams(r.ask.Room), Source: rescueSource,
			Do: "take a larger vessel, or take another way out"})
	}
	if !w.Open {
		w.Why = w.Findings[0].Says
	}
	if len(unknown) > 0 {
		w.Findings = append(w.Findings, Finding{Rule: "rescue-stock", Level: Unchecked, Says: "not checked: is there enough; the stock of " + list(unknown) + " is missing", Source: rescueSource, Do: "look before you begin"})
	}
	if r.ask.Room == 0 {
		w.Findings = append(w.Findings, Finding{Rule: "rescue-vessel", Level: Unchecked, Says: "not checked: does it fit; what the vessel holds is missing", Source: rescueSource, Do: "look at the vessel before you begin"})
	}
}

// warm (E16): what has to be melted or dissolved hot cannot enter a foam that has cooled, and what must not be hot is already in.
func (r *rescue) warm(w *RescueWay) {
	var melt, spoilt []string
	hottest := Treatment{}
	first := -1
	for i, l := range w.Lines {
		if l.MeltOut {
			melt = append(melt, l.Name)
			if first < 0 {
				first = i
			}
			t := r.ask.Formula.treatment(r.line(i).Phase)
			if t.Degrees != nil && (hottest.Degrees == nil || t.Degrees.MilliC > hottest.Degrees.MilliC) {
				hottest = t
			}
		}
	}
	if len(melt) == 0 {
		if hot := r.askedHot(w.Lines); len(hot) > 0 {
			w.Findings = append(w.Findings, Finding{Rule: "rescue-warm", Level: Unchecked, Says: "not checked: which step was done last is missing; if the pot has cooled, " + list(hot) + " would have to be melted or dissolved again",
				Source: "this book's own rule E16", Do: "say which step was done last, or measure how warm the pot is"})
		}
		return
	}
	to := "until it is melted or dissolved"
	if hottest.Degrees != nil {
		to = "to " + hottest.Degrees.Show()
	}
	for i, l := range w.Lines {
		ing := r.e.ingredient(r.line(i))
		if l.InPot > 0 && ing != nil && ing.Highest != nil && (hottest.Degrees == nil || ing.Highest.MilliC < hottest.Degrees.MilliC) {
			spoilt = append(spoilt, l.Name)
		}
	}
	would := " would have to be melted or dissolved again: warm all "
	f := Finding{Rule: "rescue-warm", Level: Care, Subject: r.line(first).ID, Phase: r.line(first).Phase, Says: list(melt) + would + to + " once more", Figure: list(melt), Source: "this book's own rule E16",
		Do: "accept the batch or discard it, unless you can warm it all again; the air that was whipped in is then lost"}
	if len(spoilt) > 0 {
		f.Level = Stop
		f.Says += "; " + list(spoilt) + " already in the pot must not be that hot"
		f.Limit = "at most what " + list(spoilt) + " stand"
	}
	w.Findings = append([]Finding{f}, w.Findings...)
	if w.Open {
		w.Why = f.Says
	}
}

// askedHot names what has to be added and only goes in hot, where nothing tells which step was done last.
func (r *rescue) askedHot(lines []RescueLine) (names []string) {
	if last := r.ask.Last; last.Did != "" || last.Phase != "" || last.Degrees != nil {
		return nil
	}
	for i, l := range lines {
		if l.Add > 0 && !l.NotIn && isHot(r.ask.Formula.treatment(r.line(i).Phase)) && r.needsHeat(i) {
			names = append(names, l.Name)
		}
	}
	return names
}

// heatIsOver tells whether the pot has left the heat that this line's phase asks for.
func (r *rescue) heatIsOver(i int) bool {
	own := r.ask.Formula.treatment(r.line(i).Phase)
	if !isHot(own) {
		return false
	}
	if d := r.ask.Last.Degrees; d != nil {
		ing := r.e.ingredient(r.line(i))
		if ing != nil && ing.Melts != nil {
			return d.MilliC < ing.Melts.HighMilliC
		}
		return own.Degrees == nil || d.MilliC < own.Degrees.MilliC-10_000
	}
	if r.cooled == nil {
		cooled := r.hasCooled()
		r.cooled = &cooled
	}
	return *r.cooled
}

// hasCooled tells by the last step, or by what is in the pot, whether cooling has begun.
func (r *rescue) hasCooled() bool {
	f := &r.ask.Formula
	switch r.ask.Last.Did {
	case "cooled", "whipped", "folded", "filled":
		return true
	}
	late := map[string]bool{} // phases that are begun after cooling: what stands in them shows that the pot has cooled
	cool := false
	for _, p := range f.Phases {
		cool = cool || p.Treatment.Do == "cool" || p.Treatment.Do == "whip" || p.Treatment.Do == "fold"
		late[p.Letter] = cool
	}
	for _, l := range f.Lines {
		if late[l.Phase] && r.ask.Went[l.ID] > 0 {
			return true
		}
	}
	return late[r.ask.Last.Phase]
}

func isHot(t Treatment) bool {
	return t.Do == "heat" || t.Do == "melt" || t.Degrees != nil && t.Degrees.MilliC > 45_000
}

// needsHeat tells whether a line only goes in when it is hot: it melts above room temperature, dissolves only hot, or nobody knows. Water,
// solutions and liquid oils go in as they are.
func (r *rescue) needsHeat(i int) bool {
	ing := r.e.ingredient(r.line(i))
	switch {
	case ing == nil:
		return true // a base, or not known
	case ing.Melts != nil:
		return ing.Melts.HighMilliC > 25_000
	case does(ing, "water") || does(ing, "humectant") || ing.Density != nil:
		return false // poured
	case does(ing, "surfactant"):
		return does(ing, "powder")
	}
	return does(ing, "powder") || does(ing, "thickener") || does(ing, "emulsifier") || does(ing, "structure") || ing.Soluble == "oil"
}
