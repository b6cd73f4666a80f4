package calc

import (
	"strconv"

	"github.com/shopspring/decimal"

	"stillroom/calc/law"
)

type askAllergens struct {
	askKnown
	Formula askFormula `json:"formula"`
	Region  string     `json:"region"`
	// Statements are what suppliers say of their scents: per cent of an allergen in an ingredient.
	Statements []askStatement `json:"statements"`
}

type askStatement struct {
	Ingredient string `json:"ingredient"`
	Allergen   string `json:"allergen"`
	Percent    typed  `json:"percent"`
}

type allergensAnswer struct {
	Allergens []allergenAnswer `json:"allergens"`
	Findings  []Finding        `json:"findings"`
}

// allergenAnswer is one allergen of the product, both ways: a label is for one of them.
type allergenAnswer struct {
	INCI    string   `json:"inci"`
	Share   string   `json:"share"`
	LeftOn  bool     `json:"leftOn"`
	Rinsed  bool     `json:"rinsed"`
	Lines   []string `json:"lines"`
	Source  string   `json:"source"`
	Decides string   `json:"decides"` // the threshold in words
}

const exampleAllergens = `{
  "region": "EU",
  "formula": {
    "name": "Hand cream",
    "wash": "leave-on",
    "lines": [
      {"ingredient": "shea", "qs": true},
      {"ingredient": "parfum", "percent": "0.5"},
      {"ingredient": "lavender-oil", "percent": "0.1"}
    ]
  },
  "statements": [
    {"ingredient": "parfum", "allergen": "Linalool", "percent": "8"},
    {"ingredient": "parfum", "allergen": "Limonene", "percent": "1.5"}
  ]
}
`

func doAllergens(request []byte) (any, *FieldError) {
	var ask askAllergens
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	if ask.Region != "" && ask.Region != "EU" && ask.Region != "UK" {
		return nil, &FieldError{Field: "region", Says: "no list of allergens is known here for “" + short(ask.Region) + "”", Want: "write EU or UK"}
	}
	f, k, err := readFormula(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	k.Region = ask.Region
	if err := stated(ask.Statements, &k); err != nil {
		return nil, err
	}
	f.Lines = Total(f.Lines).Lines
	e := gatherEvidence(&f, k, 0)
	out := allergensAnswer{Allergens: []allergenAnswer{}, Findings: orNone(ruleAllergens(e))}
	for _, s := range e.allergensIn(k.region()) {
		out.Allergens = append(out.Allergens, allergenAnswer{INCI: s.inci, Share: few4(s.share) + " %", LeftOn: s.share.GreaterThan(percentOf(law.AllergenLeftOn)),
			Rinsed: s.share.GreaterThan(percentOf(law.AllergenRinsed)), Lines: s.lines, Source: allergenSource, Decides: "above 0.001 % left on, above 0.01 % rinsed off"})
	}
	return out, nil
}

// stated puts suppliers' statements in place of what the given list holds of these scents.
func stated(statements []askStatement, k *Known) *FieldError {
	mine := map[string]*Ingredient{}
	sums := map[string]decimal.Decimal{}
	for i, s := range statements {
		at := "statements[" + strconv.Itoa(i) + "]"
		ing := k.Ingredients[s.Ingredient]
		if ing == nil {
			return &FieldError{Field: at + ".ingredient", Says: "“" + short(s.Ingredient) + "” is not among the ingredients known here", Want: "use a key of the given list, or describe it under ingredients"}
		}
		if s.Allergen == "" {
			return &FieldError{Field: at + ".allergen", Says: "the allergen has no name", Want: "write its INCI name"}
		}
		p, err := ReadPercent(string(s.Percent))
		if err != nil {
			return err.under(at + ".percent")
		}
		own := mine[s.Ingredient]
		if own == nil {
			copied := *ing
			copied.Holds = nil
			own = &copied
			mine[s.Ingredient], k.Ingredients[s.Ingredient] = own, own
		}
		if sums[s.Ingredient] = sums[s.Ingredient].Add(percentOf(p)); sums[s.Ingredient].GreaterThan(decimal.New(100, 0)) {
			return &FieldError{Field: at + ".percent", Says: "the allergens of one scent sum to more than 100 %", Want: "write per cent of the scent, not of the product"}
		}
		own.Holds = append(own.Holds, Share{INCI: s.Allergen, Percent: p, Listed: "yes", Cite: Cite{Source: "the supplier's statement, as the request says", Mark: "T"}})
	}
	return nil
}
