package calc

import "github.com/shopspring/decimal"

// WeighLine is one line to be weighed: what it is meant to be, and what it must stay within. Nil means that no such limit is known.
type WeighLine struct {
	ID, Name  string
	Percent   Percent
	Mass      Mass // as it stands on the scale, 0 to take it as exact
	Low, High *Percent
	Max       *Percent
	Source    string // of the range or maximum
	Soluble   string // water, oil, both, neither or "" when not known: what a dilution is made in
	Step      Mass   // readability of its own scale, 0 for the batch's
}

// Weighing is what a scale can say of one line.
type Weighing struct {
	ID       string
	Mass     Mass
	PlusSays string          // the quiet ±: "± 5.0 %"
	Plus     decimal.Decimal // ± d/2 and the rounding, relative, in per cent of the line
	Lowest   decimal.Decimal // the true per cent at worst
	Highest  decimal.Decimal
	Breaks   bool
	Ways     WaysOut // set when Breaks
}

// WaysOut are what helps when a line is too small for its scale; a zero value means that this way is not open.
type WaysOut struct {
	Batch  Mass // the least batch at which the reading error breaks nothing, on the scale's grid
	Step   Mass // the coarsest finer scale that does
	Dilute Dilution
}

// Dilution says how to weigh a small line through a dilution: Active in In makes Whole; Take of it carries the line.
type Dilution struct {
	Active, In, Whole, Take Mass
	Solvent                 string // "water of the formula", "oil of the formula"
	Says                    string
}
