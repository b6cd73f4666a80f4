package calc

import (
	"strings"

	"github.com/shopspring/decimal"
)

// comparePlaces: shares are held against law after rounding to 0.001 percentage point (E7), so that 0.59 % sodium benzoate, which is
// 0.5000005 % as acid, meets 0.5 %, and 0.591 % does not.
const comparePlaces = 3

// finePlaces is for limits below 0.01 %, which are stated in ppm: 0.0015 % must not be held against 0.002.
const finePlaces = 4

// ruleLimit: maxima and bans of the table of limits, summed over every source in the formula and its bases, salts counted as acid and esters
// of vitamin A as retinol.
func ruleLimit(e *evidence) []Finding {
	var out []Finding
	for _, a := range e.againstLaws(e.k.region()) {
		if a.fails {
			out = append(out, e.sayLimit(&a))
		}
	}
	return out
}

func (e *evidence) sayLimit(a *againstLaw) Finding {
	l := a.row
	f := Finding{Rule: "limit", Level: Level(l.Level), Figure: a.sum.StringFixed(a.places) + " %", Limit: showMost(l),
		Source: citeLaw(l) + "; compared after rounding to " + decimal.New(1, -a.places).String() + " %", Date: tableDate("limits"), Do: "use less of " + e.either(a.lines)}
	if len(a.lines) > 0 {
		f.Subject = a.lines[0]
		f.Phase = e.phaseOf(f.Subject)
	}
	kind := l.Scope.Says()
	if kind != "" {
		kind = " in a product " + kind
		if l.Wash != "" {
			kind = " in a product that is " + l.Scope.Says()
		}
	}
	switch {
	case a.open:
		missing := "where it is used"
		if a.washOpen {
			missing = "whether it is rinsed off or left on"
			if a.siteOpen {
				missing += ", or where it is used,"
			}
		}
		f.Level, f.Do = Unchecked, "say which it is"
		f.Says = "not checked: " + missing + " is missing; " + l.Name + " would be too much" + kind
		if l.Most < 0 {
			f.Says = "not checked: " + missing + " is missing; " + l.Name + " is not allowed" + kind
		}
	case l.Most < 0:
		f.Says = l.Name + " is not allowed" + kind
	case f.Level == Stop:
		f.Says = "more " + l.Name + " than is allowed" + kind
	default:
		f.Says = "more " + l.Name + " than experts hold right, or than its entry as a preservative allows" + kind
	}
	if len(a.lines) > 1 {
		f.Says += ", summed over " + e.nameLines(a.lines)
	}
	return f
}

// either writes the names of lines as a choice: "glycerin or sucrose".
func (e *evidence) either(ids []string) string {
	names := make([]string, 0, len(ids))
	for _, id := range ids {
		if l := e.line(id); l != nil {
			names = append(names, e.k.name(*l))
		}
	}
	return strings.Join(names, " or ")
}

// rulePrint: what law or a guideline asks to be printed of a substance.
func rulePrint(e *evidence) []Finding {
	var out []Finding
	for _, a := range e.prints(e.k.region()) {
		l := a.row
		out = append(out, Finding{Rule: "print", Level: Note, Subject: a.lines[0], Phase: e.phaseOf(a.lines[0]), Says: "print on the label: " + l.Warning, Figure: a.sum.StringFixed(a.places) + " % " + l.Name,
			Source: citeLaw(l), Date: tableDate("limits"), Do: "set it among the cautions, in the language of the place"})
	}
	return out
}

// prints are the rows of a region that ask for a warning on this product.
func (e *evidence) prints(region string) []againstLaw {
	var out []againstLaw
	for _, a := range e.againstLaws(region) {
		if !a.open && a.row.Warning != "" && a.sum.GreaterThan(decimal.New(int64(a.row.PrintFrom), -4)) && len(a.lines) > 0 {
			out = append(out, a)
		}
	}
	return out
}
