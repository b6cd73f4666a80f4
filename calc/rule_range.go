package calc

import "github.com/shopspring/decimal"

// ruleRange: a supplier's range counts the ingredient as supplied over the formula and its bases (E11): a base preserved at 1.00 % and
// used at half gives 0.50 %. Too little preservative beside water is a stop (K8); above a supplier's maximum is a stop; other lines
// outside their usual range are worth knowing.
func ruleRange(e *evidence) []Finding {
	var out []Finding
	water := e.waterIn()
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if p.Percent.IsZero() {
			continue
		}
		line := first(p)
		figure := p.Percent.Round(comparePlaces)
		keeps := does(ing, "preservative")
		base := Finding{Rule: "range", Subject: line, Phase: e.phaseOf(line), Figure: show(p.Percent) + " %"}
		if ing.Maximum != nil && figure.GreaterThan(decimal.New(int64(ing.Maximum.Percent), -4)) {
			f := base
			f.Level, f.Says, f.Limit, f.Source, f.Date = Stop, ing.Name+" is above its maximum", "at most "+ing.Maximum.Percent.String()+" %", ing.Maximum.Cite.String(), ing.Maximum.Dated()
			f.Do = "use less; your supplier's own document decides"
			out = append(out, f)
			continue
		}
		if ing.Usual == nil {
			if keeps {
				f := base
				f.Level, f.Says, f.Source = Unchecked, "not checked: the supplier's range for "+ing.Name+" is missing", "this book's own rule"
				out = append(out, f)
			}
			continue
		}
		low, high := decimal.New(int64(ing.Usual.Low), -4), decimal.New(int64(ing.Usual.High), -4)
		f := base
		f.Limit = ing.Usual.Low.String() + " to " + ing.Usual.High.String() + " %"
		f.Source, f.Date = ing.Usual.Cite.String(), ing.Usual.Dated()
		switch {
		case figure.LessThan(low) && keeps && water.IsPositive():
			f.Level, f.Says, f.Do = Stop, "too little "+ing.Name+" to keep a product with water in it", "raise it into its range"
			for _, id := range p.Lines {
				if l := e.line(id); l != nil && l.Base != "" {
					f.Says += "; the formula around a base dilutes what the base brings"
					break
				}
			}
		case figure.LessThan(low) && keeps, figure.GreaterThan(high) && keeps:
			f.Level, f.Says, f.Do = Care, ing.Name+" is outside its range of use", "look at your supplier's document"
		case figure.LessThan(low), figure.GreaterThan(high):
			f.Level, f.Says, f.Do = Note, ing.Name+" is outside its usual range", "right if you mean it"
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}

func does(ing *Ingredient, function string) bool { return contains(ing.Functions, function) }
