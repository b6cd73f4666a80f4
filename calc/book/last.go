package book

// lastTime is one line for each step from the newest earlier batch of the same formula that has something to say.
type lastTime struct {
	line, phase, combined map[string]string
	density               map[string]string // by stage
	ph, fill              string
}

func (s *State) lastTime(m *making) *lastTime {
	out := &lastTime{line: map[string]string{}, phase: map[string]string{}, combined: map[string]string{}, density: map[string]string{}}
	past := true
	s.batches.each(func(key string, b *batch) bool {
		past = past && key != m.b.body.Key
		if !past || b.body.Formula != m.b.body.Formula {
			return past
		}
		step, in := b.body.Plan.Step, " ("+b.body.Code+")"
		w, order := b.weighed()
		for _, id := range order {
			says := "last time " + grams(w[id].mass, step)
			for _, t := range b.body.Targets {
				if t.Line == id {
					says += " of " + grams(t.Mass, step)
				}
			}
			if n := len(w[id].lots); n > 0 && w[id].lots[n-1].lot != "" {
				says += ", lot " + s.lotCode(w[id].lots[n-1].lot)
			}
			out.line[id] = says + in
		}
		b.stands(func(_ *row, body visitable) {
			switch x := body.(type) {
			case *BatchRead:
				if x.What == "temperature" {
					out.phase[x.Phase] = "last time " + degrees(x, m.known.Bench) + in
				} else if x.What == "density" {
					out.density[x.Stage] = join("last time "+fixed(x.Value, 3, 2)+" g/mL", x.Stage, b.overrun(x).Text) + in
				} else if x.What == "ph" {
					out.ph = join("last time pH "+fixed(x.Value, 3, 1), phMethod(x)) + in
				}
			case *BatchTreated:
				if x.Do == combine {
					out.combined[x.Phase] = join("last time combined", x.Says) + in
				} else if x.Says != "" && x.Do != coolingChanged && out.phase[x.Phase] == "" {
					out.phase[x.Phase] = "last time: " + x.Says + in
				}
			case *BatchFilled:
				out.fill = "last time " + pieces(x.Jars, x.Word) + " of " + number(b.body.Plan.Jars) + " planned" + in
			}
		})
		return true
	})
	return out
}
