package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// Swapped is a formula before and after one ingredient was exchanged; what was held is equal before and after, to the grid of 0.0001 % of the line.
type Swapped struct {
	Before, After         Formula
	Hold                  string
	HeldBefore, HeldAfter decimal.Decimal // per cent of the formula
	WaterLine             string          // took the difference, "" when there was none
	Findings              []Finding
}

// heldShare is how much of an ingredient is what a swap holds, in per cent: its whole mass, its surfactants ("active matter"), its oil, or the
// substances that do a function; where it does that function and no substance says so, all of it but the water.
func heldShare(ing *Ingredient, hold string, k Known) Percent {
	var sum, dry Percent
	for _, c := range ing.Composition {
		s := k.Substances[c.INCI]
		if s == nil || !s.Does("water") {
			dry += c.Percent
		}
		if s != nil && (hold == "active matter" && s.Does("surfactant") || s.Does(hold)) {
			sum += c.Percent
		}
	}
	switch {
	case hold == "mass":
		return Hundred
	case hold == "oil" && ing.Soluble == "oil":
		return dry
	case sum == 0 && does(ing, hold):
		return dry
	}
	return sum
}

// Swap exchanges one line's ingredient for another, and sets its share so that what is held stays: "active matter", "oil", "mass" or a function such
// as "humectant". Water takes the difference: the q.s. line, or else the line with the most water. A base, or the q.s. line itself, is not swapped.
func Swap(f Formula, k Known, line, by, hold string) (Swapped, *FieldError) {
	if hold == "" {
		hold = "mass"
	}
	t := Total(f.Lines)
	if len(t.Findings) > 0 {
		return Swapped{}, &FieldError{Field: "formula.lines", Says: t.Findings[0].Says, Want: t.Findings[0].Do}
	}
	f.Lines = t.Lines
	at, water := -1, -1
	for i := range f.Lines {
		l := &f.Lines[i]
		if l.ID == line {
			at = i
		}
		ing := k.Ingredients[l.Ingredient]
		if l.ID != line && (l.QS || ing != nil && l.Base == "" && does(ing, "water") && (water < 0 || !f.Lines[water].QS && l.Percent > f.Lines[water].Percent)) {
			water = i
		}
	}
	into := k.Ingredients[by]
	switch {
	case at < 0:
		return Swapped{}, &FieldError{Field: "line", Says: "there is no line “" + short(line) + "”", Want: "the id of a line of the formula"}
	case f.Lines[at].Base != "" || k.Ingredients[f.Lines[at].Ingredient] == nil:
		return Swapped{}, &FieldError{Field: "line", Says: "only a line with a known ingredient can be swapped", Want: "open the base as a formula of its own and swap there"}
	case f.Lines[at].QS:
		return Swapped{}, &FieldError{Field: "line", Says: "the q.s. line takes what is left, so nothing of it can be held", Want: "make another line q.s. first"}
	case into == nil:
		return Swapped{}, &FieldError{Field: "by", Says: "“" + short(by) + "” is not among the ingredients known here", Want: "use a key of the given list, or describe it under ingredients"}
	}
	out := k.Ingredients[f.Lines[at].Ingredient]
	had, has := heldShare(out, hold, k), heldShare(into, hold, k)
	if had == 0 || has == 0 {
		without := out.Name
		if had != 0 {
			without = into.Name
		}
		return Swapped{}, &FieldError{Field: "hold", Says: without + " holds no " + short(hold), Want: "hold something that both have, such as mass, active matter, oil or humectant"}
	}
	s := Swapped{Before: f, After: f, Hold: hold}
	s.After.Lines = append([]Line(nil), f.Lines...)
	l := &s.After.Lines[at]
	exact := decimal.New(int64(l.Percent), 0).Mul(decimal.New(int64(had), 0))
	l.Ingredient, l.Compatible = by, false
	share := exact.DivRound(decimal.New(int64(has), 0), 0)
	if share.GreaterThan(decimal.New(int64(Hundred), 0)) {
		return Swapped{}, &FieldError{Field: "by", Says: "it would take more than a full jar of " + into.Name, Want: "take a stronger one, or hold less"}
	}
	l.Percent = Percent(share.IntPart())
	difference := f.Lines[at].Percent - l.Percent
	held := func(p, of Percent) decimal.Decimal { return decimal.New(int64(p), -4).Mul(decimal.New(int64(of), -6)) }
	s.HeldBefore, s.HeldAfter = held(f.Lines[at].Percent, had), held(l.Percent, has)
	switch {
	case difference == 0:
	case water < 0:
		return Swapped{}, &FieldError{Field: "formula.lines", Says: "the share changes by " + (-difference).String() + " % and no line of water or q.s. takes the difference", Want: "add one, or hold the mass"}
	case s.After.Lines[water].Percent+difference < 0:
		return Swapped{}, &FieldError{Field: "by", Says: "it needs " + (-difference).String() + " % more room, and only " + s.After.Lines[water].Percent.String() + " % of water is there", Want: "take a stronger one, or make room first"}
	default:
		s.After.Lines[water].Percent += difference
		s.WaterLine = s.After.Lines[water].ID
	}
	s.Findings = s.news(k)
	return s, nil
}

// news are the findings that the swap brings, and a note of how many it takes away.
func (s *Swapped) news(k Known) []Finding {
	before, after := judge(&s.Before, k, 0, weighed{}), judge(&s.After, k, 0, weighed{})
	out, gone := FindingsBeside(before, after)
	if len(gone) > 0 {
		out = append(out, Finding{Rule: "swap", Level: Note, Says: "some findings of the formula before are gone", Figure: strconv.Itoa(len(gone)), Source: "this book's own rules"})
	}
	return append(out, Finding{Rule: "swap", Level: Note, Says: "feel, colour, scent and keeping are not among what is held", Source: "common practice", Do: "make 100 g and compare it with the one before, at the same age"})
}
