package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

type askAim struct {
	askKnown
	Formula askFormula  `json:"formula"`
	Targets []askTarget `json:"targets"`
	// Fixed are ids of lines that stay as they are.
	Fixed []string `json:"fixed"`
	// Costs are what 100 g of an ingredient cost, in any one money.
	Costs []askAimCost `json:"costs"`
	// Shelf is the most per cent of a line that the stock allows.
	Shelf []askAimShelf `json:"shelf"`
}

type askTarget struct {
	What string `json:"what"`
	Line string `json:"line"`
	Low  typed  `json:"low"`
	High typed  `json:"high"`
}

type askAimCost struct {
	Ingredient string `json:"ingredient"`
	Per100g    typed  `json:"per100g"`
}

type askAimShelf struct {
	Line    string `json:"line"`
	Percent typed  `json:"percent"`
}

type aimAnswer struct {
	Met      bool         `json:"met"`
	Targets  []aimTarget  `json:"targets"`
	Lines    []LineBeside `json:"lines"`
	Findings []Finding    `json:"findings"`
}

type aimTarget struct {
	Says     string `json:"says"`
	Before   string `json:"before"`
	After    string `json:"after"`
	Met      bool   `json:"met"`
	MissedBy string `json:"missedBy"`
}

const exampleAim = `{
  "formula": {
    "name": "A wash that is too strong and too dear",
    "wash": "rinse-off",
    "lines": [
      {"id": "water", "ingredient": "water", "qs": true},
      {"id": "betaine", "ingredient": "betaine-30", "percent": "30"},
      {"id": "glucoside", "ingredient": "decyl-glucoside", "percent": "20"},
      {"id": "glycerin", "ingredient": "glycerin", "percent": "5"},
      {"id": "keep", "ingredient": "phenoxyethanol-ehg", "percent": "1"}
    ]
  },
  "targets": [
    {"what": "active matter", "low": "12", "high": "15"},
    {"what": "cost", "high": "0.30"}
  ],
  "fixed": ["keep"],
  "costs": [
    {"ingredient": "water", "per100g": "0.02"},
    {"ingredient": "betaine-30", "per100g": "0.60"},
    {"ingredient": "decyl-glucoside", "per100g": "0.90"},
    {"ingredient": "glycerin", "per100g": "0.40"},
    {"ingredient": "phenoxyethanol-ehg", "per100g": "3.00"}
  ],
  "shelf": [{"line": "betaine", "percent": "25"}]
}
`

func doAim(request []byte) (any, *FieldError) {
	var ask askAim
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readApart(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	targets, err := ask.targets(&f)
	if err != nil {
		return nil, err
	}
	fixed, cost, shelf := map[string]bool{}, map[string]decimal.Decimal{}, map[string]Percent{}
	for i, id := range ask.Fixed {
		if fixed[id] = true; f.lineOf(id).ID == "" {
			return nil, &FieldError{Field: "fixed[" + strconv.Itoa(i) + "]", Says: "there is no line “" + short(id) + "”", Want: "the id of a line of the formula"}
		}
	}
	for i, c := range ask.Costs {
		if cost[c.Ingredient], err = readPlain(c.Per100g, "a cost", 0, 1_000_000); err != nil {
			return nil, err.under("costs[" + strconv.Itoa(i) + "].per100g")
		}
	}
	for i, s := range ask.Shelf {
		if shelf[s.Line], err = ReadPercent(string(s.Percent)); err != nil {
			return nil, err.under("shelf[" + strconv.Itoa(i) + "].percent")
		}
	}
	a, err := Aim(f, k, targets, fixed, cost, shelf)
	if err != nil {
		return nil, err
	}
	out := aimAnswer{Met: true, Targets: []aimTarget{}, Lines: LinesBeside(a.Before, a.After, k), Findings: orNone(a.Findings)}
	for _, r := range a.Targets {
		row := aimTarget{Says: r.says(&a.Before, k), Before: r.Before.Round(4).String(), After: r.After.Round(4).String(), Met: r.Known && !r.ShortBy.IsPositive()}
		if r.ShortBy.IsPositive() {
			row.MissedBy = r.ShortBy.Round(4).String()
		}
		if !r.Known {
			row.Before, row.After = "not known", "not known"
		}
		out.Met = out.Met && row.Met
		out.Targets = append(out.Targets, row)
	}
	return out, nil
}

func (a *askAim) targets(f *Formula) ([]Target, *FieldError) {
	if len(a.Targets) == 0 {
		return nil, &FieldError{Field: "targets", Says: "there is nothing to aim at", Want: "write a target, such as active matter from 12 to 15"}
	}
	var out []Target
	for i, t := range a.Targets {
		at := "targets[" + strconv.Itoa(i) + "]"
		if t.What == "line" && f.lineOf(t.Line).ID == "" {
			return nil, &FieldError{Field: at + ".line", Says: "there is no line “" + short(t.Line) + "”", Want: "the id of a line of the formula"}
		}
		tg, err := ReadTarget(t.What, t.Line, string(t.Low), string(t.High))
		if err != nil {
			return nil, err.under(at)
		}
		out = append(out, tg)
	}
	return out, nil
}

// ReadTarget reads a target as typed: low, high or both, from 0 to 1,000,000, in per cent of the formula, in money for 100 g, or an HLB.
func ReadTarget(what, line, low, high string) (Target, *FieldError) {
	t := Target{What: what, Line: line}
	for _, side := range []struct {
		field, text string
		into        **decimal.Decimal
	}{{"low", low, &t.Low}, {"high", high, &t.High}} {
		if side.text == "" {
			continue
		}
		d, err := readPlain(typed(side.text), "a target", 0, 1_000_000)
		if err != nil {
			return t, err.under(side.field)
		}
		*side.into = &d
	}
	switch {
	case t.Low == nil && t.High == nil:
		return t, &FieldError{Field: "low", Says: "the target has no figure", Want: "write low, high or both"}
	case t.Low != nil && t.High != nil && t.Low.GreaterThan(*t.High):
		return t, &FieldError{Field: "low", Says: "the target is upside down", Want: "write the lower figure as low"}
	}
	return t, nil
}
