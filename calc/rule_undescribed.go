package calc

// ruleUndescribed: a substance of which nothing is known here but its name is no obstacle, but several checks look past it, which must be said.
func ruleUndescribed(e *evidence) []Finding {
	var out []Finding
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		var strange []string
		for _, c := range e.k.Ingredients[p.Key].Composition {
			if e.k.Substances[c.INCI] == nil {
				strange = append(strange, c.INCI)
			}
		}
		if len(strange) == 0 || !p.Percent.IsPositive() {
			continue
		}
		out = append(out, Finding{Rule: "undescribed", Level: Unchecked, Subject: first(p), Phase: e.phaseOf(first(p)), Figure: show(p.Percent) + " %",
			Says:   "not checked: what " + list(strange) + " does is missing: whether it feeds microbes, keeps them away or counts as water",
			Source: "this book's own rule: only what is known is judged", Do: "read it in the supplier's document, and write it with the ingredient"})
	}
	return out
}
