package calc

// scalding is the temperature from which a melt clings and burns (own rule; the trade melts at 70 to 80 °C).
const scalding = 60_000

// ruleWearHot: a hot melt or hot water splashes and clings.
func ruleWearHot(e *evidence) []Finding {
	var out []Finding
	for _, p := range e.f.Phases {
		t := p.Treatment
		if t.Do == "cool" || (t.Degrees == nil || t.Degrees.MilliC < scalding) && !(t.Degrees == nil && (t.Do == "heat" || t.Do == "melt")) {
			continue
		}
		f := Finding{Rule: "wear-hot", Level: Wear, Phase: p.Letter, Says: "goggles, heat-proof gloves, sleeves down: this phase is hot", Limit: "from 60 °C (own rule)",
			Source: "common practice", Do: "it splashes and clings, and steam burns; keep water in the bath, it must not boil dry; dry hands at the mixer, its cord off the plate; children and pets out"}
		if t.Degrees != nil {
			f.Figure = t.Degrees.Show()
		}
		out = append(out, f)
	}
	return out
}
