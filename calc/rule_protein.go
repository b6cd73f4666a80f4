package calc

// ruleProtein (C11): peanut oil and hydrolysed wheat protein need a paper for the lot; what comes from nuts, sesame, soya, milk or wheat is asked
// for at every stall.
func ruleProtein(e *evidence) []Finding {
	source := "Reg. (EU) 2017/2228 (read)"
	var out []Finding
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !p.Percent.IsPositive() {
			continue
		}
		f := Finding{Rule: "protein", Level: Stop, Subject: first(p), Phase: e.phaseOf(first(p)), Figure: show(p.Percent) + " % " + ing.Name, Source: source + "; " + lawDate}
		switch {
		case ing.Counts("peanut") && e.k.region() != "US":
			f.Says, f.Limit, f.Do = "from peanuts: the paper of the lot must show that hardly any protein is in it", "peanut protein at most 0.5 ppm", "get the paper and keep it with the lot, or take another oil"
		case ing.INCI == "Hydrolyzed Wheat Protein" && e.k.region() != "US":
			f.Says, f.Limit, f.Do = "from wheat: the paper of the lot must show that the pieces are small", "mean mass of the peptides at most 3.5 kDa", "get the paper and keep it with the lot, or take another protein"
		default:
			from := ""
			for _, what := range []string{"nut", "peanut", "sesame", "soya", "milk", "wheat"} {
				if ing.Counts(what) {
					from = what
				}
			}
			if from == "" {
				continue
			}
			f.Level, f.Says, f.Source, f.Do = Note, "from "+from+": customers ask about it", "common practice", "say so on the label or the stall card if you wish"
		}
		out = append(out, f)
	}
	return out
}
