package calc

type askClassSheet struct {
	askKnown
	Formula  askFormula `json:"formula"`
	Learners int        `json:"learners"`
	Mass     typed      `json:"mass"`
	Spare    typed      `json:"spare"`
	Step     typed      `json:"step"`
}

type classSheetAnswer struct {
	Name     string         `json:"name"`
	Learners int            `json:"learners"`
	Each     string         `json:"each"`
	All      string         `json:"all"`
	Lines    []classLineRow `json:"lines"`
	Shopping []classBuy     `json:"shopping"`
	Wear     []classWear    `json:"wear"`
	Ask      string         `json:"ask"`
	Contains []string       `json:"contains"`
	Blanks   []string       `json:"blanks"`
	Missing  []string       `json:"notChecked"`
	Foot     string         `json:"foot"`
	Findings []Finding      `json:"findings"`
}

// classLineRow is one line of a learner's page; the app leaves a blank beside it for what the learner's scale read.
type classLineRow struct {
	Line    string `json:"line"`
	Phase   string `json:"phase"`
	Name    string `json:"name"`
	Percent string `json:"percent"`
	Grams   string `json:"grams"`
	Why     string `json:"why"`
}

type classBuy struct {
	Name string `json:"name"`
	Buy  string `json:"buy"`
	Sum  string `json:"sum"`
}

type classWear struct {
	Says string `json:"says"`
	Do   string `json:"do"`
}

const exampleClassSheet = `{
  "formula": {
    "name": "A whipped wash",
    "wash": "rinse-off",
    "phases": [{"letter": "A", "treatment": {"do": "heat", "to": "70 C", "holdMin": ""}}, {"letter": "B", "treatment": {"do": "cool", "to": "37 C", "holdMin": ""}}],
    "lines": [
      {"id": "water", "phase": "A", "ingredient": "water", "qs": true},
      {"id": "betaine", "phase": "A", "ingredient": "betaine-30", "percent": "30", "note": "makes the foam mild, and takes the powder up"},
      {"id": "isethionate", "phase": "A", "ingredient": "sci-powder", "percent": "20"},
      {"id": "keep", "phase": "B", "ingredient": "phenoxyethanol-ehg", "percent": "1"},
      {"id": "scent", "phase": "B", "ingredient": "parfum", "percent": "0.5"}
    ]
  },
  "learners": 9,
  "mass": "150",
  "spare": "10",
  "step": "0.1"
}
`

// classFoot stands under every class sheet.
const classFoot = "This book checks arithmetic and the rules it names. It does not find a product safe or legal. What is made here is for the one who made it; before anything is sold the law of the place decides, and a qualified person assesses it where the law asks for that."

func doClassSheet(request []byte) (any, *FieldError) {
	var ask askClassSheet
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readFormula(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	each, err := ReadGrams(string(ask.Mass))
	if err != nil {
		return nil, err.under("mass")
	}
	step, spare := Gram/10, Percent(0)
	if ask.Step != "" {
		if step, err = ReadStep(string(ask.Step)); err != nil {
			return nil, err.under("step")
		}
	}
	if ask.Spare != "" {
		if spare, err = ReadPercent(string(ask.Spare)); err != nil {
			return nil, err.under("spare")
		}
	}
	s, err := ClassSheetOf(f, k, ask.Learners, each, spare, step)
	if err != nil {
		return nil, err
	}
	out := classSheetAnswer{Name: s.Name, Learners: s.Learners, Each: s.Each.On(step) + " g", All: plainGrams(s.All) + " g", Ask: "Ask everyone before the tubs are opened: any allergies, any asthma?", Contains: append([]string{}, s.Contains...),
		Blanks: []string{"name", "date", "what I weighed", "temperatures", "pH and how it was measured", "what I saw", "what I would change"}, Missing: append([]string{}, s.Unchecked...), Foot: classFoot, Findings: orNone(s.Findings),
		Lines: []classLineRow{}, Shopping: []classBuy{}, Wear: []classWear{}}
	for _, l := range s.Lines {
		out.Lines = append(out.Lines, classLineRow{l.ID, l.Phase, l.Name, l.Percent.String(), l.Grams.On(l.Step) + " g", l.Why})
	}
	for _, b := range s.Shopping {
		out.Shopping = append(out.Shopping, classBuy{b.Name, plainGrams(b.Buy) + " g", b.Sum})
	}
	for _, w := range s.Wear {
		out.Wear = append(out.Wear, classWear{w.Says, w.Do})
	}
	return out, nil
}
