package calc

// ruleBenzoateAscorbic (K5): benzoate with ascorbic or erythorbic acid may form traces of benzene, more with heat and light.
func ruleBenzoateAscorbic(e *evidence) []Finding {
	benzoate, ascorbic := e.anyOf("Sodium Benzoate", "Benzoic Acid"), e.anyOf("Ascorbic Acid", "Erythorbic Acid", "Sodium Ascorbate", "Sodium Erythorbate")
	if benzoate == nil || ascorbic == nil {
		return nil
	}
	line := first(benzoate)
	return []Finding{{Rule: "benzoate-ascorbic", Level: Care, Subject: line, Phase: e.phaseOf(line),
		Says:   e.nameLines(benzoate.Lines) + " with " + e.nameLines(ascorbic.Lines) + ": traces of benzene may form, more with heat and light",
		Figure: show(benzoate.Percent) + " % and " + show(ascorbic.Percent) + " %", Limit: "no cosmetic limit found",
		Source: "FDA on drinks; J. Agric. Food Chem. 1993, 41, 693 (read at second hand)", Do: "exchange one of the two"}}
}

// anyOf gives the first of these substances that is in the formula, nil for none.
func (e *evidence) anyOf(incis ...string) *Part {
	for _, inci := range incis {
		if p := e.part(inci); p != nil && p.Percent.IsPositive() {
			return p
		}
	}
	return nil
}
