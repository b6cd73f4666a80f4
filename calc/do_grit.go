package calc

type gritAnswer struct {
	FreeWater string     `json:"freeWater"`
	Grits     []gritLine `json:"grits"`
	Findings  []Finding  `json:"findings"`
}

type gritLine struct {
	Line    string `json:"line"`
	Name    string `json:"name"`
	Percent string `json:"percent"`
	Room    string `json:"at20C"`
	Bath    string `json:"at38C"`
	Says    string `json:"says"`
	Source  string `json:"source"`
}

const exampleGrit = `{
  "formula": {
    "name": "A whipped scrub",
    "phases": [{"letter": "A", "treatment": {"do": "mix", "to": "", "holdMin": ""}}, {"letter": "B", "treatment": {"do": "fold", "to": "", "holdMin": ""}}],
    "lines": [
      {"id": "base", "phase": "A", "base": "whip", "percent": "54"},
      {"id": "sugar", "phase": "B", "ingredient": "sucrose", "percent": "46"}
    ]
  },
  "bases": [
    {"key": "whip", "name": "whipped base", "lines": [
      {"ingredient": "water", "percent": "16"},
      {"ingredient": "betaine-30", "percent": "30"},
      {"ingredient": "sci-powder", "percent": "20"},
      {"ingredient": "stearic-50", "percent": "11"},
      {"ingredient": "phenoxyethanol-ehg", "percent": "1"},
      {"ingredient": "glycerin", "qs": true}
    ]}
  ]
}
`

func doGrit(request []byte) (any, *FieldError) {
	var ask askApart
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readApart(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	g := GritsOf(f, k)
	out := gritAnswer{FreeWater: show(g.FreeWater), Grits: []gritLine{}, Findings: orNone(g.Findings)}
	for _, x := range g.Grits {
		out.Grits = append(out.Grits, gritLine{x.Line, x.Name, show(x.Percent), show(x.Room), show(x.Bath), x.Says, x.Source})
	}
	return out, nil
}
