package calc

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// Part is one ingredient or substance of a formula taken apart; Percent is exact.
type Part struct {
	Key     string // ingredient key, or INCI of a substance
	Name    string
	Percent decimal.Decimal
	Listed  string   // for substances: yes, no, or not known (which counts as listed)
	Lines   []string // ids of the formula's own lines that it comes from, in their order
}

// Apart is a formula taken apart: down to ingredients as supplied, for suppliers' ranges, and to substances, for law and labels.
type Apart struct {
	Supplied   []Part
	Substances []Part
	// unknown are the own lines that could not be taken apart.
	unknown []string
}

// deepest is how many bases may stand inside one another. Exact decimals grow with every level; nobody's bench comes near.
const deepest = 200

// TakeApart expands bases in bases, down to ingredients as supplied and to substances. The formula and each base must sum to exactly 100,
// and everything that they name must be known; a base that contains itself is refused with the path that leads back to it.
func TakeApart(f Formula, k Known) (Apart, *FieldError) {
	t := Total(f.Lines)
	if len(t.Findings) > 0 {
		return Apart{}, &FieldError{Field: "lines", Says: t.Findings[0].Says, Want: t.Findings[0].Do}
	}
	f.Lines = t.Lines
	for i, l := range f.Lines {
		if l.Base == "" && k.Ingredients[l.Ingredient] == nil {
			return Apart{}, (&FieldError{Field: "ingredient", Says: "“" + short(l.Ingredient) + "” is not among the ingredients known here", Want: "use a key of the given list, or describe it under ingredients"}).under("lines[" + strconv.Itoa(i) + "]")
		}
	}
	a, err := takeApart(&f, k)
	return a, err
}

// supplied is one ingredient's exact share in a formula or base.
type supplied struct {
	key     string
	percent decimal.Decimal
}

// unpacking remembers each base once it is taken apart, so that a base used in a thousand places costs once.
type unpacking struct {
	k    Known
	done map[string][]supplied
	path []string // names of the bases that are open, outermost first
	open map[string]int
}

// takeApart does the work for whole and for half-written formulas alike: a line that cannot be read yet is left out and remembered.
func takeApart(f *Formula, k Known) (Apart, *FieldError) {
	u := unpacking{k: k, done: map[string][]supplied{}, open: map[string]int{}}
	if f.Key != "" {
		u.open[f.Key], u.path = 0, append(u.path, called(f.Name, f.Key))
	}
	var a Apart
	at := make(map[string]int, len(f.Lines))
	sub := make(map[string]int, 2*len(f.Lines))
	for i := range f.Lines {
		l := &f.Lines[i]
		var in []supplied
		if l.Base != "" {
			got, err := u.base(l.Base)
			if err != nil {
				return a, err.under("lines[" + strconv.Itoa(i) + "].base")
			}
			in = got
		} else if k.Ingredients[l.Ingredient] != nil {
			in = []supplied{{l.Ingredient, decimal.New(int64(Hundred), -4)}}
		}
		if in == nil && l.Ingredient == "" && l.Percent == 0 && !l.QS {
			continue // a line in which nothing stands yet holds nothing back
		}
		if in == nil {
			a.unknown = append(a.unknown, l.ID)
			continue
		}
		share := decimal.New(int64(l.Percent), -6)
		for _, s := range in {
			ing := k.Ingredients[s.key]
			percent := s.percent.Mul(share)
			a.Supplied = gather(a.Supplied, at, Part{Key: s.key, Name: ing.Name, Percent: percent}, l.ID)
			for _, c := range ing.Composition {
				a.Substances = gather(a.Substances, sub, Part{Key: c.INCI, Name: c.INCI, Percent: percent.Mul(decimal.New(int64(c.Percent), -6)), Listed: c.Listed}, l.ID)
			}
		}
	}
	return a, nil
}

// gather adds a part to the list in order of first appearance.
func gather(list []Part, at map[string]int, p Part, line string) []Part {
	i, seen := at[p.Key]
	if !seen {
		at[p.Key] = len(list)
		p.Lines = []string{line}
		return append(list, p)
	}
	g := &list[i]
	g.Percent = g.Percent.Add(p.Percent)
	if g.Lines[len(g.Lines)-1] != line {
		g.Lines = append(g.Lines, line)
	}
	if p.Listed != "no" && g.Listed == "no" { // listed from one source is listed
		g.Listed = p.Listed
	}
	return list
}

// base takes a base apart into its ingredients as supplied, in per cent of the base.
func (u *unpacking) base(key string) ([]supplied, *FieldError) {
	if got, ok := u.done[key]; ok {
		return got, nil
	}
	b := u.k.Bases[key]
	if b == nil {
		return nil, &FieldError{Says: "the base “" + short(key) + "” is not known here", Want: "describe it under bases, or take the line out"}
	}
	name := called(b.Name, key)
	if from, open := u.open[key]; open {
		return nil, &FieldError{Says: "a base cannot contain itself: " + strings.Join(append(u.path[from:len(u.path):len(u.path)], name), " → "), Want: "take one of these out of the other"}
	}
	if len(u.path) >= deepest {
		return nil, &FieldError{Says: "more than " + strconv.Itoa(deepest) + " bases stand inside one another", Want: "take some of them apart"}
	}
	u.open[key], u.path = len(u.path), append(u.path, name)
	defer func() { delete(u.open, key); u.path = u.path[:len(u.path)-1] }()

	t := Total(b.Lines)
	if len(t.Findings) > 0 {
		return nil, &FieldError{Says: "in the base " + name + " " + t.Findings[0].Says, Want: "mend the base first"}
	}
	out := []supplied{}
	at := map[string]int{}
	add := func(s supplied) {
		if i, seen := at[s.key]; seen {
			out[i].percent = out[i].percent.Add(s.percent)
			return
		}
		at[s.key] = len(out)
		out = append(out, s)
	}
	for i := range t.Lines {
		l := &t.Lines[i]
		if l.Base != "" {
			in, err := u.base(l.Base)
			if err != nil {
				return nil, err
			}
			share := decimal.New(int64(l.Percent), -6)
			for _, s := range in {
				add(supplied{s.key, s.percent.Mul(share)})
			}
			continue
		}
		if u.k.Ingredients[l.Ingredient] == nil {
			return nil, &FieldError{Says: "in the base " + name + " “" + short(l.Ingredient) + "” is not among the ingredients known here", Want: "describe it under ingredients"}
		}
		add(supplied{l.Ingredient, decimal.New(int64(l.Percent), -4)})
	}
	u.done[key] = out
	return out, nil
}

func called(name, key string) string {
	if name = short(name); name != "" {
		return name
	}
	return short(key)
}
