package calc

import "stillroom/calc/law"

// ruleTogether: what law lets in only one at a time. It fires when the one comes from an ingredient without the other: a mixture that is
// sold as such is meant.
func ruleTogether(e *evidence) []Finding {
	var out []Finding
	for i := range law.Exclusions {
		x := &law.Exclusions[i]
		if !contains(x.Regions, e.k.region()) {
			continue
		}
		one, _ := e.bringing(x.These, nil)
		other, with := e.bringing(x.With, x.These)
		if one == "" || other == "" {
			continue
		}
		out = append(out, Finding{Rule: "together", Level: Level(x.Level), Subject: other, Phase: e.phaseOf(other), Says: with + " may not be in one product with what " + e.nameLines([]string{one}) + " brings",
			Source: x.Entry + ": " + x.Cite.String() + "; " + lawDate, Date: tableDate("exclusions"), Do: "take one of them out"})
	}
	return out
}

// bringing is the first line whose ingredient brings one of these substances and none of the others, and which substance.
func (e *evidence) bringing(these, others []string) (line, inci string) {
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !p.Percent.IsPositive() {
			continue
		}
		found, barred := "", false
		for _, c := range ing.Composition {
			if contains(these, c.INCI) {
				found = c.INCI
			}
			barred = barred || contains(others, c.INCI)
		}
		if found != "" && !barred {
			return first(p), found
		}
	}
	return "", ""
}
