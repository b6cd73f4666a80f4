package calc

// ruleVanillin (C5): vanillin and ethyl vanillin turn a cream brown.
func ruleVanillin(e *evidence) []Finding {
	var out []Finding
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !p.Percent.IsPositive() || !does(ing, "scent") || does(ing, "water") {
			continue
		}
		f := Finding{Rule: "vanillin", Level: Note, Subject: first(p), Phase: e.phaseOf(first(p)), Figure: show(p.Percent) + " % " + ing.Name, Source: "practice pages, common practice"}
		switch {
		case ing.Vanillin != nil && ing.Vanillin.High > 0:
			f.Says, f.Do = "vanillin turns cream to brown within days or weeks", "colour accordingly, or take a scent without it"
			f.Limit = ing.Vanillin.Low.String() + " to " + ing.Vanillin.High.String() + " % vanillin in it; " + ing.Vanillin.Cite.String()
		case ing.Vanillin == nil && ing.INCI == "Parfum":
			f.Level, f.Says, f.Do = Unchecked, "not checked: how much vanillin is in "+ing.Name+" is missing; it turns cream to brown", "ask the supplier"
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}
