package calc

type askSwap struct {
	askKnown
	Formula askFormula `json:"formula"`
	Line    string     `json:"line"`
	By      string     `json:"by"`
	// Hold is active matter, oil, mass, or a function such as humectant; empty holds the mass.
	Hold string `json:"hold"`
}

type swapAnswer struct {
	Hold       string         `json:"hold"`
	HeldBefore string         `json:"heldBefore"`
	HeldAfter  string         `json:"heldAfter"`
	Sum        string         `json:"sum"`
	WaterLine  string         `json:"waterLine"`
	Lines      []LineBeside   `json:"lines"`
	Figures    []FigureBeside `json:"figures"`
	Findings   []Finding      `json:"findings"`
}

const exampleSwap = `{
  "formula": {
    "name": "A wash",
    "wash": "rinse-off",
    "lines": [
      {"id": "water", "ingredient": "water", "qs": true},
      {"id": "betaine", "ingredient": "betaine-30", "percent": "20"},
      {"id": "glucoside", "ingredient": "decyl-glucoside", "percent": "10"},
      {"id": "glycerin", "ingredient": "glycerin", "percent": "3"},
      {"id": "keep", "ingredient": "phenoxyethanol-ehg", "percent": "1"}
    ]
  },
  "line": "glucoside",
  "by": "sarcosinate-30",
  "hold": "active matter"
}
`

func doSwap(request []byte) (any, *FieldError) {
	var ask askSwap
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readApart(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	s, err := Swap(f, k, ask.Line, ask.By, ask.Hold)
	if err != nil {
		return nil, err
	}
	out := swapAnswer{Hold: s.Hold, HeldBefore: show(s.HeldBefore) + " %", HeldAfter: show(s.HeldAfter) + " %", WaterLine: s.WaterLine, Lines: LinesBeside(s.Before, s.After, k), Figures: FiguresBeside(s.Before, s.After, k), Findings: orNone(s.Findings)}
	out.Sum = "what is held: " + s.Before.lineOf(ask.Line).Percent.String() + " % of " + k.name(*s.Before.lineOf(ask.Line)) + " brings " + out.HeldBefore + "; " + s.After.lineOf(ask.Line).Percent.String() + " % of " + k.name(*s.After.lineOf(ask.Line)) + " brings " + out.HeldAfter
	return out, nil
}

func (f *Formula) lineOf(id string) *Line {
	for i := range f.Lines {
		if f.Lines[i].ID == id {
			return &f.Lines[i]
		}
	}
	return &Line{}
}
