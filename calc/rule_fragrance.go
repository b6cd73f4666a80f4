package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// scents are the supplied things that are there for their scent: essential oils and perfumes, not the flower waters.
func (e *evidence) scents(each func(p *Part, ing *Ingredient)) {
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		if ing := e.k.Ingredients[p.Key]; ing != nil && p.Percent.IsPositive() && does(ing, "scent") && !does(ing, "water") {
			each(p, ing)
		}
	}
}

// ruleFragrance holds each scent against its own supplier's certificate, and all of them together. Where the shares divided by their maxima
// sum to at most 1 no restricted material can pass its limit, whichever they have in common; above 1 it may (computed).
func ruleFragrance(e *evidence) []Finding {
	var out []Finding
	var without, with []string
	var bare *Part
	category, means := scentCategory(e.f.Wash, e.f.Site)
	used, date := decimal.Decimal{}, ""
	e.scents(func(p *Part, ing *Ingredient) {
		c := ing.Certificate
		if c == nil {
			if without = append(without, ing.Name); bare == nil {
				bare = p
			}
			return
		}
		f := Finding{Rule: "fragrance", Level: Unchecked, Subject: first(p), Phase: e.phaseOf(first(p)), Figure: show(p.Percent) + " % " + ing.Name, Source: c.String() + "; " + fragranceSource, Date: c.Dated()}
		most, known := c.Most(category)
		switch {
		case category == "":
			f.Says, f.Do = "not checked: how much of "+ing.Name+" may go in; whether it is rinsed off or left on, or where it is used, is missing", "say which it is"
		case c.Amendment != 0 && c.Amendment < 49:
			f.Says, f.Do = "not checked: the certificate of "+ing.Name+" is by amendment "+strconv.Itoa(c.Amendment)+", which sorts products into other categories", "ask the supplier for one by amendment 49 or later"
		case !known:
			f.Says, f.Do = "not checked: the maximum of "+ing.Name+" for category "+category+" is missing", "read it from the supplier's certificate"
		case p.Percent.Round(comparePlaces).GreaterThan(percentOf(most)):
			f.Level, f.Says, f.Limit, f.Do = Stop, "more "+ing.Name+" than its certificate allows in category "+category+", "+means, "at most "+most.String()+" %", "use less, or take a scent whose certificate allows it"
			fallthrough
		default:
			if most > 0 {
				used = used.Add(p.Percent.Shift(2).DivRound(percentOf(most), quotientPlaces))
			}
			with, date = append(with, ing.Name), both(c.Dated(), date)
			if f.Level == Unchecked {
				return
			}
		}
		out = append(out, f)
	})
	if len(with) > 1 && used.Round(comparePlaces).GreaterThan(decimal.New(100, 0)) {
		out = append(out, Finding{Rule: "fragrance", Level: Care, Says: list(with) + " together may pass what one restricted material is limited to: each certificate speaks of its own mixture only", Figure: used.StringFixed(1) + " % of the maxima in category " + category,
			Limit: "at most 100 %, each share divided by its own maximum", Source: "computed from the certificates: up to 100 % no material that they have in common can pass; above it may", Date: date, Do: "use less of one, or ask one supplier for a certificate of the mixture"})
	}
	if bare != nil {
		out = append(out, Finding{Rule: "fragrance", Level: Unchecked, Subject: first(bare), Phase: e.phaseOf(first(bare)), Says: "not checked: how much of " + list(without) + " may go in; the supplier's certificate, which says so, is missing", Figure: show(bare.Percent) + " % " + e.k.Ingredients[bare.Key].Name,
			Source: fragranceSource, Do: "ask for it, and write it down with the ingredient"})
	}
	return out
}
