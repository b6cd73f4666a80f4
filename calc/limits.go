package calc

import (
	"github.com/shopspring/decimal"

	"stillroom/calc/law"
)

// lawDate is shown with every limit: law changes, and these tables do not change by themselves.
const lawDate = "as read for this edition; law changes, so look it up before selling"

// lawFor lists the limits that name a substance, in the order of the table.
var lawFor = func() map[string][]*law.Limit {
	m := map[string][]*law.Limit{}
	for i := range law.Limits {
		for _, inci := range law.Limits[i].Substances {
			m[inci] = append(m[inci], &law.Limits[i])
		}
	}
	return m
}()

// retinols are molar masses in mg/mol, IUPAC atomic masses: esters are counted as retinol (Reg. (EU) 2024/996; computed).
var retinols = map[string]int64{"Retinol": 286_459, "Retinyl Acetate": 328_496, "Retinyl Palmitate": 524_873}

// counted gives the share that law counts of a substance.
func counted(l *law.Limit, inci string, share decimal.Decimal) decimal.Decimal {
	switch m := retinols[inci]; {
	case l.Counted == "acid":
		return AsAcid(inci, share)
	case l.Counted == "retinol" && m != 0:
		return share.Mul(decimal.New(retinols["Retinol"], 0)).DivRound(decimal.New(m, 0), 12)
	}
	return share
}

// region is whose law is applied; the EU's when none was said.
func (k Known) region() string {
	if k.Region == "" {
		return "EU"
	}
	return k.Region
}

// inside is what law counts of a substance over every source: its share of the composition, and what scents and extracts hold of it.
func (e *evidence) inside(inci string) (share decimal.Decimal, lines []string) {
	if p := e.part(inci); p != nil {
		share, lines = p.Percent, p.Lines
	}
	if h := e.held[inci]; h != nil {
		share = share.Add(h.Percent)
		for _, id := range h.Lines {
			if !contains(lines, id) {
				lines = append(lines[:len(lines):len(lines)], id)
			}
		}
	}
	return share, lines
}

// holding sums what the ingredients hold beside their composition.
func (e *evidence) holding() {
	e.held = map[string]*Part{}
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil {
			continue
		}
		for _, s := range ing.Holds {
			h := e.held[s.INCI]
			if h == nil {
				h = &Part{Key: s.INCI, Name: s.INCI}
				e.held[s.INCI] = h
			}
			h.Percent = h.Percent.Add(p.Percent.Mul(decimal.New(int64(s.Percent), -6)))
			for _, id := range p.Lines {
				if !contains(h.Lines, id) {
					h.Lines = append(h.Lines, id)
				}
			}
		}
	}
}

// present lists every substance above nothing, of the composition first, then what is only held by scents.
func (e *evidence) present() []string {
	var out []string
	for i := range e.apart.Substances {
		if p := &e.apart.Substances[i]; p.Percent.IsPositive() {
			out = append(out, p.Key)
		}
	}
	for i := range e.apart.Supplied {
		if ing := e.k.Ingredients[e.apart.Supplied[i].Key]; ing != nil && e.apart.Supplied[i].Percent.IsPositive() {
			for _, s := range ing.Holds {
				if !contains(out, s.INCI) {
					out = append(out, s.INCI)
				}
			}
		}
	}
	return out
}

// kinds are the products that a formula may be for: what was said, else every possibility.
func (f *Formula) kinds() (washes, sites []string) {
	washes, sites = []string{f.Wash}, []string{f.Site}
	if f.Wash == "" {
		washes = []string{"rinse-off", "leave-on"}
	}
	if f.Site == "" {
		sites = Sites()
	}
	return washes, sites
}

// againstLaw is one name of the table of limits against one formula.
type againstLaw struct {
	row *law.Limit // the row that applies; when open, the first row that would fail
	// sum is what law counts, rounded as it is compared; lines are where it comes from.
	sum    decimal.Decimal
	places int32
	lines  []string
	fails  bool
	// open: whether it fails depends on what was not said of the product.
	open, washOpen, siteOpen bool
}

// againstLaws holds a formula against the limits of one region, one answer for each name of the table that has something in it.
func (e *evidence) againstLaws(region string) []againstLaw {
	var out []againstLaw
	var seen []string
	for _, inci := range e.present() {
		for _, l := range lawFor[inci] {
			if l.In(region) && !contains(seen, l.Name) {
				seen = append(seen, l.Name)
				if a, applies := e.againstLaw(region, l.Name, lawFor[inci]); applies {
					out = append(out, a)
				}
			}
		}
	}
	return out
}

// againstLaw holds a formula against the rows of one name. Where the kind of product was not said, every kind is tried.
func (e *evidence) againstLaw(region, name string, rows []*law.Limit) (a againstLaw, applies bool) {
	var mine []*law.Limit
	fine := true
	for _, l := range rows {
		if l.Name == name && l.In(region) {
			mine = append(mine, l)
			fine = fine && l.Most < OnePercent/100
		}
	}
	a.places = comparePlaces
	if fine {
		a.places = finePlaces
	}
	for _, inci := range mine[0].Substances {
		share, lines := e.inside(inci)
		if !share.IsPositive() {
			continue
		}
		a.sum = a.sum.Add(counted(mine[0], inci, share))
		for _, id := range lines {
			if !contains(a.lines, id) {
				a.lines = append(a.lines, id)
			}
		}
	}
	a.sum = a.sum.Round(a.places)
	washes, sites := e.f.kinds()
	passes := false
	for _, wash := range washes {
		for _, site := range sites {
			met := false
			for _, l := range mine {
				if !l.Meets(wash, site, e.f.Age) {
					continue
				}
				met, applies = true, true
				if !passedBy(l, a.sum) {
					passes = true
					if a.row == nil {
						a.row = l
					}
					continue
				}
				a.washOpen, a.siteOpen = a.washOpen || l.Wash != "" && e.f.Wash == "", a.siteOpen || len(l.Sites) > 0 && e.f.Site == ""
				if !a.fails || l.Most > a.row.Most {
					a.row = l
				}
				a.fails = true
			}
			passes = passes || !met
		}
	}
	a.open = a.fails && passes
	return a, applies
}

// passedBy tells whether a share is above a limit.
func passedBy(l *law.Limit, sum decimal.Decimal) bool {
	switch l.Most {
	case law.Free:
		return false
	case law.Banned:
		return sum.IsPositive()
	}
	return sum.GreaterThan(decimal.New(int64(l.Most), -4))
}

func citeLaw(l *law.Limit) string {
	since := ""
	if l.Since != "-" {
		since = "from " + l.Since + "; "
	}
	return l.Entry + ": " + l.Cite.String() + "; " + since + lawDate
}

// showMost writes a limit: "0.50 %", "not allowed", "no maximum".
func showMost(l *law.Limit) string {
	switch l.Most {
	case law.Free:
		return "no maximum"
	case law.Banned:
		return "not allowed"
	}
	return l.Most.String() + " %"
}

// legalMaximum is the most of an ingredient as supplied that one line may be without passing a limit by itself; ok is false without one.
// It is exact, without the tolerance of the comparison: rounding on a scale must not use that up. Where the kind of product was not said
// the lowest counts.
func legalMaximum(ing *Ingredient, f *Formula, region string) (most Percent, ok bool) {
	washes, sites := f.kinds()
	for _, c := range ing.Composition {
		for _, l := range lawFor[c.INCI] {
			if l.Most < 0 || c.Percent <= 0 || l.Level != string(Stop) || !l.In(region) || !meetsAny(l, washes, sites, f.Age) {
				continue
			}
			unit := counted(l, c.INCI, decimal.New(int64(c.Percent), -6))
			m := Percent(decimal.New(int64(l.Most), 0).Div(unit).IntPart())
			if !ok || m < most {
				most, ok = m, true
			}
		}
	}
	return most, ok
}

func meetsAny(l *law.Limit, washes, sites []string, age string) bool {
	for _, wash := range washes {
		for _, site := range sites {
			if l.Meets(wash, site, age) {
				return true
			}
		}
	}
	return false
}
