package calc

import "strconv"

type askScale struct {
	Lines []askScaleLine `json:"lines"`
	// Batch is a mass, in grams or with its unit; otherwise jars, fill and loss say how much.
	Batch typed `json:"batch"`
	Jars  typed `json:"jars"`
	Fill  typed `json:"fill"`
	Loss  typed `json:"loss"`
	Step  typed `json:"step"`
}

type askScaleLine struct {
	ID      string `json:"id"`
	Percent typed  `json:"percent"`
	QS      bool   `json:"qs"`
	Max     typed  `json:"max"`
	Step    typed  `json:"step"`
}

type scaleAnswer struct {
	Batch    string            `json:"batch"`
	Lines    []scaleAnswerLine `json:"lines"`
	Findings []Finding         `json:"findings"`
}

type scaleAnswerLine struct {
	ID    string `json:"id"`
	Grams string `json:"grams"`
	Exact string `json:"exact"`
	True  string `json:"truePercent"`
	Error string `json:"relativeErrorPercent"`
}

const exampleScale = `{
  "jars": "24",
  "fill": "120 g",
  "loss": "4",
  "step": "0.1",
  "lines": [
    {"id": "water", "qs": true},
    {"id": "betaine", "percent": "30"},
    {"id": "stearic", "percent": "11"},
    {"id": "preservative", "percent": "0.97", "max": "1"}
  ]
}
`

func doScale(request []byte) (any, *FieldError) {
	var ask askScale
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	lines, err := ask.lines()
	if err != nil {
		return nil, err
	}
	step := Gram / 10
	if ask.Step != "" {
		if step, err = ReadStep(string(ask.Step)); err != nil {
			return nil, err.under("step")
		}
	}
	var batch Mass
	switch {
	case ask.Batch != "" && (ask.Jars != "" || ask.Fill != "" || ask.Loss != ""):
		return nil, &FieldError{Field: "batch", Says: "a mass and jars at once", Want: "write batch, or jars with fill and loss"}
	case ask.Batch != "":
		if batch, err = ReadGrams(string(ask.Batch)); err != nil {
			return nil, err.under("batch")
		}
	default:
		plan, err := ReadPlan(Plan{Jars: string(ask.Jars), Fill: string(ask.Fill), Loss: string(ask.Loss), Step: string(ask.Step)})
		if err != nil {
			return nil, err
		}
		batch = plan.Batch
	}
	s, err := Scale(lines, batch, step)
	if err != nil {
		return nil, err
	}
	out := scaleAnswer{Batch: s.Batch.On(step) + " g", Findings: orNone(s.Findings)}
	for _, l := range s.Lines {
		out.Lines = append(out.Lines, scaleAnswerLine{l.ID, l.Mass.On(l.Step) + " g", l.Exact.String(), l.True.StringFixed(4), l.Error.StringFixed(2)})
	}
	return out, nil
}

func (a *askScale) lines() ([]ScaleLine, *FieldError) {
	var sum Percent
	qs := -1
	out := make([]ScaleLine, len(a.Lines))
	for i, l := range a.Lines {
		at := "lines[" + strconv.Itoa(i) + "]."
		out[i] = ScaleLine{ID: l.ID, QS: l.QS}
		if l.ID == "" {
			out[i].ID = strconv.Itoa(i + 1)
		}
		var err *FieldError
		switch {
		case l.QS && qs >= 0:
			return nil, &FieldError{Field: at + "qs", Says: "two lines are q.s.", Want: "leave one"}
		case l.QS && l.Percent != "":
			return nil, &FieldError{Field: at + "percent", Says: "a q.s. line has no figure of its own", Want: "leave the percent out, or take qs away"}
		case l.QS:
			qs = i
		default:
			if out[i].Percent, err = ReadPercent(string(l.Percent)); err != nil {
				return nil, err.under(at + "percent")
			}
			sum += out[i].Percent
		}
		if l.Max != "" {
			most, err := ReadPercent(string(l.Max))
			if err != nil {
				return nil, err.under(at + "max")
			}
			out[i].Max = &most
		}
		if l.Step != "" {
			if out[i].Step, err = ReadStep(string(l.Step)); err != nil {
				return nil, err.under(at + "step")
			}
		}
	}
	if qs >= 0 {
		if sum > Hundred {
			return nil, &FieldError{Field: "lines", Says: "the other lines leave " + (Hundred - sum).String() + " % for the q.s. line", Want: "take some out"}
		}
		out[qs].Percent = Hundred - sum
	}
	return out, nil
}
