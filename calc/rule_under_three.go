package calc

import "strings"

// ruleUnderThree (C14): a product for children under three, or for intimate use, needs a special assessment. This book cannot give it.
func ruleUnderThree(e *evidence) []Finding {
	who := ""
	switch {
	case strings.HasPrefix(e.f.Age, "under 3"):
		who = "children under three"
	case e.f.Site == "intimate":
		who = "intimate use"
	default:
		return nil
	}
	return []Finding{{Rule: "under-three", Level: Stop, Says: "for " + who + " a special assessment is required, which this book cannot give",
		Source: "Reg. (EC) 1223/2009 Annex I B (from memory)", Do: "have it assessed by a qualified person before anyone uses it"}}
}
