package calc

type surfactantAnswer struct {
	// Active is the active matter (ASM) in per cent.
	Active   string            `json:"active"`
	Classes  []surfactantClass `json:"classes"`
	Bars     []surfactantBar   `json:"bars"`
	Window   string            `json:"window"`
	Missing  []string          `json:"missing"`
	Findings []Finding         `json:"findings"`
}

type surfactantClass struct {
	Charge  Charge   `json:"charge"`
	Percent string   `json:"percent"`
	INCIs   []string `json:"incis"`
}

type surfactantBar struct {
	Line   string `json:"line"`
	Name   string `json:"name"`
	Why    string `json:"why"`
	Low    string `json:"low"`
	High   string `json:"high"`
	Source string `json:"source"`
}

const exampleSurfactant = `{
  "formula": {
    "name": "A whipped wash",
    "wash": "rinse-off",
    "lines": [
      {"id": "water", "ingredient": "water", "qs": true},
      {"id": "betaine", "ingredient": "betaine-30", "percent": "30"},
      {"id": "isethionate", "ingredient": "sci-powder", "percent": "20"},
      {"id": "benzoate", "ingredient": "sodium-benzoate", "percent": "0.5"}
    ]
  }
}
`

func doSurfactant(request []byte) (any, *FieldError) {
	var ask askApart
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readApart(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	s := SurfactantsOf(f, k)
	out := surfactantAnswer{Active: show(s.Total), Classes: []surfactantClass{}, Bars: []surfactantBar{}, Missing: append([]string{}, s.Window.Missing...), Findings: orNone(s.Findings)}
	for _, c := range s.Classes {
		out.Classes = append(out.Classes, surfactantClass{c.Charge, show(c.Percent), c.INCIs})
	}
	for _, b := range s.Window.Bars {
		out.Bars = append(out.Bars, surfactantBar{b.Line, b.Name, b.Why, showPH(b.Low), showPH(b.High), b.Source})
	}
	switch {
	case len(s.Window.Bars) == 0:
		out.Window = "not known"
	case s.Window.Empty():
		out.Window = "none"
	default:
		out.Window = showPH(s.Window.Low) + " to " + showPH(s.Window.High)
	}
	return out, nil
}
