package calc

import "strconv"

type askSolutionPH struct {
	Parts []askDissolved `json:"parts"`
	// Ideal leaves activities out, as textbooks do.
	Ideal bool `json:"ideal"`
}

type askDissolved struct {
	What   string `json:"what"`
	Amount typed  `json:"amount"`
}

type solutionPHAnswer struct {
	PH       string    `json:"ph"`
	Strength string    `json:"ionicStrength"`
	Estimate bool      `json:"estimate"`
	Says     string    `json:"says"`
	Findings []Finding `json:"findings"`
}

const exampleSolutionPH = `{
  "parts": [
    {"what": "sodium benzoate", "amount": "0.5 %"},
    {"what": "citric acid", "amount": "0.17 %"}
  ]
}
`

func doSolutionPH(request []byte) (any, *FieldError) {
	var ask askSolutionPH
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	if len(ask.Parts) > 100 {
		return nil, &FieldError{Field: "parts", Says: "that is no simple solution", Want: "name at most 100 things"}
	}
	var parts []Dissolved
	for i, p := range ask.Parts {
		molar, err := MolesPerLitre(p.What, string(p.Amount))
		if err != nil {
			return nil, err.under("parts[" + strconv.Itoa(i) + "].amount")
		}
		parts = append(parts, Dissolved{p.What, molar})
	}
	got, err := PHOfSolution(parts, ask.Ideal)
	if err != nil {
		return nil, err
	}
	return solutionPHAnswer{PH: got.PH.StringFixed(2), Strength: got.Strength.StringFixed(3), Estimate: true, Says: got.Says, Findings: got.Findings}, nil
}
