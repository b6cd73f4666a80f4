package calc

import "strconv"

type askAdjustPH struct {
	Solution string `json:"solution"`
	// Strength is the acid or base in its solution, in per cent (100 when empty).
	Strength typed         `json:"strength"`
	Sample   typed         `json:"sample"`
	Points   []askTrialRow `json:"points"`
	Batch    typed         `json:"batch"`
	Step     typed         `json:"step"`
	Low      typed         `json:"low"`
	High     typed         `json:"high"`
	Reads    typed         `json:"reads"`
	Then     *askTrialRow  `json:"then"`
}

type askTrialRow struct {
	Added typed `json:"added"`
	PH    typed `json:"ph"`
}

type adjustPHAnswer struct {
	Says     string    `json:"says"`
	Aim      string    `json:"aim"`
	All      string    `json:"all"`
	First    string    `json:"first"`
	Rest     string    `json:"rest"`
	Least    string    `json:"least"`
	Most     string    `json:"most"`
	Pure     string    `json:"purePercent"`
	Findings []Finding `json:"findings"`
}

const exampleAdjustPH = `{
  "solution": "citric acid solution 20 %",
  "strength": "20",
  "sample": "50 g",
  "points": [
    {"added": "0", "ph": "6.4"},
    {"added": "0.5", "ph": "5.9"},
    {"added": "1.0", "ph": "5.5"},
    {"added": "1.5", "ph": "5.1"}
  ],
  "batch": "1500 g",
  "step": "0.1",
  "low": "5.2",
  "high": "5.4"
}
`

func doAdjustPH(request []byte) (any, *FieldError) {
	var ask askAdjustPH
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	read, err := ask.read()
	if err != nil {
		return nil, err
	}
	got, err := AdjustPH(read)
	if err != nil {
		return nil, err
	}
	grams := func(m Mass) string { return m.On(read.Step) + " g" }
	out := adjustPHAnswer{Says: got.Says, Aim: showPH(got.Aim), All: grams(got.All), First: grams(got.First), Least: grams(got.Least), Most: grams(got.Most), Pure: got.Pure.StringFixed(4), Findings: orNone(got.Findings)}
	if read.Then != nil {
		out.Rest = grams(got.Rest)
	}
	return out, nil
}

func (a *askAdjustPH) read() (AdjustAsk, *FieldError) {
	out := AdjustAsk{Solution: nameOr(a.Solution, "the solution"), Strength: Hundred, Step: Gram / 10}
	var err *FieldError
	if a.Strength != "" {
		if out.Strength, err = ReadPercent(string(a.Strength)); err != nil {
			return out, err.under("strength")
		}
	}
	if out.Sample, err = ReadGrams(string(a.Sample)); err != nil {
		return out, err.under("sample")
	}
	if out.Batch, err = ReadGrams(string(a.Batch)); err != nil {
		return out, err.under("batch")
	}
	if a.Step != "" {
		if out.Step, err = ReadStep(string(a.Step)); err != nil {
			return out, err.under("step")
		}
	}
	for _, p := range []struct {
		field string
		text  typed
		into  *int
	}{{"low", a.Low, &out.Low}, {"high", a.High, &out.High}, {"reads", a.Reads, &out.Reads}} {
		if p.field == "reads" && p.text == "" {
			continue
		}
		if *p.into, err = ReadPH(string(p.text)); err != nil {
			return out, err.under(p.field)
		}
	}
	for i := range a.Points {
		p, err := a.Points[i].read()
		if err != nil {
			return out, err.under("points[" + strconv.Itoa(i) + "]")
		}
		out.Points = append(out.Points, p)
	}
	if a.Then != nil {
		p, err := a.Then.read()
		if err != nil {
			return out, err.under("then")
		}
		out.Then = &p
	}
	return out, nil
}

func (a *askTrialRow) read() (TrialPoint, *FieldError) {
	var p TrialPoint
	var err *FieldError
	if p.PH, err = ReadPH(string(a.PH)); err != nil {
		return p, err.under("ph")
	}
	if n, err := readNumber(string(a.Added)); err == nil && n.decimal().IsZero() {
		return p, nil
	}
	if p.Added, err = ReadGrams(string(a.Added)); err != nil {
		return p, err.under("added")
	}
	return p, nil
}
