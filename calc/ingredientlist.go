package calc

import (
	"sort"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
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
// order in the EU, 1 % or less in the US.
func IngredientList(in []WentIn, k Known, region string) (INCIList, *FieldError) {
	if region != "EU" && region != "UK" && region != "US" {
		return INCIList{}, &FieldError{Field: "region", Says: "“" + short(region) + "” is not a region known here", Want: "write EU, UK or US"}
	}
	parts, total, err := substancesOf(in, k)
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
			if isColour(p.Key) && e.Print == p.Key {
				out.Findings = append(out.Findings, Finding{Rule: "ingredient-list", Level: Care, Says: "the US name of " + p.Key + " is not in this book", Source: source, Do: "look up the name of the listing, and whether it is listed"})
			}
		}
		out.Entries = append(out.Entries, e)
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
	for _, e := range out.Entries {
		if region != "US" && (e.INCI == "Parfum" || strings.HasSuffix(e.INCI, " Oil") && strings.Contains(e.INCI, "Leaf")) {
			out.Findings = append(out.Findings, Finding{Rule: "ingredient-list", Level: Unchecked, Says: "not checked: allergens of the scent; the supplier's statement is missing", Figure: show(e.Percent) + " % " + e.Print, Source: listEU, Do: "add the allergens that the statement names"})
			break
		}
	}
	return out, nil
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
	return IngredientList(in, k, region)
}

// substancesOf sums what went in by substance; Percent holds exact masses here, total their sum.
func substancesOf(in []WentIn, k Known) (parts []Part, total decimal.Decimal, err *FieldError) {
	u := unpacking{k: k, done: map[string][]supplied{}, open: map[string]int{}}
	at := map[string]int{}
	for i, w := range in {
		field := "lines[" + strconv.Itoa(i) + "]"
		if w.Mass < 0 {
			return nil, total, &FieldError{Field: field + ".mass", Says: "less than nothing went in", Want: "write 0 or more"}
		}
		whole := []supplied{{w.Ingredient, decimal.New(100, 0)}}
		switch {
		case w.Base != "":
			if whole, err = u.base(w.Base); err != nil {
				return nil, total, err.under(field + ".base")
			}
		case k.Ingredients[w.Ingredient] == nil:
			return nil, total, &FieldError{Field: field + ".ingredient", Says: "“" + short(w.Ingredient) + "” is not among the ingredients known here", Want: "use a key of the given list, or describe it under ingredients"}
		}
		if w.Mass == 0 {
			continue
		}
		for _, s := range whole {
			mass := s.percent.Mul(decimal.New(int64(w.Mass), -2))
			for _, c := range k.Ingredients[s.key].Composition {
				m := mass.Mul(decimal.New(int64(c.Percent), -6))
				if m.IsPositive() {
					parts = gather(parts, at, Part{Key: c.INCI, Name: c.INCI, Percent: m, Listed: c.Listed}, field)
					total = total.Add(m)
				}
			}
		}
	}
	if !total.IsPositive() {
		return nil, total, &FieldError{Field: "lines", Says: "nothing went in", Want: "write at least one mass above 0"}
	}
	return parts, total, nil
}

func isColour(inci string) bool {
	return len(inci) > 3 && strings.HasPrefix(inci, "CI ") && inci[3] >= '0' && inci[3] <= '9'
}
