package calc

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"stillroom/calc/law"
)

// WentIn is one thing that went into a batch. Only the proportions of the masses matter.
type WentIn struct {
	Ingredient, Base string
	Mass             Mass
}

// Listed is one entry of an ingredient list.
type Listed struct {
	INCI    string
	Print   string          // the name as this region prints it
	Percent decimal.Decimal // to 8 decimals
	Where   string          // "fixed", "any order" or "colour"
	// Allergen: it is named because of what a scent holds of it.
	Allergen bool
	// Memory: the name, or that it is to be named, is from memory.
	Memory bool
}

// INCIList is an ingredient list in an order that may be printed. Entries of "any order" stand by amount, which is always allowed.
type INCIList struct {
	Entries  []Listed
	Text     string // "Ingredients: Aqua, …"
	LeftOut  []string
	Findings []Finding
}

const (
	listEU = "EU 1223/2009 Art. 19(1)(g): under 1 % in any order, colourants last"
	listUS = "21 CFR 701.3(f): 1 % or less in any order, colours in any order after the rest (read at second hand)"
)

// IngredientList writes the list from what went in, for EU, UK or US. Bases and blends are taken apart and the same INCI is summed before
// ordering. Impurities that no supplier lists (listed: no) are left out and named. EU and US differ at exactly 1 %: under 1 % may go in any
// order in the EU, 1 % or less in the US. In the EU and UK the allergens that scents and extracts hold above the threshold are part of the
// list; where wash is "" that of a product that is left on counts, which names more.
func IngredientList(in []WentIn, k Known, region, wash string) (INCIList, *FieldError) {
	if region != "EU" && region != "UK" && region != "US" {
		return INCIList{}, &FieldError{Field: "region", Says: "“" + short(region) + "” is not a region known here", Want: "write EU, UK or US"}
	}
	parts, held, bare, unread, total, err := substancesOf(in, k)
	if err != nil {
		return INCIList{}, err
	}
	var out INCIList
	source := listEU
	if region == "US" {
		source = listUS
	}
	one := total.Shift(-2)
	for _, p := range parts {
		if p.Listed == "no" {
			out.LeftOut = append(out.LeftOut, p.Key)
			continue
		}
		e := Listed{INCI: p.Key, Print: p.Key, Percent: p.Percent.Shift(2).DivRound(total, 8), Where: "fixed"}
		switch c := p.Percent.Cmp(one); {
		case isColour(p.Key):
			e.Where = "colour"
		case c < 0, c == 0 && region == "US":
			e.Where = "any order"
		}
		if region == "US" {
			e.Print = nameUS(p.Key)
			e.Memory = e.Print != p.Key
			if isColour(p.Key) && e.Print == p.Key {
				out.Findings = append(out.Findings, Finding{Rule: "ingredient-list", Level: Care, Says: "the US name of " + p.Key + " is not in this book", Source: source, Do: "look up the name of the listing, and whether it is listed"})
			}
		}
		out.Entries = append(out.Entries, e)
	}
	if region != "US" {
		out.nameAllergens(held, total, region, wash)
		if len(bare) > 0 {
			out.Findings = append(out.Findings, Finding{Rule: "ingredient-list", Level: Unchecked, Says: "not checked: the allergens of " + list(bare) + "; the supplier's statement is missing", Source: listEU, Date: tableDate("allergens"), Do: "write down with the ingredient what the statement names"})
		}
		for _, ing := range unread {
			out.Findings = append(out.Findings, Finding{Rule: "ingredient-list", Level: Unchecked, Says: unreadSays(ing), Source: listEU, Date: tableDate("allergens"), Do: unreadDo})
		}
	}
	place := map[string]int{"fixed": 0, "any order": 1, "colour": 2}
	sort.SliceStable(out.Entries, func(a, b int) bool {
		x, y := &out.Entries[a], &out.Entries[b]
		if x.Where != y.Where {
			return place[x.Where] < place[y.Where]
		}
		if c := x.Percent.Cmp(y.Percent); c != 0 {
			return c > 0
		}
		return x.INCI < y.INCI
	})
	var names []string
	for _, e := range out.Entries {
		if !contains(names, e.Print) {
			names = append(names, e.Print)
		}
	}
	out.Text = "Ingredients: " + strings.Join(names, ", ")
	return out, nil
}

// nameAllergens adds what scents hold above the threshold, unless it is listed already for its own sake.
func (l *INCIList) nameAllergens(held []Part, total decimal.Decimal, region, wash string) {
	least := law.AllergenLeftOn
	if wash == "rinse-off" {
		least = law.AllergenRinsed
	}
	for _, h := range held {
		share, beside := h.Percent.Shift(2).DivRound(total, 8), -1
		for i := range l.Entries {
			if l.Entries[i].INCI == h.Key {
				beside = i
			}
		}
		if beside >= 0 || !isAllergen(h.Key, region) || !share.GreaterThan(percentOf(least)) {
			continue
		}
		e := Listed{INCI: h.Key, Print: h.Key, Percent: share, Where: "any order", Allergen: true, Memory: true}
		if !share.LessThan(decimal.New(1, 0)) {
			e.Where = "fixed"
		}
		l.Entries = append(l.Entries, e)
	}
}

// IngredientListOf writes the list of a formula as planned; what really went in decides the label.
func IngredientListOf(f Formula, k Known, region string) (INCIList, *FieldError) {
	t := Total(f.Lines)
	if len(t.Findings) > 0 {
		return INCIList{}, &FieldError{Field: "lines", Says: t.Findings[0].Says, Want: t.Findings[0].Do}
	}
	in := make([]WentIn, 0, len(t.Lines))
	for _, l := range t.Lines {
		in = append(in, WentIn{l.Ingredient, l.Base, Mass(l.Percent)})
	}
	return IngredientList(in, k, region, f.Wash)
}

// substancesOf sums what went in by substance; Percent holds exact masses here, total their sum. held is what ingredients hold beside their
// composition, bare the names of scents of which nothing is known to be held, unread the scents
// whose statement has a name that no table knows.
func substancesOf(in []WentIn, k Known) (parts, held []Part, bare []string, unread []*Ingredient, total decimal.Decimal, err *FieldError) {
	u := unpacking{k: k, done: map[string][]supplied{}, open: map[string]int{}}
	at, heldAt := map[string]int{}, map[string]int{}
	for i, w := range in {
		field := "lines[" + strconv.Itoa(i) + "]"
		if w.Mass < 0 {
			return nil, nil, nil, nil, total, &FieldError{Field: field + ".mass", Says: "less than nothing went in", Want: "write 0 or more"}
		}
		whole := []supplied{{w.Ingredient, decimal.New(100, 0)}}
		switch {
		case w.Base != "":
			if whole, err = u.base(w.Base); err != nil {
				return nil, nil, nil, nil, total, err.under(field + ".base")
			}
		case k.Ingredients[w.Ingredient] == nil:
			return nil, nil, nil, nil, total, &FieldError{Field: field + ".ingredient", Says: "“" + short(w.Ingredient) + "” is not among the ingredients known here", Want: "use a key of the given list, or describe it under ingredients"}
		}
		if w.Mass == 0 {
			continue
		}
		for _, s := range whole {
			mass := s.percent.Mul(decimal.New(int64(w.Mass), -2))
			ing := k.Ingredients[s.key]
			for _, h := range ing.Holds {
				if m := mass.Mul(decimal.New(int64(h.Percent), -6)); m.IsPositive() {
					held = gather(held, heldAt, Part{Key: h.INCI, Name: h.INCI, Percent: m}, field)
				}
			}
			if len(ing.Holds) == 0 && !does(ing, "water") && (does(ing, "scent") || ing.INCI == "Parfum") && !contains(bare, ing.Name) {
				bare = append(bare, ing.Name)
			}
			if len(ing.Unread) > 0 && !slices.Contains(unread, ing) {
				unread = append(unread, ing)
			}
			for _, c := range ing.Composition {
				m := mass.Mul(decimal.New(int64(c.Percent), -6))
				if m.IsPositive() {
					parts = gather(parts, at, Part{Key: c.INCI, Name: c.INCI, Percent: m, Listed: c.Listed}, field)
					total = total.Add(m)
				}
			}
		}
	}
	if !total.IsPositive() {
		return nil, nil, nil, nil, total, &FieldError{Field: "lines", Says: "nothing went in", Want: "write at least one mass above 0"}
	}
	return parts, held, bare, unread, total, nil
}

func isColour(inci string) bool {
	return len(inci) > 3 && strings.HasPrefix(inci, "CI ") && inci[3] >= '0' && inci[3] <= '9'
}
