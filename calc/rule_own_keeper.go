package calc

import "github.com/shopspring/decimal"

// ruleOwnKeeper: a preservative that the maker wrote down is believed to be one. What nobody said of it is named, one thing at a time, since
// its name alone keeps nothing.
func ruleOwnKeeper(e *evidence) []Finding {
	var out []Finding
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !ing.Own || !does(ing, "preservative") || p.Percent.IsZero() {
			continue
		}
		missing := func(there bool, says, what string) {
			if !there {
				out = append(out, Finding{Rule: "own-keeper", Level: Unchecked, Subject: first(p), Phase: e.phaseOf(first(p)), Says: "not checked: " + says + " " + ing.Name + "; " + what + " is missing",
					Figure: show(p.Percent) + " %", Source: "this book's own rule", Do: "read it in the supplier's document, and write it with the ingredient"})
			}
		}
		missing(ing.PHKeeps != nil, "at which pH works", "that pH")
		missing(ing.Highest != nil, "how warm the product may be for", "the highest temperature")
	}
	return out
}

// ruleCountsAs: what an ingredient counts as beside what it is called (K2, M16, C1). Plastic and what comes from nuts have rules of their own.
func ruleCountsAs(e *evidence) []Finding {
	var out []Finding
	strict := e.f.Site == "eye area" || e.f.Age == "under 3"
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !p.Percent.IsPositive() {
			continue
		}
		say := func(level Level, says, limit, source, do string) {
			out = append(out, Finding{Rule: "counts-as", Level: level, Subject: first(p), Phase: e.phaseOf(first(p)), Says: says, Figure: show(p.Percent) + " %", Limit: limit, Source: source, Do: do})
		}
		if ing.Counts("plant powder") {
			limit, most := "1 %", decimal.New(1, 0)
			if strict {
				limit, most = "0.1 %", decimal.New(1, -1)
			}
			if !p.Percent.LessThan(most) {
				say(Care, "dried plants carry microbes: from "+limit+" on, "+ing.Name+" alone may bring the product to its limit", limit,
					"USP <2023>: 100,000 CFU/g in dried botanicals (read at second hand); ISO 17516: 1,000 in the product, 100 under 3 and at the eye", "take treated or tested material, and have a challenge test made")
			}
		}
		if ing.Counts("food for microbes") && !does(ing, "water") { // rule water-named says it of waters
			say(Note, ing.Name+" feeds microbes", "", "common practice", "preserve it well, and have a challenge test made")
		}
		if does(ing, "colour") && ing.Own {
			say(Unchecked, "not checked: whether "+ing.Name+" may colour this product; its CI number and where it may be used are missing", "", "EU 1223/2009 Annex IV (read at second hand)", "look it up before selling; a colourant without a listing is not for sale")
		}
	}
	return out
}
