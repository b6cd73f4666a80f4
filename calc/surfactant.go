package calc

import "github.com/shopspring/decimal"

// PHBar is one line of the pH ruler, in hundredths of a point.
type PHBar struct {
	Line, Name string
	Why        string // surfactant, preservative, thickener, ingredient, skin
	Low, High  int
	Source     string
}

// PHWindow is what is left when every bar has had its say.
type PHWindow struct {
	Bars      []PHBar
	Low, High int // hundredths; Low above High means that no pH suits all
	// Lowest is the bar whose upper end is the strictest, Highest the one whose lower end is; both −1 without bars.
	Lowest, Highest int
	Missing         []string // lines that care and whose window is not known
}

// Empty tells whether no pH suits all.
func (w PHWindow) Empty() bool { return len(w.Bars) > 0 && w.Low > w.High }

// ActiveClass is the active matter of one class of charge.
type ActiveClass struct {
	Charge  Charge
	Percent decimal.Decimal
	INCIs   []string
}

// Surfactants is the active matter (ASM), by class, and the one window of pH.
type Surfactants struct {
	Total    decimal.Decimal
	Classes  []ActiveClass
	Window   PHWindow
	Findings []Finding
}
