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

// Date is a day of the calendar.
type Date struct{ Year, Month, Day int }

// LabelAsk is what a label is made from.
type LabelAsk struct {
	Region     string // EU, UK or US
	Name       string
	Net        Mass // what is in the jar, at least
	Made       Date
	LifeMonths int // 0 when not said
	PAOMonths  int // 0 when not said
	BatchCode  string
	Person     string // responsible person (EU, UK) or contact (US), with address
	PanelSqMM  int64  // area of the principal panel in mm², 0 when not known
	Sale       bool
}

// Caution is one sentence for the label and why it stands there.
type Caution struct{ Says, Why, Source string }

// LabelContent is what a label must and may say.
type LabelContent struct {
	Net, NetSum      string // "110 g · 3.8 oz"
	HeightMM         string // least height of the figures, "3.0"
	HeightSource     string
	BestBefore       string
	BestBeforeNeeded bool
	PAO              string
	PAONeeded        bool
	BatchCode        string
	Person           string
	Cautions         []Caution
	Findings         []Finding
}

// Container is what a jar can hold: millilitres to the brim in thousandths.
type Container struct {
	Name       string
	BrimMicroL int64
}

// FillFit says whether a fill fits a container.
type FillFit struct {
	NeedsMicroL int64
	HoldsMicroL int64
	Holds       Mass // what the brim holds at this density
	Comfortable Mass // 0.95 of it
	Share       decimal.Decimal
	Says        string
	Findings    []Finding
}

// BatchMade is what one finished batch says of itself.
type BatchMade struct {
	Code          string
	Made          Mass // weighed in
	Filled        Mass // sum of the jars
	JarsExpected  int
	JarsMade      int
	MgPerML       int64 // density after whipping, before grit; 0 when not measured
	MgPerMLBefore int64 // density before whipping; 0 when not measured
}

// YieldAnswer is the yield of one batch.
type YieldAnswer struct {
	Loss          decimal.Decimal // per cent of what was weighed in
	OverrunKnown  bool
	OverrunVolume decimal.Decimal
	OverrunWeight decimal.Decimal
	JarsExpected  int
	JarsMade      int
	Says          string
	Findings      []Finding
}

// Forecast is what earlier batches of the same formula suggest; N 0 means that nothing is known.
type Forecast struct {
	LossN, DensityN int
	Loss            Percent
	MgPerML         int64
	Says            string
}

// StockEvent is one movement or count of one lot at one place. Amounts are whole (mg, jars or lids).
type StockEvent struct {
	Stream string            // device that wrote it
	Seq    uint64            // its number in that stream, from 1
	Seen   map[string]uint64 // for each stream the last number that its writer had seen
	At     int64             // corrected time, ms
	Lot    string
	Place  string
	Count  bool // "there are n here"; otherwise n is added, negative when taken
	N      int64
}

// StockHand is what is on hand of one lot at one place.
type StockHand struct {
	Lot, Place string
	N          int64
	Counted    bool  // a count stands under it
	Expected   int64 // what was expected at the latest count
	Difference int64 // counted − expected
}
