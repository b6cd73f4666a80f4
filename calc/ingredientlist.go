package calc

import "github.com/shopspring/decimal"

// WentIn is one thing that went into a batch.
type WentIn struct {
	Ingredient, Base string
	Mass             Mass
}

// Listed is one entry of an ingredient list.
type Listed struct {
	INCI    string
	Print   string
	Percent decimal.Decimal
	Where   string // "fixed", "any order" or "colour"
}

// INCIList is an ingredient list in order, as it may be printed.
type INCIList struct {
	Entries  []Listed
	Text     string // "Ingredients: Aqua, …"
	LeftOut  []string
	Findings []Finding
}
