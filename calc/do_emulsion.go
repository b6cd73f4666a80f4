package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

type askEmulsion struct {
	askKnown
	Formula *askFormula `json:"formula"`
	// Oils and Emulsifiers are a blend by itself, in any one unit of mass; HLB is what an oil asks for or an emulsifier has.
	Oils        []askHLB `json:"oils"`
	Emulsifiers []askHLB `json:"emulsifiers"`
	// Total is how much emulsifier to share out between two.
	Total typed `json:"total"`
}

type askHLB struct {
	Name   string `json:"name"`
	Amount typed  `json:"amount"`
	HLB    typed  `json:"hlb"`
}

type emulsionAnswer struct {
	Branch   string         `json:"branch"`
	Oily     string         `json:"oilyPercent"`
	Required string         `json:"requiredHLB"`
	Has      string         `json:"hasHLB"`
	Oils     []emulsionLine `json:"oils"`
	Holds    []emulsionLine `json:"emulsifiers"`
	Blend    hlbBlend       `json:"blend"`
	Findings []Finding      `json:"findings"`
}

// hlbBlend is what was worked out of the oils and emulsifiers that stand by themselves in the request.
type hlbBlend struct {
	Required string      `json:"requiredHLB"`
	Has      string      `json:"hasHLB"`
	Split    []hlbAmount `json:"split"`
}

type hlbAmount struct {
	Name   string `json:"name"`
	Amount string `json:"amount"`
}

type emulsionLine struct {
	Line    string      `json:"line"`
	Name    string      `json:"name"`
	Percent string      `json:"percent"`
	HLB     []hlbFigure `json:"hlb"`
}

type hlbFigure struct {
	HLB    string `json:"hlb"`
	Source string `json:"source"`
}

const exampleEmulsion = `{
  "formula": {
    "name": "A light cream",
    "lines": [
      {"id": "water", "ingredient": "water", "qs": true},
      {"id": "oil", "ingredient": "sunflower-oil", "percent": "15"},
      {"id": "wax", "ingredient": "beeswax", "percent": "3"},
      {"id": "ps80", "ingredient": "polysorbate-80", "percent": "1"},
      {"id": "so", "ingredient": "sorbitan-oleate", "percent": "3"},
      {"id": "keep", "ingredient": "phenoxyethanol-ehg", "percent": "1"}
    ]
  },
  "oils": [
    {"name": "mineral oil", "amount": "30", "hlb": "12"},
    {"name": "wool fat", "amount": "1.5", "hlb": "10"},
    {"name": "cetyl alcohol", "amount": "1", "hlb": "15"}
  ],
  "emulsifiers": [
    {"name": "polysorbate 60", "hlb": "14.9"},
    {"name": "sorbitan stearate", "hlb": "4.7"}
  ],
  "total": "5"
}
`

func doEmulsion(request []byte) (any, *FieldError) {
	var ask askEmulsion
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	out := emulsionAnswer{Blend: hlbBlend{Split: []hlbAmount{}}, Oils: []emulsionLine{}, Holds: []emulsionLine{}, Findings: []Finding{}}
	if ask.Formula != nil {
		f, k, err := readApart(*ask.Formula, ask.askKnown)
		if err != nil {
			return nil, err
		}
		m := EmulsionOf(f, k)
		out.Branch, out.Oily, out.Findings = m.Branch, show(m.Oily), orNone(m.Findings)
		out.Oils, out.Holds = emulsionLines(m.Oils), emulsionLines(m.Holds)
		if m.Branch == "hlb" {
			out.Required, out.Has = m.Low.StringFixed(1)+" to "+m.High.StringFixed(1), m.Has.StringFixed(1)
		}
	}
	if err := ask.blend(&out); err != nil {
		return nil, err
	}
	return out, nil
}

// blend works out a pair by itself, beside or without a formula.
func (a *askEmulsion) blend(out *emulsionAnswer) *FieldError {
	oils, _, err := readHLBs(a.Oils, "oils", true)
	if err != nil {
		return err
	}
	required, wants := HLBOf(oils)
	if wants {
		out.Blend.Required = required.StringFixed(2)
	}
	together := a.Total == ""
	ems, _, err := readHLBs(a.Emulsifiers, "emulsifiers", together)
	switch {
	case err != nil:
		return err
	case together:
		if has, ok := HLBOf(ems); ok {
			out.Blend.Has = has.StringFixed(2)
		}
		return nil
	case !wants || len(ems) != 2:
		return &FieldError{Field: "total", Says: "an amount is shared out between two emulsifiers for given oils", Want: "give oils with their required HLB and exactly two emulsifiers"}
	}
	total, err := readPlain(a.Total, "an amount of emulsifier", 0, 1_000_000)
	if err != nil {
		return err.under("total")
	}
	first, second, ok := SplitHLB(required, ems[0].HLB, ems[1].HLB, total)
	if !ok {
		out.Findings = append(out.Findings, Finding{Rule: "emulsion", Level: Care, Says: "no split of these two reaches what the oils ask for", Figure: "HLB " + ems[0].HLB.String() + " and " + ems[1].HLB.String(),
			Limit: "HLB " + required.StringFixed(2), Source: hlbSource, Do: "take a pair with one below and one above it"})
		return nil
	}
	out.Blend.Split = []hlbAmount{{a.Emulsifiers[0].Name, first.String()}, {a.Emulsifiers[1].Name, second.String()}}
	return nil
}

func readHLBs(all []askHLB, field string, amounts bool) ([]HLBShare, decimal.Decimal, *FieldError) {
	var out []HLBShare
	sum := decimal.Decimal{}
	for i, a := range all {
		at := field + "[" + strconv.Itoa(i) + "]"
		h, err := readPlain(a.HLB, "an HLB", 0, 40)
		if err != nil {
			return nil, sum, err.under(at + ".hlb")
		}
		s := HLBShare{HLB: h}
		if amounts {
			if s.Amount, err = readPlain(a.Amount, "an amount", 0, 1_000_000); err != nil {
				return nil, sum, err.under(at + ".amount")
			}
		}
		sum = sum.Add(s.Amount)
		out = append(out, s)
	}
	return out, sum, nil
}

func emulsionLines(parts []EmulsionPart) []emulsionLine {
	out := []emulsionLine{}
	for _, p := range parts {
		l := emulsionLine{p.Line, p.Name, show(p.Percent), []hlbFigure{}}
		for _, h := range p.HLB {
			text := tenths(int64(h.Low))
			if h.High != h.Low {
				text += " to " + tenths(int64(h.High))
			}
			l.HLB = append(l.HLB, hlbFigure{text, h.Cite.String()})
		}
		out = append(out, l)
	}
	return out
}
