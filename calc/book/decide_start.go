package book

import (
	"slices"

	"stillroom/calc"
)

// Purposes of a batch.
var purposes = []string{"trial", "sale", "gift", "class", "own use"}

type startArgs struct {
	Formula  string `json:"formula"`
	Revision string `json:"revision"`
	Purpose  string `json:"purpose"`
	calc.Plan
}

type startValue struct {
	Key  string `json:"key"`
	Code string `json:"code"`
}

func (s *State) startBatch(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[startArgs](args)
	if no != nil {
		return nil, nil, no
	}
	f, r, no := s.asked(a.Formula, a.Revision, "open the formula again and start from there")
	if no != nil {
		return nil, nil, no
	}
	if a.Revision == "" && len(f.leaves()) > 1 {
		return nil, nil, refuse("forked", "revision", "two revisions of this formula were made apart, and neither follows the other", "open the formula and choose which of them to make")
	}
	if a.Purpose == "" {
		a.Purpose = "trial"
	}
	if !slices.Contains(purposes, a.Purpose) {
		return nil, nil, refuse("purpose unknown", "purpose", "a batch is not made for “"+a.Purpose+"”", "choose one of "+listed(purposes))
	}
	rev := r.read()
	if rev == nil {
		return nil, nil, refuse("revision unknown", "revision", "this revision cannot be read by this program", "update the app")
	}
	p, e := calc.ReadPlan(s.withStep(a.Plan))
	if e != nil {
		return nil, nil, misread(e, "")
	}
	if no := s.chosenContainer(a.Container); no != nil {
		return nil, nil, no
	}
	if int64(p.Batch) > 10*heaviest {
		return nil, nil, refuse("too heavy", "fill", grams(int64(p.Batch), 0)+" is more than a workshop of this kind makes at once", "look at the number of jars and the grams in each")
	}
	scaled, e := calc.Scale(calc.ScaleLines(rev.calc(), s.known(rev.Lines)), p.Batch, p.Step)
	if e != nil {
		return nil, nil, misread(e, "")
	}
	day := dayOf(ctx.Now, ctx.Zone)
	b := &BatchStarted{
		Key:     (&drawer{seed: ctx.Rand}).key(5, s.jarKeyTaken),
		Formula: a.Formula, Revision: r.from.ref, Purpose: a.Purpose,
		Plan: Plan{int64(p.Jars), int64(p.Fill), int64(p.Loss), int64(p.Step)},
		Mass: int64(scaled.Batch), Day: day, Letter: letter(ctx), Count: s.startedOn(ctx, day) + 1, Container: a.Container,
	}
	b.Code = calc.BatchCode(int(day/10000), int(day/100%100), int(day%100), b.Letter, int(b.Count))
	for _, l := range scaled.Lines {
		b.Targets = append(b.Targets, Target{l.ID, int64(l.Mass)})
	}
	d, no := draft(KindBatchStarted, b)
	if no != nil {
		return nil, nil, no
	}
	return []Draft{d}, startValue{b.Key, b.Code}, nil
}

// letter is this device's. Before the store gave one, X stands in its place.
func letter(ctx Context) string {
	if ctx.Letter == "" {
		return "X"
	}
	return ctx.Letter
}

// startedOn counts what this device started on a day, so that a code on a lid is this device's only once.
func (s *State) startedOn(ctx Context, day int64) int64 {
	n := int64(0)
	s.batches.each(func(_ string, b *batch) bool {
		if b.from.ref.Device == ctx.Device && b.body.Day == day {
			n = max(n, b.body.Count)
		}
		return true
	})
	return n
}
