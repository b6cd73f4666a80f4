package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

type askSmallest struct {
	askKnown
	Formula askFormula `json:"formula"`
	Batch   typed      `json:"batch"`
	Step    typed      `json:"step"`
	// Repeat is the standard deviation of at least ten weighings in grams, where it is known; Tolerance is in per cent (5 when empty).
	Repeat    typed `json:"repeat"`
	Tolerance typed `json:"tolerance"`
}

type smallestAnswer struct {
	// Smallest is the least mass that this scale weighs within the tolerance.
	Smallest string         `json:"smallest"`
	Lines    []smallestLine `json:"lines"`
	Findings []Finding      `json:"findings"`
}

type smallestLine struct {
	ID      string `json:"id"`
	Grams   string `json:"grams"`
	Plus    string `json:"plus"`
	Lowest  string `json:"lowestPercent"`
	Highest string `json:"highestPercent"`
	Breaks  bool   `json:"breaks"`
	// The ways out, where it breaks; empty where a way is not open.
	Batch    string `json:"batch,omitempty"`
	Step     string `json:"step,omitempty"`
	Dilution string `json:"dilution,omitempty"`
}

const exampleSmallest = `{
  "formula": {
    "name": "A small lotion",
    "wash": "leave-on",
    "lines": [
      {"id": "water", "ingredient": "water", "qs": true},
      {"id": "glycerin", "ingredient": "glycerin", "percent": "5"},
      {"id": "preservative", "ingredient": "benzyl-dehydroacetic", "percent": "0.95"}
    ]
  },
  "batch": "20 g",
  "step": "0.1"
}
`

func doSmallest(request []byte) (any, *FieldError) {
	var ask askSmallest
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readFormula(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	batch, err := ReadGrams(string(ask.Batch))
	if err != nil {
		return nil, err.under("batch")
	}
	step := Gram / 10
	if ask.Step != "" {
		if step, err = ReadStep(string(ask.Step)); err != nil {
			return nil, err.under("step")
		}
	}
	tolerance := 5 * OnePercent
	if ask.Tolerance != "" {
		if tolerance, err = ReadPercent(string(ask.Tolerance)); err != nil {
			return nil, err.under("tolerance")
		}
		if tolerance == 0 {
			return nil, &FieldError{Field: "tolerance", Says: "no scale weighs without error", Want: "write a share above 0, such as 1"}
		}
	}
	repeat := decimal.Decimal{}
	if ask.Repeat != "" {
		n, err := readNumber(string(ask.Repeat))
		if err != nil {
			return nil, err.under("repeat")
		}
		repeat = n.decimal()
		if repeat.IsNegative() || repeat.GreaterThan(decimal.New(1000, 0)) || n.unit != "" && n.unit != "g" {
			return nil, &FieldError{Field: "repeat", Says: "“" + short(string(ask.Repeat)) + "” is not a standard deviation in grams", Want: "write grams of 0 or more: 0.003"}
		}
	}
	lines := WeighLines(f, k)
	out := smallestAnswer{Smallest: SmallestMass(step, repeat, tolerance).Round(6).String() + " g for " + plain(tolerance) + " %", Lines: []smallestLine{}}
	scaled, err := Scale(ScaleLines(f, k), batch, step)
	if err != nil {
		return nil, err.under("formula")
	}
	for i := range lines {
		lines[i].Mass = scaled.Lines[i].Mass
	}
	weighed, findings, err := Smallest(lines, scaled.Batch, step)
	if err != nil {
		return nil, err
	}
	for i, w := range weighed {
		row := smallestLine{ID: w.ID, Grams: w.Mass.On(step) + " g", Plus: w.Quiet, Lowest: w.Lowest.StringFixed(4), Highest: w.Highest.StringFixed(4), Breaks: w.Breaks, Dilution: w.Ways.Dilute.Says}
		if row.ID == "" {
			row.ID = strconv.Itoa(i + 1)
		}
		if w.Ways.Batch > 0 {
			row.Batch = plainGrams(w.Ways.Batch) + " g"
		}
		if w.Ways.Step > 0 {
			row.Step = plainGrams(w.Ways.Step) + " g"
		}
		out.Lines = append(out.Lines, row)
	}
	out.Findings = orNone(append(scaled.Findings, findings...))
	return out, nil
}
