package calc

// strongAlkali is the pH as supplied from which a surfactant can split an ester on contact (own rule; alkyl glucosides arrive at 11.5 to 12.5).
const strongAlkali = 1100

// ruleAlkaline (S6): an alkyl glucoside arrives at pH 11.5 to 12.5 and would split an ester such as an isethionate where they meet.
func ruleAlkaline(e *evidence) []Finding {
	ester := e.anyOf("Sodium Cocoyl Isethionate", "Sodium Lauroyl Methyl Isethionate", "Disodium Laureth Sulfosuccinate")
	if ester == nil {
		return nil
	}
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil || l.Percent == 0 || ing.PHSupplied == nil || ing.PHSupplied.High < strongAlkali {
			continue
		}
		out = append(out, Finding{Rule: "alkaline", Level: Care, Subject: l.ID, Phase: l.Phase, Says: ing.Name + " arrives alkaline, the opposite of sour, and can split " + e.nameLines(ester.Lines[:1]),
			Figure: "pH " + showPH(ing.PHSupplied.Low) + " to " + showPH(ing.PHSupplied.High) + " " + ing.PHSupplied.At, Limit: "below pH 11 (own rule)", Source: ing.PHSupplied.Cite.String(), Date: ing.PHSupplied.Cite.Dated(),
			Do: "bring its pH down in the water first, then add the other"})
	}
	return out
}
