package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

const (
	whyMistake  = "by mistake"
	wayTakeBack = "take back"
	wayAccept   = "accept"
	wayScaleUp  = "scale up"
	wayDiscard  = "discard"
)

// asPlannedNow is the batch with the plan that is in force: as it was started, or as the last scaling up set it. What
// was told to be weighed at the start stays in the entry; only the working copy changes.
func (b *batch) asPlannedNow() *batch {
	var plan []Target
	if !slices.ContainsFunc(b.rows, func(r row) bool { return r.kind == KindBatchNoted }) {
		return b
	}
	b.stands(func(_ *row, body visitable) {
		if n, ok := body.(*BatchNoted); ok && n.Way == wayScaleUp {
			plan = n.Targets
		}
	})
	if plan == nil {
		return b
	}
	out := *b
	out.body.Targets, out.body.Mass = slices.Clone(b.body.Targets), 0
	for i := range out.body.Targets {
		t := &out.body.Targets[i]
		for _, n := range plan {
			if n.Line == t.Line {
				t.Mass = n.Mass
			}
		}
		out.body.Mass += t.Mass
	}
	return &out
}

// reopen lets lines be weighed again that a new plan wants more of.
func reopen(in map[string]*weighedOn, plan []Target, step int64) {
	for _, t := range plan {
		if l := in[t.Line]; l != nil && t.Mass-l.mass >= step {
			l.done = false
		}
	}
}

// accepted are the masses of lines that were accepted as they are.
func (b *batch) accepted() map[string]int64 {
	out := map[string]int64{}
	b.stands(func(_ *row, body visitable) {
		if n, ok := body.(*BatchNoted); ok && n.Way == wayAccept {
			for _, t := range n.Targets {
				out[t.Line] = t.Mass
			}
		}
	})
	return out
}

// rescued works out the ways out of what is in the pot, nil when nothing is over that was not accepted. A line is over
// when it is so by more than a scale's usual tolerance, or by less where that brings a new stop or take care.
func (s *State) rescued(m *making, stirred string, room calc.Mass) (*calc.Rescued, bool) {
	if m.rev == nil || m.b.fill.Seq != 0 || m.b.state == Released || m.b.state == Discarded {
		return nil, false
	}
	ask := calc.RescueAsk{Formula: m.f, Known: m.known, Batch: calc.Mass(m.b.body.Mass), Step: calc.Mass(m.b.body.Plan.Step), Went: map[string]calc.Mass{}, Stock: s.atHand(m), Room: room}
	w, _ := m.b.weighed()
	m.meant(w)
	fine, taken := false, m.b.accepted()
	for _, t := range m.b.body.Targets {
		if x := w[t.Line]; x != nil && x.rows > 0 {
			ask.Went[t.Line] = calc.Mass(max(x.mass, 0))
			fine = fine || x.mass-t.Mass >= m.b.body.Plan.Step && x.mass > taken[t.Line]
		}
	}
	for _, id := range m.mistaken() {
		// The formula has none of it, so its plan is nothing.
		ask.Formula.Lines = append(slices.Clip(ask.Formula.Lines), calc.Line{ID: id, Phase: w[id].phase, Ingredient: w[id].ingr})
		ask.Went[id] = calc.Mass(max(w[id].mass, 0))
		fine = fine || w[id].mass >= m.b.body.Plan.Step && w[id].mass > taken[id]
	}
	if !fine {
		return nil, false
	}
	ask.Last = m.lastStep()
	ask.Stirred = m.stirred(w)
	if stirred != "" {
		ask.Stirred = stirred == "yes"
	}
	for _, ask.Slack = range []int64{readingTolerance, 0} {
		got, e := calc.Rescue(ask)
		if e != nil {
			return nil, false
		}
		open := slices.ContainsFunc(got.Over, func(l calc.RescueLine) bool { return int64(l.InPot) > taken[l.ID] })
		if open && (ask.Slack > 0 || worsens(got)) {
			return &got, ask.Stirred
		}
	}
	return nil, false
}

// meant leaves out of what was weighed what went in on purpose to bring the pH where it should be: it is no slip, and nobody
// is to be told to take it out again.
func (m *making) meant(w map[string]*weighedOn) {
	m.b.stands(func(_ *row, body visitable) {
		if x, ok := body.(*BatchWeighed); ok && x.Mass > 0 && strings.HasPrefix(x.Why, whyPH) && w[x.Line] != nil {
			w[x.Line].mass -= x.Mass
		}
	})
}

// mistaken are what the formula does not name and went in by mistake, as it stands under "+" in the record.
func (m *making) mistaken() []string {
	var out []string
	m.b.stands(func(_ *row, body visitable) {
		if x, ok := body.(*BatchWeighed); ok && x.Line == "" && x.Mass > 0 && strings.HasPrefix(x.Why, whyMistake) && !slices.Contains(out, "+"+x.Ingredient) {
			out = append(out, "+"+x.Ingredient)
		}
	})
	return out
}

// room is what the vessel holds of this batch by how many mL it may be filled with: at the density that was read last, else
// the median of earlier batches. Without either it is not guessed.
func (s *State) room(m *making, volume string) (calc.Mass, string) {
	if strings.TrimSpace(volume) == "" {
		return 0, ""
	}
	microL, e := calc.ReadVolume(volume)
	if e != nil {
		return 0, sentence(e.Says) + " " + sentence(e.Want)
	}
	perML, from := m.b.density(), "as measured"
	if perML == 0 {
		cast := s.forecast(m.b.body.Formula)
		perML, from = cast.MgPerML, "median of "+counted(cast.DensityN, "earlier batch", "earlier batches")
	}
	if perML == 0 {
		return 0, "Not checked: does it fit; the density is missing. Measure it by the cup."
	}
	room := microL * perML / 1000
	return calc.Mass(room), plain(microL, 3) + " mL at " + fixed(perML, 3, 2) + " g/mL, " + from + ", hold " + grams(room/1000*1000, 1000) + "."
}

// worsens tells whether finishing as it is would bring a new stop or take care.
func worsens(r calc.Rescued) bool {
	return slices.ContainsFunc(r.Ways, func(w calc.RescueWay) bool {
		return w.Way == wayAccept && slices.ContainsFunc(w.Findings, func(f calc.Finding) bool { return f.Level == calc.Stop || f.Level == calc.Care })
	})
}

// atHand is what the lots of each line hold, held ones left out. A line without a lot is not known: nothing is guessed.
func (s *State) atHand(m *making) map[string]calc.Mass {
	out := map[string]calc.Mass{}
	s.lots.each(func(_ string, x *lot) bool {
		for _, l := range m.f.Lines {
			if !x.held && (x.body.Ingredient == l.Ingredient && l.Ingredient != "" || l.Base != "" && x.body.Ingredient == l.Base) {
				out[l.ID] += calc.Mass(max(x.body.Mass-x.used, 0))
			}
		}
		return true
	})
	return out
}

// did is what a treatment leaves the pot as, in the words of a rescue.
var did = map[string]string{"mix": "mixed", combine: "mixed", "heat": "heated", "melt": "melted", "cool": "cooled", "whip": "whipped", "fold": "folded"}

// lastStep is the last thing that was done to the pot, and how warm it was when it was last read.
func (m *making) lastStep() calc.LastStep {
	var out calc.LastStep
	m.b.stands(func(_ *row, body visitable) {
		switch x := body.(type) {
		case *BatchWeighed:
			if l := m.line(x.Line); l != nil {
				out.Phase, out.Did = l.Phase, "weighed"
			}
		case *BatchTreated:
			if d := did[x.Do]; d != "" {
				out.Phase, out.Did = x.Phase, d
			}
		case *BatchRead:
			if x.What == "temperature" {
				out.Degrees = &calc.Degrees{MilliC: x.Value, Unit: x.Unit, Text: x.Text}
			}
		}
	})
	return out
}

// stirred tells whether anything was done to the pot after the last weighing of a line that is over.
func (m *making) stirred(w map[string]*weighedOn) bool {
	over, out := map[string]bool{}, false
	for _, t := range m.b.body.Targets {
		over[t.Line] = w[t.Line] != nil && w[t.Line].mass-t.Mass >= m.b.body.Plan.Step
	}
	for _, id := range m.mistaken() {
		over[id] = true
	}
	m.b.stands(func(_ *row, body visitable) {
		switch x := body.(type) {
		case *BatchWeighed:
			out = out && !over[x.Line] && !(x.Line == "" && over["+"+x.Ingredient])
		case *BatchTreated:
			out = out || did[x.Do] != ""
		}
	})
	return out
}
