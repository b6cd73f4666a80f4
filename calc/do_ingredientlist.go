package calc

import "strconv"

type askIngredientList struct {
	askKnown
	Region string      `json:"region"`
	Wash   string      `json:"wash"` // decides which allergens of scents are named; "" as for left on
	Lines  []askWentIn `json:"lines"`
}

type askWentIn struct {
	Ingredient string `json:"ingredient"`
	Base       string `json:"base"`
	Mass       typed  `json:"mass"`
}

type ingredientListAnswer struct {
	Text     string        `json:"text"`
	Entries  []listedEntry `json:"entries"`
	LeftOut  []string      `json:"leftOut"`
	Findings []Finding     `json:"findings"`
}

type listedEntry struct {
	INCI    string `json:"inci"`
	Print   string `json:"print"`
	Percent string `json:"percent"`
	Where   string `json:"where"`
	// Allergen: named for what a scent holds of it. Memory: the name is from memory.
	Allergen bool `json:"allergen"`
	Memory   bool `json:"memory"`
}

const exampleIngredientList = `{
  "region": "US",
  "lines": [
    {"ingredient": "water", "mass": "570.0"},
    {"ingredient": "betaine-30", "mass": "300 g"},
    {"ingredient": "stearic-50", "mass": "110"},
    {"ingredient": "phenoxyethanol-ehg", "mass": "10"},
    {"ingredient": "iron-oxide-red", "mass": "10"}
  ]
}
`

func doIngredientList(request []byte) (any, *FieldError) {
	var ask askIngredientList
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	k, err := ask.askKnown.read()
	if err != nil {
		return nil, err
	}
	in := make([]WentIn, len(ask.Lines))
	for i, l := range ask.Lines {
		at := "lines[" + strconv.Itoa(i) + "]"
		if (l.Ingredient == "") == (l.Base == "") {
			return nil, &FieldError{Field: at + ".ingredient", Says: "an ingredient or a base is asked for", Want: "write one of them"}
		}
		m, err := ReadGrams(string(l.Mass))
		if err != nil {
			return nil, err.under(at + ".mass")
		}
		in[i] = WentIn{l.Ingredient, l.Base, m}
	}
	if ask.Wash != "" && ask.Wash != "rinse-off" && ask.Wash != "leave-on" {
		return nil, &FieldError{Field: "wash", Says: "“" + short(ask.Wash) + "” is neither rinsed off nor left on", Want: "write rinse-off or leave-on"}
	}
	l, err := IngredientList(in, k, ask.Region, ask.Wash)
	if err != nil {
		return nil, err
	}
	out := ingredientListAnswer{Text: l.Text, Entries: []listedEntry{}, LeftOut: append([]string{}, l.LeftOut...), Findings: orNone(l.Findings)}
	for _, e := range l.Entries {
		out.Entries = append(out.Entries, listedEntry{e.INCI, e.Print, show(e.Percent), e.Where, e.Allergen, e.Memory})
	}
	return out, nil
}
