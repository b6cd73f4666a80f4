package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// CostPart is one part of what a batch cost: an ingredient, packaging, labour or overhead. Amount is exact, in units of money.
type CostPart struct {
	Name   string
	Kind   string // ingredient, packaging, labour, overhead
	Amount decimal.Decimal
}

// CostAsk is what a batch cost and what it is to be sold for.
type CostAsk struct {
	Parts      []CostPart
	Made, Sold int   // jars; Sold 0 when not known yet
	Places     int32 // decimals of the money, 2 for cents
	// Margin is a share of the price, Markup a share of the cost; at most one of them.
	Margin, Markup *Percent
	// Fee is what the stall costs for the day, Price what a jar is sold for; nil when not given.
	Fee, Price *decimal.Decimal
}

// CostRow is one part, rounded so that the rows sum to the rounded total.
type CostRow struct {
	CostPart
	Rounded decimal.Decimal
}

// Costed is the cost of a batch. PerSold carries jars that were lost as well; it is zero while nothing is sold.
type Costed struct {
	Rows             []CostRow
	Total            decimal.Decimal // rounded to the money's places; Exact is not
	Exact            decimal.Decimal
	PerMade, PerSold decimal.Decimal // to 5 decimals
	Suggested        decimal.Decimal // from margin or mark-up, rounded up; zero without
	Margin, Markup   decimal.Decimal // of Price, in per cent to 0.01; zero without
	BreakEven        int             // jars that pay for the stall; 0 without fee and price, or when never
	WithStall        decimal.Decimal // per jar sold, the stall's fee shared out, to 5 decimals
	Says             string
	Findings         []Finding
}

const costSource = "arithmetic of cost: margin = (price − cost) ÷ price, mark-up = (price − cost) ÷ cost"

// Cost sums what a batch cost and says what a jar costs, made and sold, what it must be sold for, and how many pay for a stall.
func Cost(ask CostAsk) (Costed, *FieldError) {
	var out Costed
	switch {
	case ask.Made <= 0:
		return out, &FieldError{Field: "jarsMade", Says: "no jar was made", Want: "write how many jars the batch filled"}
	case ask.Sold > ask.Made:
		return out, &FieldError{Field: "jarsSold", Says: "more jars were sold than made", Want: "write at most " + strconv.Itoa(ask.Made)}
	case ask.Margin != nil && ask.Markup != nil:
		return out, &FieldError{Field: "markup", Says: "a margin and a mark-up at once", Want: "write one of them: a mark-up of 50 % is a margin of 33.33 %"}
	case ask.Margin != nil && *ask.Margin >= Hundred:
		return out, &FieldError{Field: "margin", Says: "a margin of 100 % would mean that the jar costs nothing", Want: "write less than 100"}
	}
	before := decimal.Decimal{}
	labour := false
	for _, p := range ask.Parts {
		out.Exact = out.Exact.Add(p.Amount)
		sum := out.Exact.Round(ask.Places)
		out.Rows = append(out.Rows, CostRow{p, sum.Sub(before)})
		before = sum
		labour = labour || p.Kind == "labour"
	}
	out.Total = before
	jars := func(n int) decimal.Decimal { return decimal.New(int64(n), 0) }
	out.PerMade = out.Exact.DivRound(jars(ask.Made), 5)
	money := func(d decimal.Decimal) string { return d.StringFixed(ask.Places) }
	out.Says = "The batch cost " + money(out.Total) + ": " + out.PerMade.StringFixed(ask.Places+1) + " for each of " + strconv.Itoa(ask.Made) + " jars made"
	n := ask.Made
	if ask.Sold > 0 {
		n = ask.Sold
		out.PerSold = out.Exact.DivRound(jars(n), 5)
		out.Says += ", " + out.PerSold.StringFixed(ask.Places+1) + " for each of " + strconv.Itoa(n) + " sold"
	}
	out.Says += "."
	up := func(top, bottom decimal.Decimal) decimal.Decimal {
		return top.DivRound(bottom, quotientPlaces).Round(12).RoundCeil(ask.Places)
	}
	whole := decimal.New(int64(Hundred), 0)
	switch {
	case ask.Margin != nil:
		out.Suggested = up(out.Exact.Mul(whole), jars(n).Mul(decimal.New(int64(Hundred-*ask.Margin), 0)))
		out.Says += " For a margin of " + plain(*ask.Margin) + " % of the price a jar must be sold for " + money(out.Suggested) + "."
	case ask.Markup != nil:
		out.Suggested = up(out.Exact.Mul(decimal.New(int64(Hundred+*ask.Markup), 0)), jars(n).Mul(whole))
		out.Says += " With a mark-up of " + plain(*ask.Markup) + " % on the cost a jar is sold for " + money(out.Suggested) + "."
	}
	if !labour {
		out.Findings = append(out.Findings, Finding{Rule: "cost-labour", Level: Unchecked, Says: "not counted: your own time", Source: costSource, Do: "write the minutes, and what an hour is worth to you"})
	}
	if ask.Sold > 0 && ask.Sold < ask.Made {
		out.Findings = append(out.Findings, Finding{Rule: "cost-lost", Level: Note, Says: strconv.Itoa(ask.Made-ask.Sold) + " of " + strconv.Itoa(ask.Made) + " jars were not sold: the sold ones carry their cost", Figure: money(out.PerSold), Limit: money(out.PerMade) + " if all were sold", Source: costSource, Do: "reckon the price from the jars that are sold"})
	}
	ask.atStall(&out, n)
	return out, nil
}

// atStall holds a price against what a jar costs, and the stall's fee against what a jar leaves.
func (ask *CostAsk) atStall(out *Costed, n int) {
	money := func(d decimal.Decimal) string { return d.StringFixed(ask.Places) }
	if ask.Fee != nil && ask.Sold > 0 {
		out.WithStall = out.Exact.Add(*ask.Fee).DivRound(decimal.New(int64(n), 0), 5)
	}
	if ask.Price == nil || !ask.Price.IsPositive() {
		return
	}
	each := out.Exact.DivRound(decimal.New(int64(n), 0), quotientPlaces)
	gain := ask.Price.Sub(each)
	out.Margin = gain.Shift(2).DivRound(*ask.Price, 2)
	if each.IsPositive() {
		out.Markup = gain.Shift(2).DivRound(each, 2)
	}
	if !gain.IsPositive() {
		f := Finding{Rule: "cost-price", Level: Care, Says: "at this price every jar sold loses " + money(gain.Neg()), Figure: money(*ask.Price), Limit: "more than " + money(each), Source: costSource, Do: "ask more for it, or make it for less"}
		if gain.IsZero() {
			f.Says = "at this price a jar brings just what it cost"
		}
		out.Findings = append(out.Findings, f)
		return
	}
	out.Says += " At " + money(*ask.Price) + " a jar leaves " + money(gain) + ": " + out.Margin.StringFixed(1) + " % of the price (the margin)."
	if ask.Fee == nil {
		return
	}
	even := ask.Fee.DivRound(gain, quotientPlaces).Round(12).RoundCeil(0)
	if even.GreaterThan(decimal.New(1_000_000, 0)) {
		return
	}
	out.BreakEven = int(even.IntPart())
	out.Says += " " + strconv.Itoa(out.BreakEven) + " sold jars pay for the stall (" + money(*ask.Fee) + ")."
	if out.BreakEven > n {
		out.Findings = append(out.Findings, Finding{Rule: "cost-stall", Level: Care, Says: "this batch alone does not pay for the stall", Figure: strconv.Itoa(out.BreakEven) + " jars", Limit: strconv.Itoa(n) + " jars", Source: costSource, Do: "take more than this batch along, or share the stall"})
	}
}
