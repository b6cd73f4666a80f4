package calc

import "github.com/shopspring/decimal"

// ruleSalt (S5): much salt in a surfactant base may thin or break it, and it rusts metal lids.
func ruleSalt(e *evidence) []Finding {
	salt := e.anyOf("Sodium Chloride", "Magnesium Sulfate")
	active, _ := e.active()
	if salt == nil || active.LessThan(decimal.New(5, 0)) || !e.waterIn().IsPositive() {
		return nil
	}
	sum := e.amount("Sodium Chloride").Add(e.amount("Magnesium Sulfate"))
	if sum.LessThan(decimal.New(3, 0)) {
		return nil
	}
	line := ""
	for i := range e.f.Lines { // the salt that was added stands before the salt that came along
		if ing := e.ingredient(&e.f.Lines[i]); line == "" && ing != nil && (ing.INCI == "Sodium Chloride" || ing.INCI == "Magnesium Sulfate") {
			line = e.f.Lines[i].ID
		}
	}
	if line == "" {
		line = first(salt)
	}
	return []Finding{{Rule: "salt", Level: Note, Subject: line, Phase: e.phaseOf(line), Says: "so much salt may thin or break a surfactant base, and it rusts metal lids", Figure: show(sum) + " % salt, what comes inside other ingredients included", Limit: "a few per cent", Source: "common practice",
		Do: "make 100 g first; take plastic lids"}}
}
