package calc

// ScaleLines gives a formula's lines ready for Scale, each with the lowest maximum that is known for it, the supplier's or the law's.
// It does not look into bases: a base is weighed as it was made.
func ScaleLines(f Formula, k Known) []ScaleLine {
	lines := Total(f.Lines).Lines
	out := make([]ScaleLine, len(lines))
	for i := range lines {
		l := &lines[i]
		out[i] = ScaleLine{ID: l.ID, Percent: l.Percent, QS: l.QS}
		if l.Base != "" {
			continue
		}
		ing := k.Ingredients[l.Ingredient]
		if ing == nil {
			continue
		}
		if ing.Maximum != nil {
			most := ing.Maximum.Percent
			out[i].Max = &most
		}
		if most, ok := legalMaximum(ing, &f, k.region()); ok && (out[i].Max == nil || most < *out[i].Max) {
			out[i].Max = &most
		}
	}
	return out
}

// WearBefore gives what to put on before a phase is begun: everything of that phase when line is "", else that line's alone.
func WearBefore(f Formula, k Known, phase, line string) []Finding {
	e := gatherEvidence(&f, k, 0)
	var out []Finding
	for _, r := range []func(*evidence) []Finding{ruleWearPowder, ruleWearEyes, ruleWearHot} {
		for _, w := range r(e) {
			if line != "" && w.Subject != line || line == "" && w.Phase != phase {
				continue
			}
			out = append(out, w)
		}
	}
	return out
}
