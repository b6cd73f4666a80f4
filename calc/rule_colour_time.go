package calc

import "strings"

// ruleBleeding (C3): a dye that dissolves in water walks from one colour into the next; pigments, oxides and micas do not.
func ruleBleeding(e *evidence) []Finding {
	dye, others := (*Part)(nil), []string(nil)
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		switch {
		case ing == nil || !p.Percent.IsPositive() || !does(ing, "colour"):
		case ing.Soluble == "water" && dye == nil:
			dye = p
		default:
			others = append(others, ing.Name)
		}
	}
	if dye == nil || len(others) == 0 && !named(e.f.Name, "layer layers layered swirl swirls swirled stripe stripes striped marbled two-tone") {
		return nil
	}
	f := Finding{Rule: "bleeding", Level: Note, Subject: first(dye), Phase: e.phaseOf(first(dye)), Says: "a dye that dissolves in water bleeds into the next colour or a pale layer", Figure: show(dye.Percent) + " % " + dye.Name,
		Source: "practice pages, common practice", Do: "take a pigment, an oxide or a mica where two colours meet"}
	if len(others) > 0 {
		f.Limit = "beside " + list(others)
	}
	return []Finding{f}
}

// ruleColourTomorrow (C4): red and pink are pale in fresh foam and full the next day.
func ruleColourTomorrow(e *evidence) []Finding {
	whipped := false
	for _, p := range e.f.Phases {
		whipped = whipped || p.Treatment.Do == "whip"
	}
	if !whipped {
		return nil
	}
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing != nil && p.Percent.IsPositive() && does(ing, "colour") && (named(ing.Name, "red pink rose carmine") || ing.INCI == "CI 75470" || ing.INCI == "CI 16035") {
			return []Finding{{Rule: "colour-tomorrow", Level: Note, Subject: first(p), Phase: e.phaseOf(first(p)), Says: "judge the colour tomorrow, add no more today: in a whipped base red and pink deepen overnight", Figure: show(p.Percent) + " % " + ing.Name, Source: "common practice"}}
		}
	}
	return nil
}

// named tells whether a text holds one of these words, as a word of its own.
func named(text, words string) bool {
	for _, w := range wordsOf(text) {
		if contains(strings.Fields(words), w) {
			return true
		}
	}
	return false
}
