package calc

import "github.com/shopspring/decimal"

// ruleBinding (K3): what may bind a preservative, so that less of it works: non-ionics with parabens, and clays, much cellulose or charcoal with any.
func ruleBinding(e *evidence) []Finding {
	var keeps, parabens *Part
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		s := e.k.Substances[p.Key]
		if p.Percent.IsZero() || s == nil || s.Keeping != "preservative" {
			continue
		}
		if keeps == nil {
			keeps = p
		}
		if f := findForm(p.Key); f != nil && f.acid == "4-hydroxybenzoic acid" {
			parabens = p
		}
	}
	if keeps == nil {
		return nil
	}
	var out []Finding
	say := func(line string, binder, kept string, share decimal.Decimal, from, source string) {
		out = append(out, Finding{Rule: "binding", Level: Care, Subject: line, Phase: e.phaseOf(line), Says: binder + " may bind the " + kept + " to itself, so that less of it keeps the product", Figure: show(share) + " %", Limit: "from " + from + " % (own rule)", Source: source,
			Do: "have it tested for keeping, or take another preservative"})
	}
	one := decimal.New(1, 0)
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if p.Percent.LessThan(one) {
			continue
		}
		switch {
		case parabens != nil && (does(ing, "solubiliser") || does(ing, "emulsifier") && e.nonIonic(ing)):
			say(first(p), ing.Name, "parabens", p.Percent, "1", "challenge study: non-ionics inactivated methylparaben; phenoxyethanol with benzoic acid less so")
		case (does(ing, "clay") || ing.INCI == "Kaolin" || ing.INCI == "Bentonite") && p.Percent.GreaterThanOrEqual(decimal.New(5, 0)):
			say(first(p), ing.Name, "preservative", p.Percent, "5", "common practice")
		case ing.INCI == "Charcoal Powder" || ing.INCI == "Cellulose":
			say(first(p), ing.Name, "preservative", p.Percent, "1", "common practice")
		}
	}
	return out
}

func (e *evidence) nonIonic(ing *Ingredient) bool {
	for _, c := range ing.Composition {
		if s := e.k.Substances[c.INCI]; s != nil && s.Charge != "non-ionic" && s.Charge != "none" {
			return false
		}
	}
	return true
}
