package calc

type askSheet struct {
	Draft
	askKnown
}

const exampleSheet = `{
  "key": "",
  "parent": "",
  "name": "Plain whipped wash",
  "wash": "rinse-off",
  "site": "body",
  "age": "adults",
  "phases": [
    {"letter": "A", "treatment": {"do": "heat", "to": "75 C", "holdMin": "20"}},
    {"letter": "B", "treatment": {"do": "cool", "to": "100 F", "holdMin": ""}}
  ],
  "lines": [
    {"id": "l1", "phase": "A", "ingredient": "water", "base": "", "percent": "", "qs": true, "note": ""},
    {"id": "l2", "phase": "A", "ingredient": "betaine-30", "base": "", "percent": "30", "qs": false, "note": ""},
    {"id": "l3", "phase": "A", "ingredient": "sci-powder", "base": "", "percent": "20", "qs": false, "note": ""},
    {"id": "l4", "phase": "A", "ingredient": "stearic-50", "base": "", "percent": "11", "qs": false, "note": ""},
    {"id": "l5", "phase": "B", "ingredient": "phenoxyethanol-ehg", "base": "", "percent": "1", "qs": false, "note": ""}
  ],
  "plan": {"jars": "24", "fill": "120", "loss": "4", "step": "0.1"}
}
`

func doSheet(request []byte) (any, *FieldError) {
	var ask askSheet
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	k, err := ask.askKnown.read()
	if err != nil {
		return nil, err
	}
	return SheetOf(ask.Draft, k), nil
}
