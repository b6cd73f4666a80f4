package calc

import (
	"github.com/shopspring/decimal"

	"stillroom/calc/law"
	"stillroom/calc/matter"
)

const allergenSource = "EU 1223/2009 Annex III: above 0.001 % left on, 0.01 % rinsed off (read); Reg. (EU) 2023/1545 for the 80"

// scented is one allergen of the product, summed over every scent, oil, extract and its own lines.
type scented struct {
	inci  string
	share decimal.Decimal
	lines []string
	// named: it is above the threshold; open: whether it is rinsed off or left on was not said and it makes the difference.
	named, open bool
}

// allergensIn sums the allergens of a region's list.
func (e *evidence) allergensIn(region string) []scented {
	least := law.AllergenRinsed
	if e.f.Wash == "leave-on" {
		least = law.AllergenLeftOn
	}
	var out []scented
	for i := range law.Allergens {
		a := &law.Allergens[i]
		share, lines := e.inside(a.INCI)
		if !contains(a.Regions, region) || !share.IsPositive() {
			continue
		}
		s := scented{inci: a.INCI, share: share, lines: lines, named: share.GreaterThan(percentOf(least))}
		s.open = e.f.Wash == "" && !s.named && share.GreaterThan(percentOf(law.AllergenLeftOn))
		out = append(out, s)
	}
	return out
}

// ruleAllergens: what a label names beside "parfum". What a supplier's statement would tell is not guessed.
func ruleAllergens(e *evidence) []Finding {
	if e.k.region() == "US" {
		return nil
	}
	var out []Finding
	for _, s := range e.allergensIn(e.k.region()) {
		f := Finding{Rule: "allergens", Level: Note, Subject: s.lines[0], Phase: e.phaseOf(s.lines[0]), Says: "name it in the list of ingredients: " + s.inci + ", to which some people are allergic", Figure: few4(s.share) + " % " + s.inci + e.summed(s.lines), Limit: "0.01 % rinsed off, 0.001 % left on",
			Source: allergenSource + "; " + lawDate, Date: tableDate("allergens"), Do: "the certificate of your own lot gives the true share"}
		if from := e.certifies(s.lines); from != nil {
			f.Do, f.Date = "as the supplier's certificate says", tableDate("allergens")+"; "+from.Dated()
		}
		if s.open {
			f.Level, f.Says = Unchecked, "not checked: whether it is rinsed off or left on is missing; "+s.inci+" is named in one that is left on"
		} else if !s.named {
			continue
		}
		out = append(out, f)
	}
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing != nil && p.Percent.IsPositive() && len(ing.Unread) > 0 {
			out = append(out, Finding{Rule: "allergens", Level: Unchecked, Subject: first(p), Phase: e.phaseOf(first(p)), Says: unreadSays(ing), Figure: show(p.Percent) + " % " + ing.Name,
				Source: allergenSource, Date: tableDate("allergens"), Do: unreadDo})
		}
		if ing != nil && p.Percent.IsPositive() && does(ing, "scent") && !does(ing, "water") && len(ing.Holds) == 0 {
			out = append(out, Finding{Rule: "allergens", Level: Unchecked, Subject: first(p), Phase: e.phaseOf(first(p)), Says: "not checked: the allergens of " + ing.Name + " are missing", Figure: show(p.Percent) + " % " + ing.Name,
				Source: allergenSource, Date: tableDate("allergens"), Do: "ask the supplier for the allergen statement and name what it names"})
		}
	}
	return out
}

// summed says where a share comes from when it is from several lines.
func (e *evidence) summed(lines []string) string {
	if len(lines) < 2 {
		return ""
	}
	return " from " + e.nameLines(lines)
}

// certifies is the certificate that one of these lines is known by, nil when none is.
func (e *evidence) certifies(lines []string) *matter.Certificate {
	for _, id := range lines {
		if ing := e.ingredient(e.line(id)); ing != nil && ing.Certificate != nil {
			return ing.Certificate
		}
	}
	return nil
}

// few4 writes a share to four decimals at most.
func few4(d decimal.Decimal) string { return d.Round(4).String() }
