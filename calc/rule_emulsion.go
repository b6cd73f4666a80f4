package calc

// ruleEmulsion: what holds oil in water, by one of three branches (E14). A whipped surfactant base has its own rules for oil, and a balm has no water.
func ruleEmulsion(e *evidence) []Finding {
	if len(e.apart.unknown) > 0 || e.err != nil {
		return nil
	}
	out := e.emulsion().Findings
	for i := range out {
		out[i].Phase = e.phaseOf(out[i].Subject)
	}
	return out
}
