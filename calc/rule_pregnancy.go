package calc

import "strings"

// rulePregnancy (C15): law has no general list, so only what a source says of a substance is shown, and the rest is said not to be checked.
func rulePregnancy(e *evidence) []Finding {
	if len(e.apart.Supplied) == 0 || strings.HasPrefix(e.f.Age, "under 3") || e.f.Age == "3 to 12" {
		return nil
	}
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		if p.Percent.IsPositive() && retinols[p.Key] != 0 {
			return []Finding{{Rule: "pregnancy", Level: Care, Subject: first(p), Phase: e.phaseOf(first(p)), Says: "vitamin A: who is pregnant is told to take no more of it than food gives", Figure: show(p.Percent) + " % " + p.Key,
				Source: "advice on vitamin A, not a law on cosmetics (from memory)", Do: "have it assessed by a qualified person, and say so on the label"}}
		}
	}
	return []Finding{{Rule: "pregnancy", Level: Unchecked, Says: "not checked: pregnancy; cosmetics law has no general list, and this book has none", Source: "this book's own rule", Do: "a qualified person assesses it; promise nothing"}}
}
