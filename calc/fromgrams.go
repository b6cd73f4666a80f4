package calc

import "github.com/shopspring/decimal"

// NotedLine is a line of a recipe as it was noted: "130 g", "4 oz", "15 mL", "2 tsp", "20 drops".
type NotedLine struct {
	ID, Name   string
	Ingredient string // key, "" when not known: gives the density of a volume
	Amount     string
	Density    string // g/mL as typed, "" to take the ingredient's own
}

// NotedShare is what a noted line is in grams and in per cent.
type NotedShare struct {
	ID, Name   string
	Grams      decimal.Decimal
	Percent    Percent
	Inexact    bool   // spoons and drops
	Sum        string // how the grams came about
	Trouble    string // why it could not be read, "" when it could
	Ingredient string
}

// Noted is a recipe in per cent.
type Noted struct {
	Lines    []NotedShare
	Grams    decimal.Decimal
	Findings []Finding
}
