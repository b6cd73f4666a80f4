package calc

// ruleWearPowder: fine powder that flies is breathed in before anyone notices; the respirator goes on before the tub is opened, for everyone in the room.
func ruleWearPowder(e *evidence) []Finding { return e.wear("wear-powder", "airborne powder") }

// wear gives one finding for every line whose ingredient, handled as supplied, has a hazard of one of these kinds. What is inside a base
// is not met again: the base is weighed as it was made.
func (e *evidence) wear(rule string, kinds ...string) []Finding {
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil {
			continue
		}
		for _, h := range ing.Hazards {
			if contains(kinds, h.Kind) {
				out = append(out, Finding{Rule: rule, Level: Wear, Subject: l.ID, Phase: l.Phase, Says: ing.Name + ": " + h.Says, Figure: h.Kind, Source: h.Cite.String(), Do: h.Wear})
			}
		}
	}
	return out
}
