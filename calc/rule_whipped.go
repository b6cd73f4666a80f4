package calc

import "github.com/shopspring/decimal"

// ruleFreeOil (M9): free oils and butters in a whipped surfactant base cost air.
func ruleFreeOil(e *evidence) []Finding {
	whipped := false
	for _, p := range e.f.Phases {
		whipped = whipped || p.Treatment.Do == "whip"
	}
	if total, _ := e.active(); !whipped || !total.IsPositive() {
		return nil
	}
	sum, wax := decimal.Decimal{}, false
	line := ""
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		switch {
		case p.Percent.IsZero() || ing.Soluble != "oil":
		case does(ing, "emollient"):
			sum = sum.Add(p.Percent)
			if line == "" {
				line = first(p)
			}
		case does(ing, "emulsifier"):
			wax = true
		}
	}
	if !sum.IsPositive() || !wax && !sum.GreaterThan(decimal.New(5, 0)) {
		return nil
	}
	return []Finding{{Rule: "free-oil", Level: Note, Subject: line, Phase: e.phaseOf(line), Says: "with free oil: denser, less air, less foam; expect a firm paste", Figure: show(sum) + " % free oil", Limit: "about 5 %, any with wax",
		Source: "common practice", Do: "right if you mean it"}}
}

// ruleFirmer (M11): stearic acid and fatty alcohols go on setting for a day or two.
func ruleFirmer(e *evidence) []Finding {
	sum, line := decimal.Decimal{}, ""
	for _, inci := range []string{"Stearic Acid", "Palmitic Acid", "Cetearyl Alcohol", "Cetyl Alcohol", "Stearyl Alcohol"} {
		if p := e.part(inci); p != nil && p.Percent.IsPositive() {
			sum = sum.Add(p.Percent)
			if line == "" {
				line = first(p)
			}
		}
	}
	if sum.LessThan(decimal.New(3, 0)) {
		return nil
	}
	return []Finding{{Rule: "firmer", Level: Note, Subject: line, Phase: e.phaseOf(line), Says: "it grows firmer for 12 to 48 hours: judge it tomorrow", Figure: show(sum) + " % that sets", Limit: "from 3 % (own rule)", Source: "common practice"}}
}
