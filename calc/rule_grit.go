package calc

const gritSource = "; common practice: grit dissolves slowly in a set base"

// ruleGrit (E2): the free water takes a soluble grit in time. Take care, never stop: such scrubs are made every day.
func ruleGrit(e *evidence) []Finding {
	var out []Finding
	for _, g := range e.grits() {
		out = append(out, Finding{Rule: "grit", Level: Care, Subject: g.Line, Phase: e.phaseOf(g.Line), Says: g.Says,
			Figure: few(g.Room) + " % at 20 °C, " + few(g.Bath) + " % at 38 °C", Limit: few(e.waterIn()) + " % free water", Source: g.Source + gritSource,
			Do: "use less water, or a grit that does not dissolve; look after a week"})
	}
	if !e.waterIn().IsPositive() {
		return out
	}
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if !e.isGrit(ing, p.Percent) || ing.Soluble == "neither" || ing.Soluble == "oil" {
			continue
		}
		if _, _, ok := Solubility(ing.INCI, roomMilliC); !ok {
			out = append(out, Finding{Rule: "grit", Level: Unchecked, Subject: first(p), Phase: e.phaseOf(first(p)), Says: "not checked: how much " + ing.Name + " dissolves is missing", Source: "this book's own rule", Do: "stir some into water and look the next day"})
		}
	}
	return out
}

// ruleGritHot (M4): a soluble grit in a hot phase with water is gone at once.
func ruleGritHot(e *evidence) []Finding {
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		t := e.f.treatment(l.Phase)
		hot := t.Do == "heat" || t.Do == "melt" || t.Degrees != nil && t.Do != "cool" && t.Degrees.MilliC > 45_000
		if ing == nil || !hot || !e.isGrit(ing, percentOf(l.Percent)) || !e.holdsWater(func(o *Line) bool { return o.Phase == l.Phase }) {
			continue
		}
		at := int64(70_000)
		if t.Degrees != nil {
			at = t.Degrees.MilliC
		}
		takes, from, ok := Solubility(ing.INCI, at)
		if !ok {
			continue
		}
		out = append(out, Finding{Rule: "grit-hot", Level: Care, Subject: l.ID, Phase: l.Phase, Says: ing.Name + " dissolves in a hot phase with water",
			Figure: takes.Round(0).String() + " g per 100 g of water at " + celsius(at), Source: from.String(), Do: "fold it in last, when all is cool"})
	}
	return out
}

// ruleGritOrder (M6): what comes after the grit is hard to spread evenly in a paste; a preservative must be even.
func ruleGritOrder(e *evidence) []Finding {
	var out []Finding
	grit := false
	for _, i := range e.inOrder() {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil || l.Percent == 0 {
			continue
		}
		if grit && does(ing, "preservative") {
			out = append(out, Finding{Rule: "grit-order", Level: Care, Subject: l.ID, Phase: l.Phase, Says: ing.Name + " goes in after the grit: hard to spread evenly in a paste", Source: "common practice", Do: "set it before the grit"})
		}
		grit = grit || e.isGrit(ing, percentOf(l.Percent))
	}
	return out
}
