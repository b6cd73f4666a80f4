package calc

type askPack struct {
	askKnown
	Formula  askFormula `json:"formula"`
	PH       typed      `json:"ph"`
	Material string     `json:"material"`
	Closure  string     `json:"closure"`
	// NextDay compares the jar of today with the one that was filled.
	NextDay *askNextDay `json:"nextDay"`
}

type askNextDay struct {
	DensityFilled typed `json:"densityFilled"`
	DensityNow    typed `json:"densityNow"`
	// Distances in millimetres: from the rim, and the jar's inner depth.
	RimFilled typed `json:"rimFilled"`
	RimNow    typed `json:"rimNow"`
	Depth     typed `json:"depth"`
}

const examplePack = `{
  "formula": {
    "name": "A salt scrub",
    "wash": "rinse-off",
    "lines": [
      {"ingredient": "salt", "percent": "50"},
      {"ingredient": "betaine-30", "percent": "30"},
      {"ingredient": "glycerin", "qs": true}
    ]
  },
  "material": "aluminium",
  "closure": "pump",
  "nextDay": {"rimFilled": "4", "rimNow": "9", "depth": "60"}
}
`

func doPack(request []byte) (any, *FieldError) {
	var ask askPack
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	j := askJudge{askKnown: ask.askKnown, Formula: ask.Formula, PH: ask.PH}
	f, k, pH, err := j.read()
	if err != nil {
		return nil, err
	}
	switch ask.Material {
	case "", "polystyrene", "aluminium", "tinplate", "paper", "glass", "plastic":
	default:
		return nil, &FieldError{Field: "material", Says: "“" + short(ask.Material) + "” is not a material known here", Want: "polystyrene, aluminium, tinplate, paper, glass or plastic"}
	}
	switch ask.Closure {
	case "", "lid", "pump", "spray":
	default:
		return nil, &FieldError{Field: "closure", Says: "“" + short(ask.Closure) + "” is not a closure known here", Want: "lid, pump or spray"}
	}
	out := findingsAnswer{PackFindings(f, k, pH, ask.Material, ask.Closure)}
	if ask.NextDay == nil {
		return out, nil
	}
	var at [5]int64
	for i, d := range []struct {
		field string
		text  typed
		shift int32
	}{{"densityFilled", ask.NextDay.DensityFilled, 3}, {"densityNow", ask.NextDay.DensityNow, 3}, {"rimFilled", ask.NextDay.RimFilled, 1}, {"rimNow", ask.NextDay.RimNow, 1}, {"depth", ask.NextDay.Depth, 1}} {
		if d.text == "" {
			continue
		}
		v, err := readPlain(d.text, "a measure", 0, 10_000)
		if err != nil {
			return nil, err.under("nextDay." + d.field)
		}
		at[i] = v.Shift(d.shift).Round(0).IntPart()
	}
	out.Findings = append(out.Findings, NextDay(at[0], at[1], at[2], at[3], at[4])...)
	return out, nil
}
