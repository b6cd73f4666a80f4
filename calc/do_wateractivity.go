package calc

import "github.com/shopspring/decimal"

type askWaterActivity struct {
	askKnown
	Formula *askFormula `json:"formula"`
	PH      typed       `json:"ph"`
	// Fill is the temperature at which the product is filled.
	Fill typed `json:"fill"`
	// Water and Solutes are amounts by themselves, in one unit of mass, where there is no formula.
	Water   typed         `json:"water"`
	Solutes []askDissolve `json:"solutes"`
}

type askDissolve struct {
	INCI   string `json:"inci"`
	Amount typed  `json:"amount"`
}

type waterActivityAnswer struct {
	WaterActivity string        `json:"waterActivity"`
	Parts         []awPart      `json:"parts"`
	Saturated     []string      `json:"saturated"`
	Markers       []awMarkerRow `json:"markers"`
	Source        string        `json:"source"`
	Findings      []Finding     `json:"findings"`
}

type awPart struct {
	INCI      string `json:"inci"`
	There     string `json:"there"`
	Dissolved string `json:"dissolved"`
}

type awMarkerRow struct {
	Says   string `json:"says"`
	Met    string `json:"met"`
	Figure string `json:"figure"`
}

const exampleWaterActivity = `{
  "formula": {
    "name": "A sugar scrub with water in it",
    "lines": [
      {"id": "sugar", "ingredient": "sucrose", "percent": "60"},
      {"id": "glycerin", "ingredient": "glycerin", "percent": "10"},
      {"id": "water", "ingredient": "water", "qs": true}
    ]
  },
  "ph": "5.5"
}
`

func doWaterActivity(request []byte) (any, *FieldError) {
	var ask askWaterActivity
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	if ask.Formula == nil {
		return ask.plain()
	}
	j := askJudge{askKnown: ask.askKnown, Formula: *ask.Formula, PH: ask.PH}
	f, k, pH, err := j.read()
	if err != nil {
		return nil, err
	}
	if _, err := TakeApart(f, k); err != nil {
		return nil, err.under("formula")
	}
	var fill *int64
	if ask.Fill != "" {
		d, err := ReadDegrees(string(ask.Fill), "")
		if err != nil {
			return nil, err.under("fill")
		}
		fill = &d.MilliC
	}
	e := gatherEvidence(&f, k, pH)
	amounts, uncounted := e.dissolving()
	a := WaterActivityOf(e.waterIn(), amounts)
	if !a.Known {
		uncounted = nil
	}
	markers := lowRisk(e, a, fill)
	out := awAnswer(a)
	for _, m := range markers {
		out.Markers = append(out.Markers, awMarkerRow(m))
	}
	out.Findings = awFindings(e, a, markers, uncounted)
	return out, nil
}

func isSolute(inci string) bool {
	for i := range norrishSolutes {
		if norrishSolutes[i].inci == inci {
			return true
		}
	}
	return inci == "Sodium Chloride"
}

func awAnswer(a WaterActivity) waterActivityAnswer {
	out := waterActivityAnswer{WaterActivity: "no water", Parts: []awPart{}, Saturated: append([]string{}, a.Saturated...), Markers: []awMarkerRow{}, Source: awSource, Findings: []Finding{}}
	if a.Known {
		out.WaterActivity = a.AW.StringFixed(4)
	}
	for _, p := range a.Parts {
		out.Parts = append(out.Parts, awPart{p.INCI, few2(p.There), few2(p.Dissolve)})
	}
	return out
}

func few2(d decimal.Decimal) string { return d.Round(2).String() }

func (a *askWaterActivity) plain() (any, *FieldError) {
	water, err := readPlain(a.Water, "an amount of water", 0, 1_000_000)
	if err != nil {
		return nil, err.under("water")
	}
	amounts := map[string]decimal.Decimal{}
	for i, s := range a.Solutes {
		at := "norrishSolutes[" + decimal.New(int64(i), 0).String() + "]"
		if !isSolute(s.INCI) {
			return nil, &FieldError{Field: at + ".inci", Says: "this book has no figure for how “" + short(s.INCI) + "” lowers the water activity", Want: "one of Sucrose, Glucose, Fructose, Lactose, Maltose, Sorbitol, Xylitol, Mannitol, Erythritol, Glycerin, Sodium Chloride"}
		}
		d, err := readPlain(s.Amount, "an amount", 0, 1_000_000)
		if err != nil {
			return nil, err.under(at + ".amount")
		}
		amounts[s.INCI] = amounts[s.INCI].Add(d)
	}
	return awAnswer(WaterActivityOf(water, amounts)), nil
}
