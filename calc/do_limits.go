package calc

import "stillroom/calc/law"

type askLimits struct {
	askKnown
	Formula askFormula `json:"formula"`
	// Region is EU, UK or US; all of them when it is left out.
	Region string `json:"region"`
}

type limitsAnswer struct {
	Regions []regionAnswer `json:"regions"`
}

type regionAnswer struct {
	Region string `json:"region"`
	// Found counts the substances that stand in this region's tables: what is missing is not thereby allowed.
	Found    string        `json:"found"`
	Missing  []string      `json:"missing"`
	Limits   []limitAnswer `json:"limits"`
	Findings []Finding     `json:"findings"`
}

// limitAnswer is one limit in force, also when it is kept.
type limitAnswer struct {
	Name    string   `json:"name"`
	Share   string   `json:"share"`
	Most    string   `json:"most"`
	Verdict string   `json:"verdict"` // within, at the limit, above, not allowed, no maximum or open
	For     string   `json:"for"`
	Lines   []string `json:"lines"`
	Source  string   `json:"source"`
}

const exampleLimits = `{
  "formula": {
    "name": "A body lotion",
    "wash": "leave-on",
    "site": "whole body",
    "age": "adults",
    "lines": [
      {"ingredient": "water", "qs": true},
      {"ingredient": "sunflower-oil", "percent": "15"},
      {"ingredient": "benzoate-sorbate", "percent": "1.5"},
      {"ingredient": "sodium-benzoate", "percent": "0.14"},
      {"ingredient": "retinyl-palmitate", "percent": "0.2"},
      {"ingredient": "lavender-oil", "percent": "0.3"}
    ]
  }
}
`

// ofLaw are the rules that answer for a region.
var ofLaw = []string{"base", "limit", "print", "together", "colour-field", "allergens", "plastic", "sunlight", "protein", "under-three", "tables"}

func doLimits(request []byte) (any, *FieldError) {
	var ask askLimits
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	regions := law.Regions
	if ask.Region != "" {
		if !contains(law.Regions, ask.Region) {
			return nil, &FieldError{Field: "region", Says: "“" + short(ask.Region) + "” is not a region known here", Want: "write EU, UK or US, or leave it out for all three"}
		}
		regions = []string{ask.Region}
	}
	f, k, err := readFormula(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	f.Lines = Total(f.Lines).Lines
	var out limitsAnswer
	for _, region := range regions {
		k.Region = region
		out.Regions = append(out.Regions, lawOf(&f, k))
	}
	return out, nil
}

// lawOf holds a formula against the tables of one region.
func lawOf(f *Formula, k Known) regionAnswer {
	e := gatherEvidence(f, k, 0)
	found, missing := e.inTables(k.region())
	out := regionAnswer{Region: k.region(), Found: countFound(found, missing), Missing: missing, Limits: []limitAnswer{}, Findings: []Finding{}}
	if missing == nil {
		out.Missing = []string{}
	}
	for _, a := range e.againstLaws(k.region()) {
		l := a.row
		x := limitAnswer{Name: l.Name, Share: a.sum.StringFixed(a.places) + " %", Most: showMost(l), Verdict: "within", For: l.Scope.Says(), Lines: a.lines, Source: citeLaw(l)}
		switch {
		case a.open:
			x.Verdict = "open"
		case a.fails && l.Most == law.Banned:
			x.Verdict = "not allowed"
		case a.fails:
			x.Verdict = "above"
		case l.Most == law.Free:
			x.Verdict = "no maximum"
		case a.sum.Equal(percentOf(l.Most)):
			x.Verdict = "at the limit"
		}
		out.Limits = append(out.Limits, x)
	}
	for _, x := range judge(f, k, 0, weighed{}) {
		if contains(ofLaw, x.Rule) {
			out.Findings = append(out.Findings, x)
		}
	}
	return out
}
