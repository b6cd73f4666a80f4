package calc

import "github.com/shopspring/decimal"

// Grit is one soluble grit against the free water.
type Grit struct {
	Line, Name, INCI string
	Percent          decimal.Decimal
	Room, Bath       decimal.Decimal // at most so much of the formula, in per cent, dissolves at 20 and 38 °C
	Says             string
	Source           string
}

// Grits is what the free water can do to the grits.
type Grits struct {
	FreeWater decimal.Decimal // per cent of the formula, water inside supplied solutions included
	Grits     []Grit
	Findings  []Finding
}
