package calc

import (
	"github.com/shopspring/decimal"
)

// TopUpAsk is a vessel weighed before and after heating.
type TopUpAsk struct {
	// Tare is the empty vessel, 0 when not known; it only serves to say what share was lost.
	Tare, Before, After Mass
	Step                Mass // readability of the scale
	Covered             bool
}

// ToppedUp says how much water to put back. Lost is below 0 when the vessel came out heavier.
type ToppedUp struct {
	Lost     Mass
	PutBack  Mass
	Share    decimal.Decimal // of what was in the vessel, in per cent to 0.01; 0 without a tare
	Says     string
	Findings []Finding
}

const topUpSource = "mass balance; common practice (M8): what a vessel gains in a bath is water"

// TopUp compares a vessel before and after heating. What is missing is water and is put back. A vessel that came out heavier by more than the
// scale can tell (a step at each reading) took water in (M8).
func TopUp(ask TopUpAsk) (ToppedUp, *FieldError) {
	if ask.Tare >= ask.Before || ask.Tare >= ask.After {
		return ToppedUp{}, &FieldError{Field: "tare", Says: "the vessel alone weighs as much as the vessel with what is in it", Want: "weigh the empty vessel, and write the same vessel with its content before and after"}
	}
	step := max(ask.Step, 1)
	out := ToppedUp{Lost: ask.Before - ask.After}
	if ask.Tare > 0 {
		out.Share = decimal.New(int64(out.Lost), 2).DivRound(decimal.New(int64(ask.Before-ask.Tare), 0), 2)
	}
	grams := func(m Mass) string { return m.On(step) + " g" }
	switch {
	case out.Lost >= 2*step:
		out.PutBack = out.Lost
		out.Says = grams(out.Lost) + " of water went off as steam"
		if ask.Tare > 0 {
			out.Says += " (" + out.Share.StringFixed(2) + " % of what was in it)"
		}
		out.Says += ": put back " + grams(out.PutBack) + " of hot distilled water and stir."
	case out.Lost > -2*step:
		out.Says = "Nothing to put back: the difference of " + grams(out.Lost) + " is no more than the scale can tell."
	default:
		out.Says = grams(-out.Lost) + " more is in the vessel than before: water got in. Put nothing back."
		dry, next := "dry its outside", ""
		if ask.Covered {
			dry, next = "dry its outside and its cover", "; next time fold the cover over the rim"
		}
		f := Finding{Rule: "water-got-in", Level: Care, Says: "water got in: the vessel is heavier by " + grams(-out.Lost) + " after heating", Figure: grams(ask.After), Limit: grams(ask.Before), Source: topUpSource,
			Do: dry + " and weigh again; if it is still heavier, leave the cover off in the heat until it weighs " + grams(ask.Before) + ", or write the water down and let the percentages follow" + next}
		out.Findings = append(out.Findings, f)
	}
	return out, nil
}

// ResidueAsk is a vessel that was poured out into the batch, and the grams of the whole batch, line by line.
type ResidueAsk struct {
	Tare  Mass // clean
	After Mass // poured out and scraped, with what stayed in it
	Step  Mass
	Lines []PouredLine
}

// PouredLine is what was weighed of one line; Poured tells that it was in the vessel that was poured out.
type PouredLine struct {
	ID, Name string
	Mass     Mass
	Poured   bool
}

// Residue is what stayed behind, its share of what was poured, and the true percentages of what is in the pot.
type Residue struct {
	Mass     Mass
	Share    decimal.Decimal // per cent, to 0.01
	True     []Percent       // by line, sum 100
	Says     string
	Findings []Finding
}

// ResidueLeft works out what a poured beaker kept (M3): from 1 % of what was in it a note, from 3 % take care. What stayed behind is taken to
// be of the same make as what was poured.
func ResidueLeft(ask ResidueAsk) (Residue, *FieldError) {
	if ask.After < ask.Tare {
		return Residue{}, &FieldError{Field: "residue.after", Says: "the poured vessel weighs less than when it was clean and empty", Want: "weigh the same vessel, clean and then poured out"}
	}
	out := Residue{Mass: ask.After - ask.Tare}
	var poured Mass
	for _, l := range ask.Lines {
		if l.Poured {
			poured += l.Mass
		}
	}
	if poured <= out.Mass {
		return Residue{}, &FieldError{Field: "residue.lines", Says: "no more was weighed into the vessel than stayed behind in it", Want: "name every line that was in the poured vessel"}
	}
	left := make([]decimal.Decimal, len(ask.Lines))
	n := Noted{Lines: make([]NotedShare, len(ask.Lines))}
	for i, l := range ask.Lines {
		left[i] = decimal.New(int64(l.Mass), 0)
		if l.Poured {
			left[i] = left[i].Mul(decimal.New(int64(poured-out.Mass), 0)).DivRound(decimal.New(int64(poured), 0), quotientPlaces)
		}
		n.Lines[i].Grams = left[i]
		n.Grams = n.Grams.Add(left[i])
	}
	n.share()
	for i := range n.Lines {
		out.True = append(out.True, n.Lines[i].Percent)
	}
	out.Share = decimal.New(int64(out.Mass), 2).DivRound(decimal.New(int64(poured), 0), 2)
	grams := out.Mass.On(max(ask.Step, 1)) + " g"
	out.Says = grams + " stayed behind in the poured vessel, " + out.Share.StringFixed(2) + " % of what was in it."
	exact := decimal.New(int64(out.Mass), 2).DivRound(decimal.New(int64(poured), 0), quotientPlaces)
	f := Finding{Rule: "residue", Says: grams + " of the poured phase stayed in its vessel", Figure: out.Share.StringFixed(2) + " %", Source: "mass balance, this book's own rule (M3)"}
	switch {
	case exact.GreaterThanOrEqual(decimal.New(3, 0)):
		f.Level, f.Limit, f.Do = Care, "less than 3 %", "scrape it in while it is hot; otherwise let the true percentages stand for the batch"
	case exact.GreaterThanOrEqual(decimal.New(1, 0)):
		f.Level, f.Limit, f.Do = Note, "less than 1 %", "scrape the vessel, or rinse it with a little of the hot water that is to be put back"
	default:
		return out, nil
	}
	out.Findings = []Finding{f}
	return out, nil
}
