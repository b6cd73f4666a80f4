package book

import (
	"strings"

	"stillroom/calc"
)

// bench builds the steps of a batch, in the order in which they are done.
type bench struct {
	*making
	s       *State
	ctx     Context
	weighed map[string]*weighedOn
	filled  int64 // mg before the step being built, as planned or as it was
	steps   []Step
	last    *lastTime
}

func (s *State) viewBench(ctx Context, args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	m := s.making(a.Key)
	if m == nil {
		return nil, unseenBatch("key")
	}
	w, _ := m.b.weighed()
	b := &bench{making: m, s: s, ctx: ctx, weighed: w, steps: []Step{}, last: s.lastTime(m)}
	b.phases()
	b.phSteps()
	b.fillStep()
	v := BenchView{Row: s.batchRow(ctx, m.b, s.listing()), Steps: b.steps, Now: len(b.steps), Rows: s.rows(ctx, m), PlannedJars: int(m.b.body.Plan.Jars), Pots: m.potViews()}
	_, v.Layers = m.massView()
	if m.b.fill.Seq == 0 {
		v.PH = m.phSays()
	}
	for i := len(b.steps) - 1; i >= 0; i-- {
		// What was skipped before a filling can no longer be done: the record shows it, the bench is over.
		if !b.steps[i].Done && m.b.fill.Seq == 0 {
			v.Now = i
		}
	}
	return v, nil
}

// step adds a step with the jar as it stands before and after it.
func (b *bench) step(t Step, adds int64) {
	t.Before = ratio(b.filled, b.b.body.Mass)
	b.filled += adds
	t.After = ratio(b.filled, b.b.body.Mass)
	if t.Lots == nil {
		t.Lots = []LotChoice{}
	}
	if t.Wear == nil {
		t.Wear = []Note{}
	}
	b.steps = append(b.steps, t)
}

// phases walks the formula. Pots that stand side by side are all weighed before any is heated: they warm together.
func (b *bench) phases() {
	groups := b.groups()
	for i := 0; i < len(b.f.Phases); i++ {
		if len(groups) > 0 && groups[0].first == i {
			g := &groups[0]
			together := b.f.Phases[g.first:g.end]
			for _, p := range together {
				b.weighPhase(p)
			}
			for _, p := range together {
				b.treatPhase(p)
			}
			b.combineStep(g)
			groups, i = groups[1:], g.end-1
			continue
		}
		p := b.f.Phases[i]
		if i > 0 && p.Treatment.Do == "cool" {
			// What goes in below a limit goes in after what is in the pot was measured to be below it.
			b.treatPhase(p)
			b.weighPhase(p)
			continue
		}
		b.weighPhase(p)
		b.treatPhase(p)
	}
}

func (b *bench) weighPhase(p calc.Phase) {
	for _, l := range b.f.Lines {
		if l.Phase != p.Letter {
			continue
		}
		target, planned := b.target(l.ID)
		if !planned {
			continue
		}
		if wear := calc.WearBefore(b.f, b.known, p.Letter, l.ID); len(wear) > 0 {
			b.wear("wear:"+l.ID, p.Letter, l.ID, wear)
		}
		b.weigh(p, l, target)
	}
}

func (b *bench) treatPhase(p calc.Phase) {
	var hot []calc.Finding
	for _, f := range calc.WearBefore(b.f, b.known, p.Letter, "") {
		if f.Subject == "" {
			hot = append(hot, f)
		}
	}
	if len(hot) > 0 {
		b.wear("wear:"+p.Letter, p.Letter, "", hot)
	}
	b.treat(p)
}

func (b *bench) wear(id, phase, line string, wear []calc.Finding) {
	t := Step{ID: id, What: "wear", Phase: phase, Line: line, Wear: calc.Margin(wear)}
	says, before := []string{}, "phase "+phase+" gets hot"
	for _, l := range b.f.Lines {
		if line != "" && l.ID == line {
			before = b.s.lineName(l.Ingredient, l.Base)
		}
	}
	for _, f := range wear {
		says = append(says, f.Do)
	}
	t.Title = "Put on " + calc.PutOn(wear) + ", before " + before
	t.Says = join(says...)
	b.b.stands(func(r *row, body visitable) {
		w, ok := body.(*BatchWore)
		if ok && w.Phase == phase && w.Line == line {
			t.Done, t.Entry = true, r.from.ref.String()
		}
	})
	// Equipment that is asked for after the thing was done comes too late to be a step.
	if w := b.weighed[line]; line != "" && w != nil && w.done {
		t.Done = true
	}
	for _, p := range b.f.Phases {
		if line == "" && p.Letter == phase {
			t.Done = t.Done || b.closes(p).Seq != 0
		}
	}
	b.step(t, 0)
}

func (b *bench) weigh(p calc.Phase, l calc.Line, target int64) {
	step := b.b.body.Plan.Step
	name := b.s.lineName(l.Ingredient, l.Base)
	t := Step{ID: "weigh:" + l.ID, What: "weigh", Phase: p.Letter, Line: l.ID, Title: name, Says: l.Note,
		Target: calc.ShowPercentOf(l.Percent, calc.Mass(b.b.body.Mass), calc.Mass(target), calc.Mass(step))}
	t.Target.Text = grams(target, step)
	if oz := b.known.Bench.Beside(calc.Mass(target)); oz != "" {
		t.Says = join(strings.Trim(oz, " ()"), t.Says)
	}
	done, adds := &weighedOn{}, target
	if w := b.weighed[l.ID]; w != nil {
		done = w
		if w.done {
			adds = w.mass
		}
	}
	t.Done = done.done
	if done.rows > 0 {
		t.Actual = grams(done.mass, step)
		t.Entry = done.entry.String()
	}
	left := target - done.mass
	t.Lots = b.lots(l, left)
	if !t.Done {
		t.Entry = ""
		t.ToGo = grams(max(left, 0), step)
		// No key for what the scale cannot tell: nothing left, or a reading that may be off by more than the tolerance.
		if left > 0 && step*100 <= target*2*readingTolerance {
			t.Reads = onGrid(left, step)
		} else if left > 0 {
			t.Says = join(t.Says, "a scale that reads in steps of "+onGrid(step, step)+" g cannot tell this: take a finer one and type what it reads")
		}
	}
	t.Last = b.last.line[l.ID]
	b.step(t, adds)
}

// readingTolerance is how far half a step of the scale may be off a line, in per cent of the line: beyond it "as
// planned" would be a guess (this book's own rule; 5 % is its general tolerance).
const readingTolerance = 5

func (b *bench) treat(p calc.Phase) {
	d := p.Treatment
	if d.Do == "" {
		return
	}
	t := Step{ID: "treat:" + p.Letter, What: "treat", Phase: p.Letter, Title: upper(d.Do) + " phase " + p.Letter}
	if d.Degrees != nil {
		t.Title += " to " + d.Degrees.Show()
		t.Target = Figure{Text: d.Degrees.Show(), Sum: "as the formula asks of phase " + p.Letter + ": " + doWord(d.Do) + " to " + d.Degrees.Show()}
		if d.Degrees.Unit == "F" {
			t.Target.Sum += "; °C is (°F − 32) × 5 ÷ 9"
		}
	}
	if d.HoldMin > 0 {
		t.Says = "hold for " + number(int64(d.HoldMin)) + " min"
	}
	if measures(d) {
		t.ID, t.What = d.Do+":"+p.Letter, "heat"
		t.Says = join("measure in the middle after a stir", t.Says)
		if d.Do == "cool" {
			t.What = "cool"
			t.Title = "Cool to " + d.Degrees.Show() + ", then phase " + p.Letter
			t.Says = join("goes on once it reads "+d.Degrees.Show()+" or less", t.Says)
		}
	}
	close := b.closes(p)
	t.Done, t.Entry = close.Seq != 0, close.String()
	t.Actual = b.lastReading(p.Letter)
	if !t.Done && t.Actual != "" {
		t.Says = map[string]string{"heat": "not there yet: heat on, stir and read again", "cool": "not there yet: let it cool on, stir and read again"}[t.What]
	}
	t.Last = b.last.phase[p.Letter]
	if d.Do == "whip" {
		t.Last = join(t.Last, b.last.density[stageWhipped])
	}
	b.step(t, 0)
}

// measures says whether a treatment closes by a measured temperature: saying that it is done does not close it.
func measures(d calc.Treatment) bool {
	return (d.Do == "heat" || d.Do == "melt" || d.Do == "cool") && d.Degrees != nil
}

func (b *bench) lastReading(phase string) string {
	out := ""
	b.b.stands(func(_ *row, body visitable) {
		if x, ok := body.(*BatchRead); ok && x.What == "temperature" && x.Phase == phase {
			out = degrees(x, b.known.Bench)
		}
	})
	return out
}

// phSteps asks for a pH where there is water: without water there is none to measure.
func (b *bench) phSteps() {
	apart, e := calc.TakeApart(b.f, b.known)
	water := e != nil
	for _, p := range apart.Substances {
		water = water || p.Key == "Aqua"
	}
	t := Step{ID: "ph", What: "ph", Title: "Measure the pH", Says: "cooled, stirred; say how it was read", Last: b.last.ph}
	if low, high, ok := b.wantedPH(); ok {
		t.Target = Figure{Text: milliPH(int64(low)*10) + " to " + milliPH(int64(high)*10), Sum: "all that is known of this formula keeps from pH " + milliPH(int64(low)*10) + " to " + milliPH(int64(high)*10) + ", skin with it; the ruler shows which line asks for what"}
	}
	b.b.stands(func(r *row, body visitable) {
		if x, ok := body.(*BatchRead); ok && x.What == "ph" {
			t.Done, t.Entry, t.Actual = true, r.from.ref.String(), join("pH "+fixed(x.Value, 3, 1), phMethod(x))
		}
	})
	if water || t.Done {
		b.step(t, 0)
	}
}

func (b *bench) fillStep() {
	p, word := b.b.body.Plan, b.s.wordOf(b.b)
	t := Step{ID: "fill", What: "fill", Title: "Fill", Says: pieces(p.Jars, word) + " of " + b.s.mass(p.Fill, 1000) + " planned",
		Target: Figure{Text: pieces(p.Jars, word), Sum: "as planned when the batch was started"}, Last: b.last.fill}
	if d := b.b.density(); d > 0 {
		fits, _ := b.s.fitAt(p.Fill, d, b.b.body.Container)
		t.Says = join(t.Says, fits)
	}
	if f := b.b.filling(); f != nil {
		t.Done, t.Entry, t.Actual = true, b.b.fill.String(), pieces(f.Jars, f.Word)
	}
	b.step(t, 0)
}

func (b *FormulaSaved) word() string {
	if b == nil {
		return ""
	}
	return b.Word
}
