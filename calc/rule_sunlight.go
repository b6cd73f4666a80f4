package calc

// ruleSunlight (C7): expressed citrus and the like can burn skin in the sun when they stay on it.
func ruleSunlight(e *evidence) []Finding {
	if e.f.Wash == "rinse-off" {
		return nil
	}
	return e.counting("sunlight", func(f *Finding, ing *Ingredient) bool {
		f.Level, f.Says = Care, ing.Name+" on skin in the sun can burn and leave marks"
		if e.f.Wash == "" {
			f.Level, f.Says = Unchecked, "not checked: whether it is rinsed off or left on is missing; "+ing.Name+" stays on the skin in one that is left on, and in the sun it can burn"
		}
		f.Source, f.Do = "scent makers' standards on expressed citrus, older text (read at second hand)", "use the maximum of the certificate for what is left on, or a distilled oil, or one without bergapten, which is what burns"
		return true
	})
}

// counting gives a finding for each ingredient that counts as something; say fills it in and may refuse.
func (e *evidence) counting(as string, say func(*Finding, *Ingredient) bool) []Finding {
	var out []Finding
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !p.Percent.IsPositive() || !ing.Counts(as) {
			continue
		}
		f := Finding{Rule: as, Subject: first(p), Phase: e.phaseOf(first(p)), Figure: show(p.Percent) + " % " + ing.Name}
		if say(&f, ing) {
			out = append(out, f)
		}
	}
	return out
}
