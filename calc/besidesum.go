package calc

import (
	"strings"

	"github.com/shopspring/decimal"
)

// Sum writes how a target's figure of a whole formula comes about, line by line, and ends with "= " and the figure as it is shown: "20 % betaine × 0.3 +
// 10 % glucoside × 0.52 = 11.2". cost is money for 100 g by ingredient or base, and may be nil where no cost is asked for.
func (t Target) Sum(f Formula, k Known, cost map[string]decimal.Decimal, shown string) string {
	if t.What == "hlb" {
		return sumOfHLB(&f, k, shown)
	}
	var terms []string
	for i, l := range f.Lines {
		part, err := aimPart(&f, k, t, i, cost)
		if err != nil {
			return err.Says
		}
		if part.IsZero() || l.Percent == 0 {
			continue
		}
		term := l.Percent.String() + " % " + k.name(l)
		switch {
		case t.What == "cost":
			term = l.Percent.String() + " g " + k.name(l) + " × " + part.Round(6).String()
		case !part.Equal(decimal.New(1, 0)):
			term += " × " + part.Round(6).String()
		}
		terms = append(terms, term)
	}
	if len(terms) == 0 {
		return "no line brings any = " + shown
	}
	return strings.Join(terms, " + ") + " = " + shown
}

// sumOfHLB is the mean by weight over the lines that hold oil and water together; where sources differ, the middle stands for them.
func sumOfHLB(f *Formula, k Known, shown string) string {
	var terms []string
	all := Percent(0)
	for i, l := range f.Lines {
		if h, known := lineHLB(f, k, i); known && l.Percent > 0 {
			terms, all = append(terms, l.Percent.String()+" % "+k.name(l)+" × "+h.String()), all+l.Percent
		}
	}
	if len(terms) == 0 {
		return "no line is an emulsifier whose HLB is known"
	}
	return "(" + strings.Join(terms, " + ") + ") ÷ " + all.String() + " % = " + shown
}

// sumOfWindow tells which line sets which end of the pH at which all of them keep.
func sumOfWindow(w PHWindow) string {
	switch o := overlapOf(w); {
	case len(w.Bars) == 0:
		return o.Says
	case w.Empty():
		return strings.TrimSuffix(o.Says, ".")
	}
	var bars []string
	for _, b := range w.Bars {
		bars = append(bars, b.Name+" "+showPH(b.Low)+" to "+showPH(b.High))
	}
	return strings.Join(bars, ", ") + "; the highest start is that of " + w.Bars[w.Highest].Name + ", the lowest end that of " + w.Bars[w.Lowest].Name + " = " + overlapOf(w).Text
}
