package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

type agedArgs struct {
	Batch     string     `json:"batch"`
	Day       string     `json:"day"` // as typed, "" for today
	Condition string     `json:"condition"`
	PH        string     `json:"ph"`
	Method    string     `json:"method"`
	Dilution  string     `json:"dilution"` // per cent in water, "" or neat for undiluted; in a correction "" leaves it as it was
	Step      string     `json:"step"`
	Sample    string     `json:"sample"`
	Mass      string     `json:"mass"`
	Density   string     `json:"density"`
	Words     []AgedWord `json:"words"`
	Note      string     `json:"note"`
}

// writeAged writes one reading of the retained sample. The same reading said twice is kept once.
func (s *State) writeAged(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[agedArgs](args)
	if no != nil {
		return nil, nil, no
	}
	m := s.making(a.Batch)
	switch {
	case m == nil:
		return nil, nil, noBatch()
	case m.b.fill.Seq == 0:
		return nil, nil, refuse("not filled", "batch", "batch "+m.b.body.Code+" is not filled yet, so nothing of it ages", "fill it at the bench first")
	}
	b, no := s.readAged(a)
	if no != nil {
		return nil, nil, no
	}
	if b.says() == "" {
		return nil, nil, refuse("nothing said", "", "the reading says nothing yet", "measure one thing, choose one word, or write a note")
	}
	if b.Condition == "" {
		return nil, nil, refuse("condition missing", "condition", "it was not said where the sample stands", "choose "+listed(conditionNames(conditions, m.known.Bench)))
	}
	if b.Day, no = s.agedDay(ctx, m, a.Day); no != nil {
		return nil, nil, no
	}
	bytes, err := encode(b)
	if err != nil {
		return nil, nil, refuse("too long", "note", "what was typed is longer than its place in the book", "shorten it")
	}
	for i := range m.b.rows {
		if r := &m.b.rows[i]; r.kind == KindBatchAged && !r.struck && r.clash == "" && string(r.body) == string(bytes) {
			return nil, entryValue{r.from.ref.String()}, nil
		}
	}
	return s.one(ctx, KindBatchAged, b)
}

// agedDay is the day of a reading: from the filling until today.
func (s *State) agedDay(ctx Context, m *making, text string) (int64, *Refusal) {
	today := dayOf(ctx.Now, ctx.Zone)
	day, no := readDay(text, "day")
	switch {
	case no != nil:
		return 0, no
	case day == 0:
		return today, nil
	case day > today:
		return 0, refuse("not yet", "day", showDay(day)+" is still to come", "write the day that it was read")
	case day < m.b.filling().Day:
		return 0, refuse("too early", "day", showDay(day)+" is before it was filled, "+showDay(m.b.filling().Day), "write the day that it was read")
	}
	return day, nil
}

// readAged reads what was typed of a reading; day and whether anything was said are judged by who asks.
func (s *State) readAged(a agedArgs) (*BatchAged, *Refusal) {
	b := &BatchAged{Batch: a.Batch, Condition: a.Condition, Note: strings.TrimSpace(a.Note)}
	if a.Condition != "" && !slices.Contains(conditions, a.Condition) {
		return nil, refuse("condition unknown", "condition", a.Condition+" is no condition that this book knows", "choose "+strings.Join(conditions, ", "))
	}
	if a.Method != "" && !oneOf(a.Method, "strip", "meter") {
		return nil, refuse("word unknown", "method", a.Method+" is no way to read a pH here", "choose strip or meter")
	}
	if b.PHText = strings.TrimSpace(a.PH); b.PHText != "" {
		v, e := calc.ReadPH(a.PH)
		if e != nil {
			return nil, misread(e, "ph")
		}
		b.PH, b.Method = int64(v)*10, a.Method
		if b.Method == "" {
			return nil, refuse("method missing", "method", "a pH is a figure and how it was read, and that was not said", "choose strip or meter")
		}
		if no := b.readHow(a, s.habits().Degrees); no != nil {
			return nil, no
		}
	}
	if b.MassText = strings.TrimSpace(a.Mass); b.MassText != "" {
		mg, no := readWeighing(a.Mass, 0, "mass")
		if no != nil {
			return nil, no
		}
		b.Mass = mg
		if s.chosen.get("") != nil { // a step that nobody said is not taken for hers
			b.MassStep = s.habits().ScaleStep
		}
	}
	if b.DensityText = strings.TrimSpace(a.Density); b.DensityText != "" {
		v, e := calc.ReadDensity(a.Density)
		if e != nil {
			return nil, misread(e, "density")
		}
		b.Density = v
	}
	for _, w := range a.Words {
		k := slices.IndexFunc(agedWords, func(x AgedAsk) bool { return x.Of == w.Of })
		if k < 0 || !slices.Contains(agedWords[k].Words, w.Word) {
			return nil, refuse("word unknown", "words", w.Word+" is not a word for "+w.Of, "choose one of those that the screen offers")
		}
		if !slices.ContainsFunc(b.Words, func(x AgedWord) bool { return x.Of == w.Of }) {
			b.Words = append(b.Words, w)
		}
	}
	return b, nil
}

// readHow reads how a pH was read: in what, how finely, how warm.
func (b *BatchAged) readHow(a agedArgs, degrees string) *Refusal {
	if d := strings.TrimSpace(a.Dilution); d != "" && d != "neat" {
		p, e := calc.ReadPercent(a.Dilution)
		if e != nil {
			return misread(e, "dilution")
		}
		b.Dilution = int64(p)
	}
	if strings.TrimSpace(a.Step) != "" {
		v, e := calc.ReadPH(a.Step)
		if e != nil || v == 0 {
			return refuse("misread", "step", "“"+a.Step+"” is not a step of a strip or a meter", "write it in pH, such as 0.5 or 0.01")
		}
		b.Step = int64(v) * 10
	}
	if strings.TrimSpace(a.Sample) != "" {
		d, e := calc.ReadDegrees(a.Sample, degrees)
		if e != nil {
			return misread(e, "sample")
		}
		b.Sample, b.SampleText = d.MilliC, d.Show()
	}
	return nil
}

// correctedAged is a reading with what was said anew; what was left empty stays.
func (s *State) correctedAged(ctx Context, m *making, b *BatchAged, a *agedArgs) (visitable, *Refusal) {
	if a == nil {
		return nil, refuse("value missing", "value", "nothing was said in its place", "type what was wrong")
	}
	if strings.TrimSpace(a.PH) == "" && strings.TrimSpace(a.Method+a.Dilution+a.Step+a.Sample) != "" { // only how it was read was wrong
		if a.PH = b.PHText; a.PH == "" {
			return nil, refuse("value missing", "ph", "it was said how a pH was read, and this reading has none", "type the pH as well, or leave out how it was read")
		}
	}
	if a.PH != "" && a.Method == "" {
		a.Method = b.Method
	}
	now, no := s.readAged(*a)
	if no != nil {
		return nil, no
	}
	if strings.TrimSpace(a.Day) != "" {
		if b.Day, no = s.agedDay(ctx, m, a.Day); no != nil {
			return nil, no
		}
	}
	if now.Condition != "" {
		b.Condition = now.Condition
	}
	if now.PHText != "" {
		if strings.TrimSpace(a.Dilution) == "" {
			now.Dilution = b.Dilution
		}
		if strings.TrimSpace(a.Step) == "" && now.Method == b.Method {
			now.Step = b.Step
		}
		if now.SampleText == "" {
			now.Sample, now.SampleText = b.Sample, b.SampleText
		}
		b.PH, b.PHText, b.Method, b.Dilution, b.Step, b.Sample, b.SampleText = now.PH, now.PHText, now.Method, now.Dilution, now.Step, now.Sample, now.SampleText
	}
	if now.Mass > 0 {
		b.Mass, b.MassText, b.MassStep = now.Mass, now.MassText, now.MassStep
	}
	if now.Density > 0 {
		b.Density, b.DensityText = now.Density, now.DensityText
	}
	for _, w := range now.Words {
		if i := slices.IndexFunc(b.Words, func(x AgedWord) bool { return x.Of == w.Of }); i >= 0 {
			b.Words[i].Word = w.Word
		} else {
			b.Words = append(b.Words, w)
		}
	}
	if now.Note != "" {
		b.Note = now.Note
	}
	return b, nil
}
