package calc

// ruleAddedHot: a line that does not stand heat must be added below its own limit. A phase that is only mixed in a formula where nothing is
// heated is at room temperature; where something is heated, a phase without a temperature cannot be judged.
func ruleAddedHot(e *evidence) []Finding {
	heated := false
	for _, p := range e.f.Phases {
		if p.Treatment.Do == "heat" || p.Treatment.Do == "melt" || p.Treatment.Degrees != nil && p.Treatment.Degrees.MilliC > 45_000 {
			heated = true
		}
	}
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil || ing.Highest == nil {
			continue
		}
		t := e.f.treatment(l.Phase)
		f := Finding{Rule: "added-hot", Subject: l.ID, Phase: l.Phase, Limit: "at most " + bothDegrees(ing.Highest), Source: ing.Highest.Cite.String(), Date: ing.Highest.Cite.Dated()}
		switch {
		case t.Degrees != nil && t.Degrees.MilliC > ing.Highest.MilliC:
			f.Level, f.Says, f.Figure = Care, ing.Name+" goes in hotter than it stands", t.Degrees.Show()
			f.Do = "move it to a phase that is added after cooling"
			if does(ing, "preservative") {
				f.Says += "; a preservative that is spoilt keeps nothing"
			}
		case t.Degrees == nil && heated:
			f.Level, f.Says = Unchecked, "not checked: at what temperature phase "+l.Phase+" goes in is missing; "+ing.Name+" must stay below its limit"
			f.Do = "write the temperature that the phase is cooled to"
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}
