package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

type askCost struct {
	// Method is average (the default) or fifo.
	Method string `json:"method"`
	// Decimals of the money: 2 for cents (the default), 0 to 3.
	Decimals typed         `json:"decimals"`
	Items    []askCostItem `json:"items"`
	// Batch names the batch that is costed; empty takes everything that was used.
	Batch     string         `json:"batch"`
	Packaging []askPackaging `json:"packaging"`
	Labour    *askLabour     `json:"labour"`
	Overhead  typed          `json:"overhead"`
	JarsMade  typed          `json:"jarsMade"`
	JarsSold  typed          `json:"jarsSold"`
	Margin    typed          `json:"margin"`
	Markup    typed          `json:"markup"`
	Price     typed          `json:"price"`
	StallFee  typed          `json:"stallFee"`
}

type askCostItem struct {
	Name string `json:"name"`
	// Unit is g (the default) or pieces.
	Unit  string        `json:"unit"`
	Moves []askCostMove `json:"moves"`
}

type askCostMove struct {
	In   typed  `json:"in"`
	Paid typed  `json:"paid"`
	Out  typed  `json:"out"`
	Lot  string `json:"lot"`
	For  string `json:"for"`
}

type askPackaging struct {
	Name  string `json:"name"`
	Count typed  `json:"count"`
	Each  typed  `json:"each"`
}

type askLabour struct {
	Minutes typed `json:"minutes"`
	Hour    typed `json:"hour"`
}

type costAnswer struct {
	Says      string     `json:"says"`
	Rows      []costRow  `json:"rows"`
	Total     string     `json:"total"`
	PerMade   string     `json:"perJarMade"`
	PerSold   string     `json:"perJarSold"`
	Price     string     `json:"price"`
	Margin    string     `json:"marginPercent"`
	Markup    string     `json:"markupPercent"`
	BreakEven int        `json:"breakEvenJars"`
	WithStall string     `json:"perJarSoldWithStall"`
	Stock     []costItem `json:"stock"`
	Findings  []Finding  `json:"findings"`
}

type costRow struct {
	Name   string `json:"name"`
	Kind   string `json:"kind"`
	Amount string `json:"amount"`
	Exact  string `json:"exact"`
}

type costItem struct {
	Name      string `json:"name"`
	Purchases string `json:"purchases"`
	Used      string `json:"used"`
	Left      string `json:"left"`
	Amount    string `json:"leftAmount"`
}

const exampleCost = `{
  "method": "average",
  "items": [
    {"name": "sunflower oil", "moves": [{"in": "1000 g", "paid": "12.00", "lot": "L1"}, {"out": "250 g"}]},
    {"name": "sugar", "moves": [{"in": "1 kg", "paid": "1.50"}, {"out": "700 g"}]},
    {"name": "scent", "moves": [{"in": "250 g", "paid": "48.00"}, {"out": "10 g"}]}
  ],
  "packaging": [{"name": "jar with lid", "count": "8", "each": "0.85"}],
  "jarsMade": "8",
  "jarsSold": "7",
  "margin": "60",
  "price": "6.50",
  "stallFee": "25.00"
}
`

func doCost(request []byte) (any, *FieldError) {
	var ask askCost
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	read, items, err := ask.read()
	if err != nil {
		return nil, err
	}
	c, err := Cost(read)
	if err != nil {
		return nil, err
	}
	money := func(d decimal.Decimal) string { return d.StringFixed(read.Places) }
	given := func(d decimal.Decimal, places int32) string {
		if d.IsZero() {
			return ""
		}
		return d.StringFixed(places)
	}
	out := costAnswer{Says: c.Says, Rows: []costRow{}, Total: money(c.Total), PerMade: c.PerMade.String(), PerSold: given(c.PerSold, 5), Price: given(c.Suggested, read.Places), BreakEven: c.BreakEven, WithStall: given(c.WithStall, 5), Stock: items, Findings: orNone(c.Findings)}
	if read.Price != nil {
		out.Margin, out.Markup = c.Margin.StringFixed(2), c.Markup.StringFixed(2)
	}
	for _, r := range c.Rows {
		out.Rows = append(out.Rows, costRow{r.Name, r.Kind, money(r.Rounded), r.Amount.String()})
	}
	return out, nil
}

// readMoney reads an amount of money as typed, 0 up to a thousand million, to so many decimals.
func readMoney(text string, places int) (int64, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return 0, err
	}
	v, whole, fits := n.fixed(places, 1_000_000_000_000_000)
	switch {
	case n.unit != "":
		return 0, &FieldError{Says: "“" + short(text) + "” is not an amount of money", Want: "write it without a sign for the money: 12.50"}
	case v < 0 || n.negative && v != 0:
		return 0, &FieldError{Says: short(text) + " is below nothing", Want: "write 0 or more"}
	case !whole || !fits:
		return 0, &FieldError{Says: "“" + short(text) + "” is finer or larger than money here", Want: "write at most " + strconv.Itoa(places) + " decimals"}
	}
	return v, nil
}
