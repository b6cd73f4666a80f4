package calc

// The structs of this file are the screen's own words (pwa/shell/contract.ts): a formula exactly as typed, and what follows from it.

// Figure is a figure as it stands on the screen and the sum that it came from, in words and numbers.
type Figure struct {
	Text string `json:"text"`
	Sum  string `json:"sum"`
}

// DraftTreatment is a phase's treatment as typed.
type DraftTreatment struct {
	Do      string `json:"do"`
	To      string `json:"to"`
	HoldMin string `json:"holdMin"`
}

// DraftPhase is a phase as typed.
type DraftPhase struct {
	Letter    string         `json:"letter"`
	Treatment DraftTreatment `json:"treatment"`
	// Pot is the vessel that the phase stands in, "" for one of its own. The book knows pots; calc does not.
	Pot string `json:"pot,omitempty"`
}

// DraftLine is a line as typed.
type DraftLine struct {
	ID         string `json:"id"`
	Phase      string `json:"phase"`
	Ingredient string `json:"ingredient"`
	Base       string `json:"base"`
	Percent    string `json:"percent"`
	QS         bool   `json:"qs"`
	Note       string `json:"note"`
	// Compatible is the maker's mark that the supplier states it as compatible with the opposite charge in this use.
	Compatible bool `json:"compatible,omitempty"`
}

// Plan is how much is to be made, as typed.
type Plan struct {
	Jars string `json:"jars"`
	Fill string `json:"fill"`
	Loss string `json:"loss"`
	Step string `json:"step"`
	// Container is the key of what it is filled into, "" when none was chosen. The book knows containers; calc does not.
	Container string `json:"container"`
}

// Draft is a formula as it stands on the screen.
type Draft struct {
	Key    string       `json:"key"`
	Parent string       `json:"parent"`
	Name   string       `json:"name"`
	Wash   string       `json:"wash"`
	Site   string       `json:"site"`
	Age    string       `json:"age"`
	Phases []DraftPhase `json:"phases"`
	Lines  []DraftLine  `json:"lines"`
	Plan   Plan         `json:"plan"`
	// Life is how many months it keeps unopened, AfterOpen how many once opened; "" when not said.
	Life      string `json:"life,omitempty"`
	AfterOpen string `json:"afterOpen,omitempty"`
}

// Layer is the part of the jar that one phase fills; Share 1 is the rim.
type Layer struct {
	Phase   string  `json:"phase"`
	Share   float64 `json:"share"`
	Percent string  `json:"percent"`
	// Sum is how the phase's share came about, "" where only the picture is drawn.
	Sum string `json:"sum,omitempty"`
}

// SheetLine is what follows for one line.
type SheetLine struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Percent Figure `json:"percent"`
	Grams   Figure `json:"grams"`
	Trouble string `json:"trouble"`
}

// Sheet is all that follows from a draft.
type Sheet struct {
	Lines    []SheetLine `json:"lines"`
	Total    Figure      `json:"total"`
	Gap      string      `json:"gap"`
	Over     bool        `json:"over"`
	Layers   []Layer     `json:"layers"`
	Mass     Figure      `json:"mass"`
	PlanSays string      `json:"planSays"`
	// Fits says whether the fill fits the container of the plan, "" without one; FitsLevel is stop, care, unchecked or "".
	Fits           string       `json:"fits"`
	FitsLevel      string       `json:"fitsLevel"`
	FitsSum        string       `json:"fitsSum"`
	Findings       []MarginNote `json:"findings"`
	UncheckedCount int          `json:"uncheckedCount"`
	CanSave        bool         `json:"canSave"`
	CanMake        bool         `json:"canMake"`
	Because        string       `json:"because"`
}

// PlanRead is a plan in figures.
type PlanRead struct {
	Jars int
	Fill Mass
	Loss Percent
	Step Mass
	// Batch is Jars × Fill ÷ (1 − Loss), on the scale's grid.
	Batch Mass
}
