package calc

import "github.com/shopspring/decimal"

// ruleVanillin (C5): vanillin and ethyl vanillin turn a cream brown. What all scents bring is summed.
func ruleVanillin(e *evidence) []Finding {
	var out []Finding
	sum, at, names := decimal.Decimal{}, -1, []string(nil)
	e.scents(func(p *Part, ing *Ingredient) {
		f := Finding{Rule: "vanillin", Level: Note, Subject: first(p), Phase: e.phaseOf(first(p)), Figure: show(p.Percent) + " % " + ing.Name, Source: "practice pages, common practice"}
		switch {
		case ing.Vanillin != nil && ing.Vanillin.High > 0:
			sum, names = sum.Add(p.Percent.Mul(percentOf(ing.Vanillin.High)).Shift(-2)), append(names, ing.Name)
			if at >= 0 {
				return
			}
			at = len(out)
			f.Says, f.Do = "vanillin turns cream to brown within days or weeks", "colour accordingly, or take a scent without it"
			f.Limit = ing.Vanillin.High.String() + " % vanillin in it; " + ing.Vanillin.Cite.String()
			if ing.Vanillin.Low != ing.Vanillin.High {
				f.Limit = ing.Vanillin.Low.String() + " to " + f.Limit
			}
			f.Date = ing.Vanillin.Dated()
		case ing.Vanillin == nil && ing.INCI == "Parfum":
			f.Level, f.Says, f.Do = Unchecked, "not checked: how much vanillin is in "+ing.Name+" is missing; it turns cream to brown", "ask the supplier"
		default:
			return
		}
		out = append(out, f)
	})
	if at >= 0 {
		out[at].Figure = few4(sum) + " % vanillin, from " + list(names)
	}
	return out
}
