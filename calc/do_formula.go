package calc

import "github.com/shopspring/decimal"

type askTotal struct {
	Lines []askTotalLine `json:"lines"`
}

type askTotalLine struct {
	askLine
	// Name stands for an ingredient where only sums are asked for.
	Name string `json:"name"`
}

type totalAnswer struct {
	Sum      string            `json:"sum"`
	Gap      string            `json:"gap"`
	Over     bool              `json:"over"`
	QS       string            `json:"qs"`
	Lines    []totalAnswerLine `json:"lines"`
	Findings []Finding         `json:"findings"`
}

type totalAnswerLine struct {
	ID      string `json:"id"`
	Percent string `json:"percent"`
}

const exampleTotal = `{
  "lines": [
    {"name": "water", "qs": true},
    {"name": "glycerin", "percent": "9,5"},
    {"name": "betaine solution", "percent": "30"},
    {"name": "preservative", "percent": 1}
  ]
}
`

func doTotal(request []byte) (any, *FieldError) {
	var ask askTotal
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f := askFormula{}
	for _, l := range ask.Lines {
		if l.Ingredient == "" && l.Base == "" {
			l.Ingredient = l.Name
		}
		f.Lines = append(f.Lines, l.askLine)
	}
	read, err := f.read()
	if err != nil {
		return nil, err
	}
	t := Total(read.Lines)
	out := totalAnswer{Sum: t.Sum.String(), Gap: t.GapSays(), Over: t.Gap < 0, QS: t.QS, Lines: []totalAnswerLine{}, Findings: orNone(t.Findings)}
	for _, l := range t.Lines {
		out.Lines = append(out.Lines, totalAnswerLine{l.ID, l.Percent.String()})
	}
	return out, nil
}

func orNone(f []Finding) []Finding {
	out := make([]Finding, len(f))
	for i, x := range f {
		if x.Date == "" && x.Source != "" {
			x.Date = rulesDate
		}
		out[i] = x
	}
	return out
}

type askJudge struct {
	askKnown
	Formula askFormula `json:"formula"`
	// PH is that of the finished product, measured.
	PH typed `json:"ph"`
}

func (a *askJudge) read() (Formula, Known, int, *FieldError) {
	f, k, err := readFormula(a.Formula, a.askKnown)
	if err != nil {
		return f, k, 0, err
	}
	pH := 0
	if a.PH != "" {
		if pH, err = ReadPH(string(a.PH)); err != nil {
			return f, k, 0, err.under("ph")
		}
	}
	t := Total(f.Lines)
	f.Lines = t.Lines
	return f, k, pH, nil
}

type findingsAnswer struct {
	Findings []Finding `json:"findings"`
}

// judgeBy runs only the rules named.
func judgeBy(request []byte, names ...string) (any, *FieldError) {
	var ask askJudge
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, pH, err := ask.read()
	if err != nil {
		return nil, err
	}
	out := []Finding{}
	for _, x := range judge(&f, k, pH, weighed{}) {
		if contains(names, x.Rule) {
			out = append(out, x)
		}
	}
	return findingsAnswer{out}, nil
}

func doCharge(request []byte) (any, *FieldError) { return judgeBy(request, "base", "charge") }

func doPreservation(request []byte) (any, *FieldError) {
	return judgeBy(request, "base", "preservative", "limit", "range", "keeping-ph", "keeping-window", "added-hot", "benzoate-ascorbic", "tables")
}

func doHazards(request []byte) (any, *FieldError) {
	return judgeBy(request, "wear-powder", "wear-eyes", "wear-hot", "under-three")
}

const exampleCharge = `{
  "formula": {
    "name": "A wash that will not hold together",
    "lines": [
      {"ingredient": "water", "qs": true},
      {"ingredient": "sci-powder", "percent": "15"},
      {"ingredient": "betaine-30", "percent": "30"},
      {"ingredient": "btms", "percent": "4"}
    ]
  }
}
`

const examplePreservation = `{
  "formula": {
    "name": "Half a whipped base",
    "wash": "rinse-off",
    "phases": [
      {"letter": "A", "treatment": {"do": "mix", "to": "", "holdMin": ""}},
      {"letter": "B", "treatment": {"do": "fold", "to": "", "holdMin": ""}}
    ],
    "lines": [
      {"phase": "A", "base": "whip", "percent": "50"},
      {"phase": "B", "ingredient": "sucrose", "percent": "50"}
    ]
  },
  "bases": [
    {
      "key": "whip",
      "name": "whipped base",
      "lines": [
        {"ingredient": "water", "qs": true},
        {"ingredient": "betaine-30", "percent": "30"},
        {"ingredient": "stearic-50", "percent": "12"},
        {"ingredient": "benzyl-dehydroacetic", "percent": "1"}
      ]
    }
  ],
  "ph": "5.2"
}
`

const exampleHazards = `{
  "formula": {
    "name": "A whipped base",
    "phases": [{"letter": "A", "treatment": {"do": "heat", "to": "167 F", "holdMin": "20"}}],
    "lines": [
      {"phase": "A", "ingredient": "water", "qs": true},
      {"phase": "A", "ingredient": "betaine-30", "percent": "30"},
      {"phase": "A", "ingredient": "sci-powder", "percent": "20"}
    ]
  }
}
`

type askApart struct {
	askKnown
	Formula askFormula `json:"formula"`
}

type apartAnswer struct {
	Supplied      []apartPart `json:"supplied"`
	SuppliedSum   string      `json:"suppliedSum"`
	Substances    []apartPart `json:"substances"`
	SubstancesSum string      `json:"substancesSum"`
}

type apartPart struct {
	Key     string   `json:"key"`
	Name    string   `json:"name"`
	Percent string   `json:"percent"`
	Listed  string   `json:"listed,omitempty"`
	Lines   []string `json:"lines"`
}

const exampleTakeApart = `{
  "formula": {
    "name": "Whipped scrub",
    "lines": [
      {"base": "whip", "percent": "50"},
      {"ingredient": "sucrose", "percent": "50"}
    ]
  },
  "bases": [
    {
      "key": "whip",
      "name": "whipped base",
      "lines": [
        {"ingredient": "water", "qs": true},
        {"ingredient": "betaine-30", "percent": "20"},
        {"ingredient": "stearic-50", "percent": "12"}
      ]
    }
  ]
}
`

func doTakeApart(request []byte) (any, *FieldError) {
	var ask askApart
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readFormula(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	a, err := TakeApart(f, k)
	if err != nil {
		return nil, err.under("formula")
	}
	var out apartAnswer
	out.Supplied, out.SuppliedSum = apartParts(a.Supplied)
	out.Substances, out.SubstancesSum = apartParts(a.Substances)
	return out, nil
}

func apartParts(parts []Part) ([]apartPart, string) {
	out, sum := []apartPart{}, decimal.Decimal{}
	for _, p := range parts {
		sum = sum.Add(p.Percent)
		out = append(out, apartPart{p.Key, p.Name, p.Percent.String(), p.Listed, p.Lines})
	}
	return out, sum.String()
}
