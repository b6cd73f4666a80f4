package calc

import "github.com/shopspring/decimal"

const alkaliSource = "acid and saponification values as ranges; the low end decides"

// ruleFreeAlkali (S1): sodium or potassium hydroxide with fats makes soap; what the fats cannot take stays as free alkali, which burns. The low end of each
// fat's range decides. Below 0.1 % alkali is taken for setting the pH (own rule). Without a value nothing is worked out.
func ruleFreeAlkali(e *evidence) []Finding {
	alkali := e.anyOf("Sodium Hydroxide", "Potassium Hydroxide")
	koh := e.amount("Potassium Hydroxide").Add(e.amount("Sodium Hydroxide").Mul(decimal.New(kohMolar, 0)).DivRound(decimal.New(naohMolar, 0), 6))
	if alkali == nil || koh.LessThan(decimal.New(1, -1)) {
		return nil
	}
	low, high := decimal.Decimal{}, decimal.Decimal{}
	fats := false
	var unknown []string
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if p.Percent.IsZero() || ing.Soluble != "oil" || !does(ing, "emollient") && !does(ing, "structure") && !does(ing, "wax") {
			continue
		}
		fats = true
		known := false
		for _, c := range ing.Composition {
			if l, h, _, _, _, ok := AlkaliTaken(c.INCI, p.Percent.Mul(decimal.New(int64(c.Percent), -6))); ok {
				low, high, known = low.Add(l), high.Add(h), true
			}
		}
		if !known {
			unknown = append(unknown, ing.Name)
		}
	}
	if !fats {
		return nil
	}
	line := first(alkali)
	f := Finding{Rule: "free-alkali", Level: Stop, Subject: line, Phase: e.phaseOf(line), Figure: "alkali for " + koh.Round(2).String() + " % as potassium hydroxide", Limit: "the fats take " + low.Round(2).String() + " to " + high.Round(2).String() + " %", Source: alkaliSource}
	switch {
	case len(unknown) > 0:
		f.Says, f.Do = "not worked out: do not make it. How much lye "+list(unknown)+" can turn into soap is not known here", "ask the supplier for its saponification value, which says so"
		f.Limit = "not known"
	case koh.GreaterThan(low):
		f.Says, f.Do = "free alkali: there is more lye than these fats are sure to turn into soap, and what is left burns skin and eyes", "take less alkali, or more fat; work from the low end of the range"
	default:
		f.Level, f.Says, f.Do = Care, "this makes soap: its pH will be 9 to 10, where isethionates, benzoate and many colours do not last", "goggles and gloves; alkali into water, never water onto it; measure the pH"
	}
	return []Finding{f}
}
