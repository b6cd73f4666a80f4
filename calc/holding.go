package calc

import (
	"strings"

	"github.com/shopspring/decimal"

	"stillroom/calc/matter"
)

// Holding is how a formula holds together: what holds its oil, how dry its water is, and the pH of a simple solution. Only what this formula has
// stands in it; every figure carries its sum.
type Holding struct {
	// Says is which of the branches answers for the oil, "" without oil and water.
	Says    string          `json:"says"`
	Parts   []HoldingPart   `json:"parts"`
	Figures []HoldingFigure `json:"figures"`
	// Marks are those of a low-risk product, none where there is no reason to ask.
	Marks []HoldingMark `json:"marks"`
	// Not says what was not worked out, and why.
	Not      []string  `json:"not"`
	Findings []Finding `json:"-"`
}

// HoldingPart is an oil, or what holds it, with what each source says of its HLB.
type HoldingPart struct {
	Line    string          `json:"line"`
	Name    string          `json:"name"`
	Percent string          `json:"percent"`
	Role    string          `json:"role"` // oil or emulsifier
	HLB     []HoldingSource `json:"hlb"`
}

// HoldingSource is one figure beside where it comes from.
type HoldingSource struct {
	Text   string `json:"text"`
	Source string `json:"source"`
}

// HoldingFigure is one figure of the whole.
type HoldingFigure struct {
	What   string `json:"what"`
	Figure Figure `json:"figure"`
	Source string `json:"source"`
}

// HoldingMark is one mark of a low-risk product: met is yes, no or not known.
type HoldingMark struct {
	Says   string `json:"says"`
	Met    string `json:"met"`
	Figure string `json:"figure"`
}

var branchSays = map[string]string{
	"no water":      "There is oil and no water to speak of, so nothing has to hold them together.",
	"surfactant":    "The surfactants carry the oil; HLB does not answer how much they carry.",
	"complete wax":  "An emulsifying wax holds the oil. It is dosed by its share of everything oily, not by HLB.",
	"hlb":           "Emulsifiers hold the oil. Their HLB should match what the oils ask for.",
	"solubiliser":   "A solubiliser carries a little oil into the water.",
	"co-emulsifier": "Only helpers of an emulsifier stand here, and alone they do not hold oil in water.",
	"none":          "Nothing holds the oil in the water.",
}

// holdingRules are the findings of the margin that speak of holding together and of heat.
var holdingRules = []string{"emulsion", "water-activity", "melts", "added-hot", "flammable", "grit-hot", "free-oil"}

// HoldingOf works out how a formula holds together; pH in hundredths is the product's own, 0 when not measured.
func HoldingOf(f Formula, k Known, pH int) Holding {
	h := Holding{Parts: []HoldingPart{}, Figures: []HoldingFigure{}, Marks: []HoldingMark{}, Not: []string{}}
	f.Lines = Total(f.Lines).Lines
	for _, x := range judge(&f, k, pH, weighed{}) {
		if contains(holdingRules, x.Rule) {
			h.Findings = append(h.Findings, x)
		}
	}
	e := gatherEvidence(&f, k, pH)
	if e.err != nil || len(e.apart.unknown) > 0 {
		h.Not = append(h.Not, "how it holds together: not every line is known down to what it is made of")
		return h
	}
	h.emulsion(e.emulsion())
	h.wetness(e)
	h.solution(e)
	return h
}

func (h *Holding) emulsion(m Emulsion) {
	h.Says = branchSays[m.Branch]
	if m.Branch == "no oil" || m.Branch == "no water" {
		return
	}
	byHLB := m.Branch == "hlb"
	add := func(parts []EmulsionPart, role string) {
		for _, p := range parts {
			x := HoldingPart{Line: p.Line, Name: p.Name, Percent: show(p.Percent), Role: role, HLB: []HoldingSource{}}
			for _, v := range p.HLB {
				if byHLB {
					x.HLB = append(x.HLB, HoldingSource{hlbText(v), v.Cite.String()})
				}
			}
			h.Parts = append(h.Parts, x)
		}
	}
	add(m.Oils, "oil")
	add(m.Holds, "emulsifier")
	holds := amountOf(m.Holds)
	switch m.Branch {
	case "complete wax":
		share := holds.Shift(2).DivRound(m.Oily, 1)
		h.figure("wax, of everything oily", share.String()+" %", show(holds)+" ÷ "+show(m.Oily)+" × 100 = "+share.String()+" %; 20 to 25 % is common practice", waxSource)
	case "solubiliser":
		ratio := holds.DivRound(m.Oily, 1)
		h.figure("solubiliser to oil", ratio.StringFixed(1)+" to 1", show(holds)+" ÷ "+show(m.Oily)+" = "+ratio.StringFixed(1)+"; 1 to 1 as a start, often 2 to 5, up to 10", dissolveSource)
	case "hlb":
		if sum, ok := hlbSum(m.Oils); ok {
			text := m.Low.StringFixed(1)
			if !m.Low.Round(1).Equal(m.High.Round(1)) {
				text += " to " + m.High.StringFixed(1)
			}
			h.figure("HLB that the oils ask for", text, sum+" = "+text, hlbSource)
		}
		if sum, ok := hlbSum(m.Holds); ok {
			h.figure("HLB that the emulsifiers have", m.Has.StringFixed(1), sum+" = "+m.Has.StringFixed(1), hlbSource)
		}
		share := holds.Shift(2).DivRound(m.Oily, 1)
		h.figure("emulsifier, of the oil", share.String()+" %", show(holds)+" ÷ "+show(m.Oily)+" × 100 = "+share.String()+" %; often 10 to 25 %", "common practice")
	}
}

func (h *Holding) figure(what, text, sum, source string) {
	h.Figures = append(h.Figures, HoldingFigure{what, Figure{Text: text, Sum: sum}, source})
}

func hlbText(v matter.HLB) string {
	low, high := decimal.New(int64(v.Low), -1).StringFixed(1), decimal.New(int64(v.High), -1).StringFixed(1)
	if low == high {
		return low
	}
	return low + " to " + high
}

// hlbSum writes the mean by weight: "(12 × 6.0 to 7.0 + 2 × 14.0) ÷ 14".
func hlbSum(parts []EmulsionPart) (string, bool) {
	var terms []string
	sum := decimal.Decimal{}
	for _, p := range parts {
		if len(p.HLB) == 0 {
			continue
		}
		low, high := spread(p.HLB)
		terms = append(terms, show(p.Percent)+" × "+hlbText(matter.HLB{Low: low, High: high}))
		sum = sum.Add(p.Percent)
	}
	return "(" + strings.Join(terms, " + ") + ") ÷ " + show(sum), len(terms) > 0
}

// wetness tells how much of the water microbes can use, where enough is dissolved in it for the question to make sense.
func (h *Holding) wetness(e *evidence) {
	water := e.waterIn()
	if !water.IsPositive() || e.solutes().LessThan(water.Mul(decimal.New(2, -1))) {
		return
	}
	amounts, uncounted := e.dissolving()
	a := WaterActivityOf(water, amounts)
	if !a.Known {
		return
	}
	var parts []string
	for _, p := range a.Parts {
		text := few2(p.Dissolve) + " " + p.INCI
		if p.Dissolve.LessThan(p.There) {
			text += " of " + few2(p.There) + ", since the water takes no more"
		}
		parts = append(parts, text)
	}
	h.figure("water activity", "about "+a.AW.StringFixed(2), show(water)+" water with "+strings.Join(parts, ", ")+" dissolved (per cent of the whole, at 25 °C) = "+a.AW.StringFixed(2)+"; pure water is 1.00, and nothing grows below 0.60", awSource)
	for _, m := range lowRisk(e, a, nil) {
		h.Marks = append(h.Marks, HoldingMark(m))
	}
	if len(uncounted) > 0 {
		h.Not = append(h.Not, "how much "+list(uncounted)+" lowers the water activity: no sound figure was found")
	}
}

// soluteOf is the name in the table of solutes of what stands as one INCI in a formula. Sodium citrate is sold as the dihydrate.
var soluteOf = map[string]string{
	"Acetic Acid": "acetic acid", "Sodium Acetate": "sodium acetate", "Lactic Acid": "lactic acid", "Sodium Lactate": "sodium lactate", "Glycolic Acid": "glycolic acid",
	"Citric Acid": "citric acid", "Sodium Citrate": "trisodium citrate dihydrate", "Phosphoric Acid": "phosphoric acid", "Malic Acid": "malic acid", "Tartaric Acid": "tartaric acid",
	"Benzoic Acid": "benzoic acid", "Sodium Benzoate": "sodium benzoate", "Sorbic Acid": "sorbic acid", "Potassium Sorbate": "potassium sorbate", "Salicylic Acid": "salicylic acid",
	"Sodium Salicylate": "sodium salicylate", "Levulinic Acid": "levulinic acid", "Sodium Levulinate": "sodium levulinate", "p-Anisic Acid": "p-anisic acid", "Sodium Anisate": "sodium anisate",
	"Dehydroacetic Acid": "dehydroacetic acid", "Sodium Dehydroacetate": "sodium dehydroacetate", "Sodium Hydroxide": "sodium hydroxide", "Potassium Hydroxide": "potassium hydroxide", "Sodium Chloride": "sodium chloride",
}

// neutral are alcohols and sugars, which neither take nor give a proton between pH 2 and 12.
var neutral = []string{"Aqua", "Glycerin", "Propanediol", "Propylene Glycol", "Butylene Glycol", "Pentylene Glycol", "1,2-Hexanediol", "Sorbitol", "Xylitol", "Erythritol", "Mannitol", "Sucrose", "Glucose", "Fructose",
	"Phenoxyethanol", "Ethylhexylglycerin", "Benzyl Alcohol", "Caprylyl Glycol"}

const thinWater = 80 // per cent of water from which a solution is taken as thin (own rule: activities are those of water)

// solution works out the pH where every line is water, an acid or salt of the table, or neutral, and says of the others why not.
func (h *Holding) solution(e *evidence) {
	var parts []Dissolved
	var terms, strange []string
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		if !p.Percent.IsPositive() {
			continue
		}
		what, known := soluteOf[p.Key]
		switch {
		case known:
			molar := p.Percent.Shift(4).DivRound(decimal.New(findSolute(what).molar, 0), quotientPlaces)
			parts = append(parts, Dissolved{what, molar})
			terms = append(terms, show(p.Percent)+" % "+what+" = "+molar.Round(4).String()+" mol/L")
		case !contains(neutral, p.Key):
			strange = append(strange, p.Key)
		}
	}
	switch {
	case len(parts) == 0 || len(parts) == 1 && parts[0].What == "sodium chloride":
		return
	case len(strange) > 0:
		h.Not = append(h.Not, "the pH: what "+list(strange)+" does to it is not known here; measure it")
		return
	case e.waterIn().LessThan(decimal.New(thinWater, 0)):
		h.Not = append(h.Not, "the pH: so little of it is water that a sum for thin solutions does not hold; measure it")
		return
	}
	out, err := PHOfSolution(parts, false)
	if err != nil {
		h.Not = append(h.Not, "the pH: "+err.Says)
		return
	}
	h.figure("pH, an estimate", "about "+out.PH.StringFixed(1), strings.Join(terms, "; ")+"; the charges balance at pH "+out.PH.StringFixed(2)+" (ionic strength "+out.Strength.String()+" mol/L, 25 °C, clean water). Measure it before you rely on it", solutionSource)
	for _, f := range out.Findings {
		if f.Level == Care {
			h.Findings = append(h.Findings, f)
		}
	}
}
