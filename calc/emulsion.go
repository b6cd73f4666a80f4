package calc

import (
	"strconv"

	"github.com/shopspring/decimal"

	"stillroom/calc/matter"
)

// EmulsionPart is an oil or an emulsifier of a formula with the HLB that it has or asks for, one for each source.
type EmulsionPart struct {
	Line, Name string
	Percent    decimal.Decimal
	HLB        []matter.HLB
}

// Emulsion is what holds the oil of a formula in its water. Required and supplied HLB are ranges, since the sources differ.
type Emulsion struct {
	// Branch is "no oil", "no water", "surfactant", "complete wax", "hlb", "solubiliser", "co-emulsifier" or "none".
	Branch      string
	Oily        decimal.Decimal // per cent of everything oily, emulsifiers left out
	free        bool            // an oil or butter is among it, not only what hardens or smells
	Oils, Holds []EmulsionPart
	Low, High   decimal.Decimal // HLB that the oils ask for; both 0 when not known
	Has         decimal.Decimal // HLB of the emulsifiers, the middle where a figure is a range
	Missing     []string        // oils and emulsifiers without a figure
	Findings    []Finding
}

const (
	hlbSource      = "Griffin 1954: HLB of a blend is the mean by weight; figures differ from table to table"
	waxSource      = "common practice: 20 to 25 % of everything oily, some add one point"
	dissolveSource = "common practice: as much solubiliser as oil to start with, often 2 to 5 times, up to 10"
	// muchActive is the active matter from which HLB says nothing (E14), and littleOil the most oil that a solubiliser is asked to carry (own rule).
	muchActive, littleOil = 5, 3
)

// EmulsionOf judges what holds the oils (E14): surfactants, a complete wax by its share of the oils, emulsifiers by HLB, or a solubiliser to little oil.
func EmulsionOf(f Formula, k Known) Emulsion {
	f.Lines = Total(f.Lines).Lines
	return gatherEvidence(&f, k, 0).emulsion()
}

func isOily(ing *Ingredient) bool {
	return ing.Soluble == "oil" && !does(ing, "emulsifier") && !does(ing, "solubiliser") && !does(ing, "preservative") && !does(ing, "antioxidant")
}

func (e *evidence) emulsion() Emulsion {
	m := Emulsion{}
	var waxes, balanced, solubilisers, helpers []EmulsionPart
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		part := EmulsionPart{Line: first(p), Name: ing.Name, Percent: p.Percent, HLB: ownHLB(ing)}
		switch {
		case p.Percent.IsZero():
		case does(ing, "solubiliser"):
			solubilisers = append(solubilisers, part)
		case does(ing, "emulsifier") && len(part.HLB) == 0:
			waxes = append(waxes, part) // sold complete, dosed by its share of the oils
		case does(ing, "emulsifier"), does(ing, "co-emulsifier") && len(part.HLB) > 0:
			balanced = append(balanced, part)
			if does(ing, "co-emulsifier") {
				helpers = append(helpers, part)
			}
		case isOily(ing):
			part.HLB = wantedHLB(ing)
			m.Oils, m.Oily, m.free = append(m.Oils, part), m.Oily.Add(p.Percent), m.free || does(ing, "emollient")
			if does(ing, "co-emulsifier") {
				helpers = append(helpers, part)
			}
		}
	}
	active, _ := e.active()
	alone := len(balanced) > 0 && onlyThese(balanced, helpers)
	switch {
	case m.Oily.IsZero():
		m.Branch = "no oil"
	case !e.waterIn().GreaterThanOrEqual(decimal.New(wet, 0)):
		m.Branch = "no water"
	case active.GreaterThan(decimal.New(muchActive, 0)):
		m.surfactant(active)
	case len(waxes) > 0:
		m.wax(append(waxes, balanced...))
	case len(solubilisers) > 0 && (len(balanced) == 0 || alone) && m.Oily.LessThanOrEqual(decimal.New(littleOil, 0)):
		m.dissolve(solubilisers)
	case len(balanced)+len(solubilisers) > 0 && !(alone && len(solubilisers) == 0):
		m.balance(append(balanced, solubilisers...))
	case len(helpers) > 0:
		m.helpers(helpers)
	default:
		m.Branch = "none"
		m.say(Care, m.Oils[0].Line, "oil and water with nothing that holds them together: they part", few(m.Oily)+" % oil", "", "common practice", "add an emulsifier, or a solubiliser for a little scent; say “shake” on the label if it is meant to part")
	}
	return m
}

func onlyThese(all, some []EmulsionPart) bool {
	for _, a := range all {
		found := false
		for _, s := range some {
			found = found || s.Line == a.Line && s.Name == a.Name
		}
		if !found {
			return false
		}
	}
	return true
}

func (m *Emulsion) say(level Level, line, says, figure, limit, source, do string) {
	m.Findings = append(m.Findings, Finding{Rule: "emulsion", Level: level, Subject: line, Says: says, Figure: figure, Limit: limit, Source: source, Do: do})
}

func amountOf(parts []EmulsionPart) decimal.Decimal {
	sum := decimal.Decimal{}
	for _, p := range parts {
		sum = sum.Add(p.Percent)
	}
	return sum
}

func (m *Emulsion) surfactant(active decimal.Decimal) {
	m.Branch = "surfactant"
	if !m.free {
		return // what hardens a whipped base is no dose of oil
	}
	m.say(Note, m.Oils[0].Line, "what cleans and foams here (the surfactants) carries the oil too, and HLB does not answer how much it carries", few(active)+" % active matter beside "+few(m.Oily)+" % oil", "above about 5 % active matter", "common practice", "make 100 g and look at it after a week")
}

func (m *Emulsion) wax(waxes []EmulsionPart) {
	m.Branch, m.Holds = "complete wax", waxes
	share := amountOf(waxes).Shift(2).DivRound(m.Oily, 2)
	switch {
	case share.LessThan(decimal.New(20, 0)):
		m.say(Care, waxes[0].Line, "little emulsifier for so much oil: it may part", few(share)+" % of the "+few(m.Oily)+" % oil", "20 to 25 % of the oil", waxSource, "take about "+few(m.Oily.Mul(decimal.New(2, -1)))+" to "+few(m.Oily.Mul(decimal.New(25, -2)))+" % of it")
	case share.GreaterThan(decimal.New(50, 0)):
		m.say(Note, waxes[0].Line, "more emulsifier than the oil needs: it grows stiff and may feel waxy", few(share)+" % of the "+few(m.Oily)+" % oil", "20 to 25 % of the oil", waxSource, "right if you mean it")
	}
}

func (m *Emulsion) dissolve(solubilisers []EmulsionPart) {
	m.Branch, m.Holds = "solubiliser", solubilisers
	ratio := amountOf(solubilisers).DivRound(m.Oily, 2)
	if ratio.LessThan(decimal.New(1, 0)) {
		m.say(Care, solubilisers[0].Line, "less solubiliser (what lets a little oil go into water) than oil: the oil may float", ratio.StringFixed(1)+" parts to 1 of oil", "1 to 1 as a start, often 2 to 5", dissolveSource, "try "+few(m.Oily)+" to "+few(m.Oily.Mul(decimal.New(5, 0)))+" % in a small glass until it stays clear")
		return
	}
	m.say(Note, solubilisers[0].Line, "whether so much clears the oil only a glass tells", ratio.StringFixed(1)+" parts to 1 of oil", "1 to 1 as a start, often 2 to 5, up to 10", dissolveSource, "mix scent and solubiliser first, then add to the water; cloudy means more")
}

func (m *Emulsion) helpers(helpers []EmulsionPart) {
	m.Branch, m.Holds = "co-emulsifier", helpers
	m.say(Care, helpers[0].Line, "only helpers of an emulsifier stand here, and alone they do not hold oil in water; stearic acid holds about 1 to 2 % of scent, not a dose of oil", few(amountOf(helpers))+" % beside "+few(m.Oily)+" % oil", "about 1 to 2 % of scent", "common practice", "add an emulsifier")
}

// balance compares what the oils ask for with what the emulsifiers have.
func (m *Emulsion) balance(holds []EmulsionPart) {
	m.Branch, m.Holds = "hlb", holds
	var low, high, has []HLBShare
	add := func(to *[]HLBShare, p EmulsionPart, tenths int) {
		*to = append(*to, HLBShare{p.Percent, decimal.New(int64(tenths), -1)})
	}
	for _, p := range m.Oils {
		if len(p.HLB) == 0 {
			m.Missing = append(m.Missing, p.Name)
			continue
		}
		l, h := spread(p.HLB)
		add(&low, p, l)
		add(&high, p, h)
	}
	for _, p := range holds {
		if len(p.HLB) == 0 {
			m.Missing = append(m.Missing, p.Name)
			continue
		}
		l, h := spread(p.HLB)
		has = append(has, HLBShare{p.Percent, decimal.New(int64(l+h), -1).DivRound(decimal.New(2, 0), 2)})
	}
	if len(m.Missing) > 0 {
		m.say(Unchecked, "", "not checked: the HLB of "+list(m.Missing)+" is missing (how much it leans to water, or how much leaning an oil asks for), so the figures leave it out", strconv.Itoa(len(m.Missing)), "", hlbSource, "ask the supplier, or make 100 g and look")
	}
	var knows, hasOne bool
	m.Low, knows = HLBOf(low)
	m.High, _ = HLBOf(high)
	m.Has, hasOne = HLBOf(has)
	if !knows || !hasOne {
		return
	}
	wants := m.Low.StringFixed(1)
	if !m.Low.Round(1).Equal(m.High.Round(1)) {
		wants += " to " + m.High.StringFixed(1)
	}
	figure, limit := "the emulsifiers have "+m.Has.StringFixed(1), "the oils ask for "+wants
	one := decimal.New(1, 0)
	switch {
	case m.Has.LessThan(m.Low.Sub(one)):
		m.say(Care, holds[0].Line, "the emulsifiers love oil more than these oils ask for", figure, limit, hlbSource, m.mend(holds, "take more of the one with the higher HLB"))
	case m.Has.GreaterThan(m.High.Add(one)):
		m.say(Care, holds[0].Line, "the emulsifiers love water more than these oils ask for", figure, limit, hlbSource, m.mend(holds, "take more of the one with the lower HLB"))
	default:
		m.say(Note, holds[0].Line, "HLB (how much an emulsifier leans to water, from 0 to 20) fits to within one point; it tells the kind of emulsifier, not how much of it or how long it holds", figure, limit, hlbSource, "make 100 g; warm a little to 40 °C for a day and look")
	}
	if share := amountOf(holds).Shift(2).DivRound(m.Oily, 2); share.LessThan(decimal.New(10, 0)) {
		m.say(Note, holds[0].Line, "little emulsifier for so much oil", few(share)+" % of the oil", "often 10 to 25 % of the oil", "common practice", "make 100 g and look")
	}
}

func spread(all []matter.HLB) (low, high int) {
	low, high = all[0].Low, all[0].High
	for _, h := range all[1:] {
		low, high = min(low, h.Low), max(high, h.High)
	}
	return low, high
}

// mend works out the split of two emulsifiers for the middle of what the oils ask for.
func (m *Emulsion) mend(holds []EmulsionPart, otherwise string) string {
	if len(holds) != 2 || len(holds[0].HLB) == 0 || len(holds[1].HLB) == 0 {
		return otherwise + ", or add a partner"
	}
	middle := func(p EmulsionPart) decimal.Decimal {
		l, h := spread(p.HLB)
		return decimal.New(int64(l+h)*5, -2)
	}
	want := m.Low.Add(m.High).DivRound(decimal.New(2, 0), 4)
	a, b, ok := SplitHLB(want, middle(holds[0]), middle(holds[1]), amountOf(holds))
	if !ok {
		return "no split of these two reaches it; take another pair"
	}
	return "for " + want.StringFixed(1) + ": " + a.StringFixed(2) + " % " + holds[0].Name + " and " + b.StringFixed(2) + " % " + holds[1].Name
}
