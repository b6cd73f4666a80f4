package calc

import "strconv"

type askRescue struct {
	askKnown
	Formula askFormula `json:"formula"`
	Batch   typed      `json:"batch"`
	Step    typed      `json:"step"`
	// Went is what is in the pot; Stock what is still at hand. Lines that are not named have not gone in, or are not known.
	Went    []askLineGrams `json:"went"`
	Stirred bool           `json:"stirred"`
	Last    askLastStep    `json:"last"`
	Stock   []askLineGrams `json:"stock"`
	// Room is what the vessel takes in all, in grams.
	Room typed `json:"room"`
}

type askLineGrams struct {
	Line  string `json:"line"`
	Grams typed  `json:"grams"`
}

type askLastStep struct {
	Phase string `json:"phase"`
	// Did is weighed, mixed, heated, melted, cooled, whipped, folded or filled, or empty.
	Did     string `json:"did"`
	Degrees typed  `json:"degrees"`
}

type rescueAnswer struct {
	Over     []rescueLine `json:"over"`
	Ways     []rescueWay  `json:"ways"`
	Findings []Finding    `json:"findings"`
}

type rescueWay struct {
	Way      string       `json:"way"`
	Open     bool         `json:"open"`
	Says     string       `json:"says"`
	Why      string       `json:"why"`
	Batch    string       `json:"batch"`
	Lines    []rescueLine `json:"lines"`
	Findings []Finding    `json:"findings"`
}

type rescueLine struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	InPot   string `json:"inPot"`
	Add     string `json:"add"`
	Planned string `json:"plannedPercent"`
	True    string `json:"truePercent"`
	Short   string `json:"short,omitempty"`
	NotIn   bool   `json:"notIn"`
	Again   bool   `json:"again"`
}

const exampleRescue = `{
  "formula": {
    "name": "A whipped wash",
    "wash": "rinse-off",
    "phases": [
      {"letter": "A", "treatment": {"do": "heat", "to": "75 C"}},
      {"letter": "B", "treatment": {"do": "melt", "to": "75 C"}},
      {"letter": "C", "treatment": {"do": "cool", "to": "37 C"}}
    ],
    "lines": [
      {"id": "water", "phase": "A", "ingredient": "water", "qs": true},
      {"id": "betaine", "phase": "A", "ingredient": "betaine-30", "percent": "30"},
      {"id": "isethionate", "phase": "A", "ingredient": "sci-powder", "percent": "20"},
      {"id": "stearic", "phase": "B", "ingredient": "stearic-50", "percent": "11"},
      {"id": "preservative", "phase": "C", "ingredient": "phenoxyethanol-ehg", "percent": "1"}
    ]
  },
  "batch": "300 g",
  "step": "0.1",
  "went": [{"line": "water", "grams": "114"}, {"line": "betaine", "grams": "90"}, {"line": "isethionate", "grams": "72"}],
  "last": {"phase": "A", "did": "weighed"},
  "stock": [{"line": "water", "grams": "2000"}, {"line": "betaine", "grams": "400"}, {"line": "stearic", "grams": "35"}, {"line": "preservative", "grams": "20"}],
  "room": "800 g"
}
`

func doRescue(request []byte) (any, *FieldError) {
	var ask askRescue
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	r, err := ask.read()
	if err != nil {
		return nil, err
	}
	got, err := Rescue(r)
	if err != nil {
		return nil, err
	}
	rows := func(lines []RescueLine) []rescueLine {
		out := []rescueLine{}
		for _, l := range lines {
			row := rescueLine{ID: l.ID, Name: l.Name, InPot: l.InPot.On(r.Step) + " g", Add: l.Add.On(r.Step) + " g", Planned: l.Planned.String(), True: l.True.String(), NotIn: l.NotIn, Again: l.MeltOut}
			if l.Short > 0 {
				row.Short = l.Short.On(r.Step) + " g"
			}
			if l.True == 0 {
				row.True = ""
			}
			out = append(out, row)
		}
		return out
	}
	out := rescueAnswer{Over: rows(got.Over), Ways: []rescueWay{}, Findings: orNone(got.Findings)}
	for _, w := range got.Ways {
		out.Ways = append(out.Ways, rescueWay{w.Way, w.Open, w.Says, w.Why, w.Batch.On(r.Step) + " g", rows(w.Lines), orNone(w.Findings)})
	}
	return out, nil
}

func (a *askRescue) read() (RescueAsk, *FieldError) {
	r := RescueAsk{Stirred: a.Stirred, Step: Gram / 10}
	var err *FieldError
	if r.Formula, r.Known, err = readFormula(a.Formula, a.askKnown); err != nil {
		return r, err
	}
	if r.Batch, err = ReadGrams(string(a.Batch)); err != nil {
		return r, err.under("batch")
	}
	if a.Step != "" {
		if r.Step, err = ReadStep(string(a.Step)); err != nil {
			return r, err.under("step")
		}
	}
	if r.Went, err = readLineGrams(a.Went, &r.Formula); err != nil {
		return r, err.under("went")
	}
	if r.Stock, err = readLineGrams(a.Stock, &r.Formula); err != nil {
		return r, err.under("stock")
	}
	if a.Room != "" {
		if r.Room, err = ReadGrams(string(a.Room)); err != nil {
			return r, err.under("room")
		}
	}
	switch a.Last.Did {
	case "", "weighed", "mixed", "heated", "melted", "cooled", "whipped", "folded", "filled":
	default:
		return r, &FieldError{Field: "last.did", Says: "“" + short(a.Last.Did) + "” is not a step known here", Want: "weighed, mixed, heated, melted, cooled, whipped, folded or filled"}
	}
	r.Last = LastStep{Phase: a.Last.Phase, Did: a.Last.Did}
	if a.Last.Degrees != "" {
		d, err := ReadDegrees(string(a.Last.Degrees), "")
		if err != nil {
			return r, err.under("last.degrees")
		}
		r.Last.Degrees = &d
	}
	return r, nil
}

// readLineGrams reads masses by line; 0 is a mass here, since a stock may be empty.
func readLineGrams(list []askLineGrams, f *Formula) (map[string]Mass, *FieldError) {
	out, lines := map[string]Mass{}, map[string]bool{}
	for _, l := range f.Lines {
		lines[l.ID] = true
	}
	for i, g := range list {
		at := "[" + strconv.Itoa(i) + "]"
		if _, twice := out[g.Line]; !lines[g.Line] || twice {
			return nil, &FieldError{Field: at + ".line", Says: "“" + short(g.Line) + "” is not one line of the formula, named once", Want: "write the id of a line, and add up what went into it"}
		}
		if n, err := readNumber(string(g.Grams)); err == nil && n.decimal().IsZero() {
			out[g.Line] = 0
			continue
		}
		m, err := ReadGrams(string(g.Grams))
		if err != nil {
			return nil, err.under(at + ".grams")
		}
		out[g.Line] = m
	}
	return out, nil
}
