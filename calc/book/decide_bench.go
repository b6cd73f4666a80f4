package book

import (
	"strings"

	"stillroom/calc"
)

type weighArgs struct {
	Batch     string `json:"batch"`
	Line      string `json:"line"`
	Lot       string `json:"lot"`
	Grams     string `json:"grams"`
	AsPlanned bool   `json:"asPlanned"`
	More      bool   `json:"more"`
}

// atBench answers a batch that steps may still be written to.
func (s *State) atBench(key string) (*making, *Refusal) {
	m := s.making(key)
	switch {
	case m == nil:
		return nil, noBatch()
	case m.b.state == Released:
		return nil, refuse("released", "batch", "batch "+m.b.body.Code+" was released by "+m.b.by, "write a note, or correct a row with a reason")
	case m.b.state == Discarded:
		return nil, refuse("discarded", "batch", "batch "+m.b.body.Code+" was discarded", "start a new batch")
	case m.b.fill.Seq != 0:
		return nil, refuse("filled", "batch", "batch "+m.b.body.Code+" is filled already", "write a note, or correct a row with a reason")
	}
	return m, nil
}

func (s *State) weigh(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[weighArgs](args)
	if no != nil {
		return nil, nil, no
	}
	m, no := s.atBench(a.Batch)
	if no != nil {
		return nil, nil, no
	}
	target, ok := m.target(a.Line)
	line := m.line(a.Line)
	if !ok || line == nil {
		return nil, nil, refuse("line unknown", "line", "this line is not in the plan of batch "+m.b.body.Code, "go back to the bench and choose a line there")
	}
	done := &weighedOn{}
	if all, _ := m.b.weighed(); all[a.Line] != nil {
		done = all[a.Line]
	}
	name := s.lineName(line.Ingredient, line.Base)
	step := m.b.body.Plan.Step
	if done.done && !a.More {
		return nil, nil, refuse("weighed already", "line", name+" was weighed already, "+grams(done.mass, step), "if more went in, say that this is more of it; if the row is wrong, correct it with a reason")
	}
	b := &BatchWeighed{Batch: a.Batch, Line: a.Line, Lot: a.Lot, AsPlanned: a.AsPlanned, More: a.More && !done.done, Text: strings.TrimSpace(a.Grams)}
	if a.AsPlanned {
		if b.Mass = target - done.mass; b.Mass <= 0 {
			return nil, nil, refuse("nothing to go", "grams", "nothing is left to weigh of "+name, "type the grams that went in beyond the plan")
		}
		b.Text = ""
	} else if b.Mass, no = readWeighing(a.Grams, target, "grams"); no != nil {
		return nil, nil, no
	}
	if no := s.lotFits(a.Lot, line, name); no != nil {
		return nil, nil, no
	}
	return s.one(ctx, KindBatchWeighed, b)
}

// readWeighing reads grams at the bench and refuses what no honest scale shows for this line.
func readWeighing(text string, target int64, field string) (int64, *Refusal) {
	m, e := calc.ReadGrams(text)
	if e != nil {
		return 0, misread(e, field)
	}
	switch mg := int64(m); {
	case mg > heaviest:
		return 0, refuse("too heavy", field, grams(mg, 0)+" is more than 100 kg", "look at the scale and type the grams again")
	case target > 0 && mg > 10*target:
		return 0, refuse("too heavy", field, grams(mg, 0)+" is more than ten times the "+grams(target, 0)+" planned", "look at the decimal point, then type the grams again; if it is true, weigh it in parts and write a note")
	default:
		return mg, nil
	}
}

// lotFits refuses a lot that is unknown, held, or of something else. No lot is allowed: the record then says so.
func (s *State) lotFits(key string, line *Line, name string) *Refusal {
	if key == "" {
		return nil
	}
	l := s.lots.get(key)
	if l == nil {
		return refuse("lot unknown", "lot", "this lot is not in this book", "receive it first, or weigh without a lot")
	}
	if l.body.Ingredient != line.Ingredient && (line.Base == "" || l.body.Ingredient != line.Base) {
		return refuse("wrong lot", "lot", "lot "+l.body.Code+" is "+s.lineName(l.body.Ingredient, "")+", and this line is "+name, "choose a lot of "+name)
	}
	if l.held {
		return refuse("lot held", "lot", "lot "+l.body.Code+" is held: "+l.reason, "take another lot, or let this one go first")
	}
	if src := s.batches.get(l.body.SourceBatch); src != nil && src.state == Held {
		return refuse("lot held", "lot", "lot "+l.body.Code+" was made in batch "+src.body.Code+", which is held: "+src.why, "take another lot, or release that batch first")
	}
	return nil
}

type phaseArgs struct {
	Batch    string `json:"batch"`
	Phase    string `json:"phase"`
	Line     string `json:"line"`
	Value    string `json:"value"`
	Unit     string `json:"unit"`
	Says     string `json:"says"`
	Do       string `json:"do"`
	Text     string `json:"text"`
	Method   string `json:"method"`
	Dilution string `json:"dilution"`
	Step     string `json:"step"`
	Sample   string `json:"sample"`
}

// inPhase reads the arguments of a step that belongs to a phase of a batch still at the bench.
func (s *State) inPhase(args []byte, need bool) (phaseArgs, *making, *Refusal) {
	a, no := arguments[phaseArgs](args)
	if no != nil {
		return a, nil, no
	}
	m, no := s.atBench(a.Batch)
	if no != nil {
		return a, nil, no
	}
	if (need || a.Phase != "") && !m.hasPhase(a.Phase) {
		return a, nil, refuse("phase unknown", "phase", "batch "+m.b.body.Code+" has no phase "+a.Phase, "go back to the bench and choose a step there")
	}
	return a, m, nil
}

func (s *State) wear(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, m, no := s.inPhase(args, true)
	if no != nil {
		return nil, nil, no
	}
	says := make([]string, 0, 2)
	for _, f := range calc.WearBefore(m.f, m.known, a.Phase, a.Line) {
		says = append(says, f.Do)
	}
	return s.one(ctx, KindBatchWore, &BatchWore{a.Batch, a.Phase, a.Line, strings.Join(says, "; ")})
}

func (s *State) treated(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, m, no := s.inPhase(args, true)
	if no != nil {
		return nil, nil, no
	}
	switch g, no := m.combining(a.Phase, a.Do); {
	case no != nil:
		return nil, nil, no
	case g != nil:
		if by, _ := m.combined(g); by.Seq != 0 {
			return nil, entryValue{by.String()}, nil // the key was pressed twice
		}
		return s.one(ctx, KindBatchTreated, &BatchTreated{a.Batch, g.last(), combine, strings.TrimSpace(a.Says)})
	}
	do := ""
	for _, p := range m.f.Phases {
		if p.Letter == a.Phase {
			do = p.Treatment.Do
		}
	}
	return s.one(ctx, KindBatchTreated, &BatchTreated{a.Batch, a.Phase, do, strings.TrimSpace(a.Says)})
}

func (s *State) temperature(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, _, no := s.inPhase(args, false)
	if no != nil {
		return nil, nil, no
	}
	d, e := calc.ReadDegrees(a.Value, s.unitOr(a.Unit))
	if e != nil {
		return nil, nil, misread(e, "value")
	}
	return s.one(ctx, KindBatchRead, &BatchRead{Batch: a.Batch, What: "temperature", Value: d.MilliC, Unit: d.Unit, Text: d.Text, Phase: a.Phase})
}

func (s *State) measurePH(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[phaseArgs](args)
	if no != nil {
		return nil, nil, no
	}
	if s.batches.get(a.Batch) == nil {
		return nil, nil, noBatch()
	}
	v, e := calc.ReadPH(a.Value)
	if e != nil {
		return nil, nil, misread(e, "value")
	}
	b := &BatchRead{Batch: a.Batch, What: "ph", Value: int64(v) * 10, Text: strings.TrimSpace(a.Value), Method: strings.TrimSpace(a.Method)}
	if strings.TrimSpace(a.Dilution) != "" {
		p, e := calc.ReadPercent(a.Dilution)
		if e != nil {
			return nil, nil, misread(e, "dilution")
		}
		b.Dilution = int64(p)
	}
	if strings.TrimSpace(a.Step) != "" {
		v, e := calc.ReadPH(a.Step)
		if e != nil || v == 0 {
			return nil, nil, refuse("misread", "step", "“"+a.Step+"” is not a step of a strip or a meter", "write it in pH, such as 0.5 or 0.01")
		}
		b.Step = int64(v) * 10
	}
	if strings.TrimSpace(a.Sample) != "" {
		d, e := calc.ReadDegrees(a.Sample, a.Unit)
		if e != nil {
			return nil, nil, misread(e, "sample")
		}
		b.Sample, b.SampleText = d.MilliC, d.Show()
	}
	return s.one(ctx, KindBatchRead, b)
}

func (s *State) note(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[phaseArgs](args)
	if no != nil {
		return nil, nil, no
	}
	if s.batches.get(a.Batch) == nil {
		return nil, nil, noBatch()
	}
	if strings.TrimSpace(a.Text) == "" {
		return nil, nil, refuse("nothing written", "text", "the note is empty", "write what happened")
	}
	return s.one(ctx, KindBatchNoted, &BatchNoted{Batch: a.Batch, Text: strings.TrimSpace(a.Text)})
}
