package calc

import "github.com/shopspring/decimal"

func (e *evidence) isBalm() bool {
	if len(e.apart.unknown) > 0 || e.err != nil || !e.waterIn().IsZero() {
		return false
	}
	oily := e.emulsion().Oily
	return oily.GreaterThanOrEqual(decimal.New(50, 0))
}

// ruleGrainy (M12): shea, mango and such butters set in grains when a balm cools slowly, unless it was held hot or is cooled fast.
func ruleGrainy(e *evidence) []Finding {
	if !e.isBalm() {
		return nil
	}
	butter := e.anyOf("Butyrospermum Parkii Butter", "Mangifera Indica Seed Butter", "Theobroma Cacao Seed Butter", "Garcinia Indica Seed Butter")
	if butter == nil || butter.Percent.LessThan(decimal.New(5, 0)) {
		return nil
	}
	for _, p := range e.f.Phases {
		t := p.Treatment
		if t.Do == "cool" || t.Degrees != nil && t.Degrees.MilliC >= 78_000 && t.HoldMin > 0 {
			return nil
		}
	}
	line := first(butter)
	return []Finding{{Rule: "grainy", Level: Note, Subject: line, Phase: e.phaseOf(line), Says: "this butter may turn grainy after some days", Figure: show(butter.Percent) + " %", Source: "common practice", Do: "hold the melt near 80 °C for a while, then cool it fast, in a cold bath or the refrigerator"}}
}

// ruleSofter (M13): no melting point is predicted for a blend of fats; a day in the warm tells.
func ruleSofter(e *evidence) []Finding {
	if !e.isBalm() {
		return nil
	}
	return []Finding{{Rule: "softer", Level: Note, Says: "how warm it may stand at a summer market cannot be worked out for a blend of fats", Source: "common practice", Do: "keep one closed for 24 hours at 40 °C and look at it; then choose how much wax"}}
}
