package calc

// weighed is how much is to be made and what each line came to on the scale; a batch of 0 means that it was not said yet.
type weighed struct {
	batch, step Mass
	grams       []Mass
}

// ruleSmallest (E17): take care only where the reading error can break a line's range or maximum. Without a plan nothing is weighed yet.
func ruleSmallest(e *evidence) []Finding {
	if e.weighed.batch <= 0 || e.weighed.step <= 0 || e.weighed.batch > heaviest {
		return nil
	}
	lines := weighLines(e.f, e.k)
	for i := range lines {
		if i < len(e.weighed.grams) {
			lines[i].Mass = e.weighed.grams[i]
		}
	}
	_, findings, err := Smallest(lines, e.weighed.batch, e.weighed.step)
	if err != nil {
		return nil
	}
	for i := range findings {
		findings[i].Phase = e.phaseOf(findings[i].Subject)
	}
	return findings
}
