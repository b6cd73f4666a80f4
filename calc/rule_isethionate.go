package calc

import "stillroom/calc/matter"

// ruleIsethionate (M5): isethionate powder hardly dissolves in water; a liquid amphoteric or other liquid surfactant before it in its phase
// dissolves it, otherwise its grains come back.
func ruleIsethionate(e *evidence) []Finding {
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil || ing.INCI != "Sodium Cocoyl Isethionate" || !does(ing, "powder") || l.Percent == 0 {
			continue
		}
		before, anywhere := false, false
		for j := range e.f.Lines {
			o := &e.f.Lines[j]
			other := e.ingredient(o)
			if other == nil || o.Percent == 0 || !does(other, "surfactant") || does(other, "powder") || !e.wetSurfactant(other) {
				continue
			}
			anywhere = true
			if j < i && o.Phase == l.Phase {
				before = true
			}
		}
		if before {
			continue
		}
		f := Finding{Rule: "isethionate", Level: Care, Subject: l.ID, Phase: l.Phase, Figure: l.Percent.String() + " %", Limit: "about 0.01 % dissolves in water alone",
			Says: ing.Name + " will not dissolve without a liquid surfactant (a cleanser that is a solution); grains come back", Source: "encyclopaedia article citing AOCS 2004 ch. 5, water takes about 100 ppm at 25 °C; common practice",
			Do: "add a betaine solution or another liquid surfactant to its phase, before it"}
		if anywhere {
			f.Says = ing.Name + " wants its liquid surfactant in the same phase and before it; grains come back otherwise"
			f.Do = "set the liquid surfactant above it in phase " + l.Phase
		}
		out = append(out, f)
	}
	return out
}

// wetSurfactant tells whether an ingredient is a surfactant supplied in water.
func (e *evidence) wetSurfactant(ing *Ingredient) bool {
	for _, c := range ing.Composition {
		if s := e.k.Substances[c.INCI]; s != nil && s.Does("water") && c.Percent > 20*matter.OnePercent {
			return true
		}
	}
	return false
}
