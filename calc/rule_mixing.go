package calc

// ruleMixing (M7): what dissolves only in water needs water in its phase, what dissolves only in oil needs oil or a surfactant. A phase that is
// heated stands alone in its beaker; one that is cooled, whipped, folded or mixed meets what went in before it.
func ruleMixing(e *evidence) []Finding {
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil || l.Percent == 0 || does(ing, "grit") || len(e.apart.unknown) > 0 {
			continue
		}
		alone := e.f.treatment(l.Phase).Do == "heat" || e.f.treatment(l.Phase).Do == "melt"
		meets := func(o *Line) bool {
			return o.Phase == l.Phase || !alone && e.rank(e.place[o.ID]) < e.rank(i)
		}
		f := Finding{Rule: "mixing", Level: Care, Subject: l.ID, Phase: l.Phase, Source: "this book's own rule", Figure: "phase " + l.Phase}
		switch {
		case ing.Soluble == "water" && !e.holdsWater(meets):
			f.Says, f.Do = ing.Name+" finds no water to dissolve in", "move it to a phase with water"
		case ing.Soluble == "oil" && !e.holdsOil(l, meets):
			f.Says, f.Do = ing.Name+" finds no oil and no surfactant to go into", "move it to the oils, or add an emulsifier"
		default:
			continue
		}
		if l.Phase == "" {
			f.Figure = ""
		}
		out = append(out, f)
	}
	return out
}

// holdsOil tells whether an oil-soluble line finds what takes it up: a surfactant or emulsifier, or, where there is no water, another oil or itself.
func (e *evidence) holdsOil(l *Line, which func(*Line) bool) bool {
	oils := isOil(e.ingredient(l))
	for i := range e.f.Lines {
		o := &e.f.Lines[i]
		if o.Percent == 0 || !which(o) {
			continue
		}
		ing := e.ingredient(o)
		if ing == nil {
			return true // a base may hold what is needed
		}
		for _, role := range []string{"surfactant", "emulsifier", "co-emulsifier", "solubiliser"} {
			if does(ing, role) {
				return true
			}
		}
		oils = oils || isOil(ing)
	}
	return oils && !e.holdsWater(which)
}

func isOil(ing *Ingredient) bool {
	return ing != nil && ing.Soluble == "oil" && (does(ing, "emollient") || does(ing, "structure") || does(ing, "wax"))
}
