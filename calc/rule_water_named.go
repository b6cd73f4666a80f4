package calc

import "strings"

// ruleWaterNamed (M16): tap water brings minerals and microbes; hydrosols, aloe juice, milk and infusions count as water and as food.
func ruleWaterNamed(e *evidence) []Finding {
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil || l.Percent == 0 || !does(ing, "water") {
			continue
		}
		f := Finding{Rule: "water-named", Level: Note, Subject: l.ID, Phase: l.Phase, Source: "common practice"}
		switch {
		case ing.INCI != "Aqua":
			f.Says, f.Do = ing.Name+" counts as water, and as food for microbes", "preserve it like water, and buy it fresh"
		case !pureWater(ing.Name):
			f.Says, f.Do = "which water it is, is not said: tap water brings minerals and microbes", "take distilled or deionised water"
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}

func pureWater(name string) bool {
	name = strings.ToLower(name)
	for _, word := range []string{"distil", "deioni", "demineral", "purified"} {
		if strings.Contains(name, word) {
			return true
		}
	}
	return false
}
