package calc

// ruleMist (C12): what is sprayed is breathed in, oil floats on water without a solubiliser, and what does not dissolve blocks the nozzle or
// flies as dust. How fine the droplets are is never known here.
func ruleMist(e *evidence) []Finding {
	if e.f.Site != "spray or mist" {
		return nil
	}
	var out []Finding
	solubiliser := false
	for i := range e.apart.Supplied {
		ing := e.k.Ingredients[e.apart.Supplied[i].Key]
		solubiliser = solubiliser || ing != nil && e.apart.Supplied[i].Percent.IsPositive() && (does(ing, "solubiliser") || does(ing, "emulsifier"))
	}
	wetEnough := e.waterIn().IsPositive()
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !p.Percent.IsPositive() {
			continue
		}
		f := Finding{Rule: "mist", Subject: first(p), Phase: e.phaseOf(first(p)), Figure: show(p.Percent) + " %", Source: "common practice"}
		switch {
		case ing.Soluble == "neither":
			f.Level, f.Says, f.Do = Stop, ing.Name+" does not dissolve: sprayed, it blocks the nozzle or is breathed in as dust", "leave it out of what is sprayed"
		case wetEnough && !solubiliser && (ing.Soluble == "oil" || does(ing, "scent")) && !does(ing, "water"):
			f.Level, f.Says, f.Do = Care, ing.Name+" floats on the water without a solubiliser, which lets a little oil go into water: a spray may give it undiluted", "add a solubiliser, 1 part to 1 as a start and often 2 to 5, and look at it for clearness after a day"
		default:
			continue
		}
		out = append(out, f)
	}
	for _, inci := range []string{"Dehydroacetic Acid", "Sodium Dehydroacetate"} {
		if p := e.part(inci); p != nil && p.Percent.IsPositive() {
			out = append(out, Finding{Rule: "mist", Level: Care, Subject: first(p), Phase: e.phaseOf(first(p)), Says: inci + " is not allowed in aerosol cans, which spray by gas; a pump is none",
				Figure: show(p.Percent) + " %", Source: "EU 1223/2009 Annex V/13: French transposition of Annex VI of 76/768 (read); " + lawDate, Do: "fill it into a pump, or take another preservative"})
		}
	}
	return append(out, Finding{Rule: "mist", Level: Unchecked, Says: "not checked: how much of the spray is breathed in; the size of its droplets is missing", Source: "this book's own rule",
		Do: "take a pump with coarse droplets, and print that it is not for the face and not to be breathed in"})
}
