package calc

type askPrinted struct {
	askKnown
	Formula askFormula `json:"formula"`
	// Region is the maker's own, EU, UK or US; the EU's when it is empty.
	Region string `json:"region"`
}

const examplePrinted = `{
  "region": "EU",
  "formula": {
    "name": "Lavender hand cream",
    "wash": "leave-on",
    "site": "hand",
    "lines": [
      {"ingredient": "water", "qs": true},
      {"ingredient": "sunflower-oil", "percent": "20"},
      {"ingredient": "emulsifying-wax", "percent": "5"},
      {"ingredient": "phenoxyethanol-pure", "percent": "1"},
      {"ingredient": "lavender-oil", "percent": "0.2"},
      {"ingredient": "iron-oxide-red", "percent": "0.1"}
    ]
  }
}
`

func doPrinted(request []byte) (any, *FieldError) {
	var ask askPrinted
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	if ask.Region != "" && ask.Region != "EU" && ask.Region != "UK" && ask.Region != "US" {
		return nil, &FieldError{Field: "region", Says: "“" + short(ask.Region) + "” is not a region known here", Want: "write EU, UK or US"}
	}
	f, k, err := readFormula(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	k.Region = ask.Region
	out, err := PrintedOf(nil, f, k)
	if err != nil {
		return nil, err.under("formula")
	}
	return out, nil
}
