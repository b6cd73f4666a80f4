package calc

import "github.com/shopspring/decimal"

// ruleWaterActivity: sugar or salt up to what its water takes is often taken for dry enough to keep by itself, and is not (§8). The whole estimate,
// with the marks of a low-risk product, is a computation of its own.
func ruleWaterActivity(e *evidence) []Finding {
	water := e.waterIn()
	if water.IsZero() || len(e.apart.unknown) > 0 || e.err != nil || e.solutes().LessThan(water.Mul(decimal.New(5, -1))) {
		return nil // a thin solution is as wet as water, and a keystroke is not the time to work out by how little it is not
	}
	for i := range e.apart.Substances {
		if s := e.k.Substances[e.apart.Substances[i].Key]; s != nil && s.Keeping == "preservative" && e.apart.Substances[i].Percent.IsPositive() {
			return nil // what the finding asks for is there
		}
	}
	amounts, _ := e.dissolving()
	a := WaterActivityOf(water, amounts)
	if !a.Known || len(a.Saturated) == 0 {
		return nil
	}
	out := awFindings(e, a, nil, nil)[:1]
	if p := e.part(a.Saturated[0]); p != nil {
		out[0].Subject = first(p)
	}
	return out
}

// solutes is the share of all that lowers the water activity by a figure known here.
func (e *evidence) solutes() decimal.Decimal {
	sum := e.amount("Sodium Chloride")
	for i := range norrishSolutes {
		sum = sum.Add(e.amount(norrishSolutes[i].inci))
	}
	return sum
}

// dissolving are the shares of everything, by INCI, and the names of what lowers the water activity without a sound figure.
func (e *evidence) dissolving() (amounts map[string]decimal.Decimal, uncounted []string) {
	amounts, uncounted = map[string]decimal.Decimal{}, []string{}
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		amounts[p.Key] = p.Percent
		if s := e.k.Substances[p.Key]; s != nil && p.Percent.IsPositive() && (s.Does("humectant") || s.Does("solvent")) && !isSolute(p.Key) && !s.Does("water") {
			uncounted = append(uncounted, p.Key)
		}
	}
	return amounts, uncounted
}
