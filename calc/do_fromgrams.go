package calc

import "strconv"

type askFromGrams struct {
	askKnown
	Lines []askNoted `json:"lines"`
}

type askNoted struct {
	ID         string `json:"id"`
	Name       string `json:"name"`
	Ingredient string `json:"ingredient"`
	Amount     typed  `json:"amount"`
	Density    typed  `json:"density"`
}

type fromGramsAnswer struct {
	Grams    string          `json:"grams"`
	Lines    []fromGramsLine `json:"lines"`
	Findings []Finding       `json:"findings"`
}

type fromGramsLine struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Grams   string `json:"grams"`
	Percent string `json:"percent"`
	Inexact bool   `json:"inexact"`
	Sum     string `json:"sum"`
}

const exampleFromGrams = `{
  "lines": [
    {"name": "distilled water", "ingredient": "water", "amount": "212 g"},
    {"name": "betaine solution", "ingredient": "betaine-30", "amount": "4,5 oz"},
    {"name": "glycerin", "ingredient": "glycerin", "amount": "15 mL"},
    {"name": "stearic acid", "ingredient": "stearic-50", "amount": "0.1 lb"},
    {"name": "preservative", "ingredient": "phenoxyethanol-ehg", "amount": "80 drops", "density": "1.1"}
  ]
}
`

func doFromGrams(request []byte) (any, *FieldError) {
	var ask askFromGrams
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	k, err := ask.askKnown.read()
	if err != nil {
		return nil, err
	}
	if len(ask.Lines) == 0 {
		return nil, &FieldError{Field: "lines", Says: "there is no line", Want: "write at least one"}
	}
	lines := make([]NotedLine, len(ask.Lines))
	for i, a := range ask.Lines {
		lines[i] = NotedLine{ID: a.ID, Name: a.Name, Ingredient: a.Ingredient, Amount: string(a.Amount), Density: string(a.Density)}
		if a.ID == "" {
			lines[i].ID = strconv.Itoa(i + 1)
		}
	}
	n := FromGrams(lines, k)
	out := fromGramsAnswer{Grams: n.Grams.Round(4).String() + " g", Findings: orNone(n.Findings)}
	for i, l := range n.Lines {
		if l.Trouble != "" {
			return nil, &FieldError{Field: "lines[" + strconv.Itoa(i) + "]." + l.field, Says: l.Trouble, Want: "write an amount with its unit: 130 g, 4 oz, 15 mL"}
		}
		out.Lines = append(out.Lines, fromGramsLine{l.ID, l.Name, l.Grams.Round(4).String(), l.Percent.String(), l.Inexact, l.Sum})
	}
	if !n.Grams.IsPositive() {
		return nil, &FieldError{Field: "lines", Says: "together they weigh nothing", Want: "write an amount above 0"}
	}
	return out, nil
}
