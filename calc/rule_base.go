package calc

// unreadable is what hangs on knowing what a line is made of.
const unreadable = "its limits by law, its charge, whether it brings water or a preservative, its oil and pH, its allergens, what to wear, and its place in the ingredient list"

// ruleBase: a base that contains itself, is not known, or does not sum to 100 cannot be taken apart, so nothing in it is judged.
func ruleBase(e *evidence) []Finding {
	var out []Finding
	if e.err != nil {
		subject := ""
		for _, l := range e.f.Lines {
			if l.Base == "" {
				continue
			}
			alone := *e.f
			alone.Lines = []Line{l}
			if _, err := takeApart(&alone, e.k); err != nil {
				subject = l.ID
				break
			}
		}
		out = append(out, Finding{Rule: "base", Level: Stop, Subject: subject, Phase: e.phaseOf(subject), Says: e.err.Says,
			Source: "this book's own rule: a base is a formula that sums to 100 and never holds itself", Do: e.err.Want})
	}
	for _, id := range e.apart.unknown {
		l := e.line(id)
		if l == nil || l.Ingredient == "" {
			continue
		}
		out = append(out, Finding{Rule: "base", Level: Unchecked, Subject: id, Phase: l.Phase, Says: "not checked: what “" + short(l.Ingredient) + "” is made of is missing, and with it all that follows: " + unreadable,
			Source: "this book's own rule: only what is known is judged", Do: "choose an ingredient of the list, or write down what the supplier says of this one"})
	}
	return out
}
