package book

import "stillroom/calc"

// The structs below are the words of contract-reckon.ts.

// SwapView is the view swap: a draft before and after one ingredient was exchanged for another.
type SwapView struct {
	From string `json:"from"`
	To   string `json:"to"`
	Hold string `json:"hold"`
	// Holds is what may be held equal, since both have it.
	Holds   []Choice            `json:"holds"`
	Held    Figure              `json:"held"`
	Water   string              `json:"water"`
	Lines   []calc.LineBeside   `json:"lines"`
	Figures []calc.FigureBeside `json:"figures"`
	Come    []Note              `json:"come"`
	Gone    []Note              `json:"gone"`
	Notes   []Note              `json:"notes"`
	// Take is the lines of the draft as they would be, to be taken by one touch.
	Take []calc.DraftLine `json:"take"`
}

// RulerView is the view ruler: calc's pH ruler, with its findings as notes of the margin.
type RulerView struct {
	Bars []calc.RulerBar `json:"bars"`
	// Phases are those that the bars' lines stand in, one for each bar, "" for the skin.
	Phases  []string          `json:"phases"`
	Overlap calc.RulerOverlap `json:"overlap"`
	// Start is the stop at which the cursor stands at first, among Stops.
	Start   int               `json:"start"`
	Notches []calc.RulerNotch `json:"notches"`
	Ticks   []calc.RulerNotch `json:"ticks"`
	Stops   []calc.RulerPoint `json:"stops"`
	Missing string            `json:"missing"`
	Notes   []Note            `json:"notes"`
}

// AimView is the view aim: what can be aimed at, and the nearest formula that meets what was asked.
type AimView struct {
	Offers []AimOffer `json:"offers"`
	Lines  []AimLine  `json:"lines"`
	Cost   string     `json:"cost"`
	Shelf  string     `json:"shelf"`
	// Asked is false until a figure was written; what follows is empty then.
	Asked   bool                `json:"asked"`
	Met     bool                `json:"met"`
	Targets []AimTarget         `json:"targets"`
	Beside  []calc.LineBeside   `json:"beside"`
	Figures []calc.FigureBeside `json:"figures"`
	Come    []Note              `json:"come"`
	Gone    []Note              `json:"gone"`
	Notes   []Note              `json:"notes"`
	Take    []calc.DraftLine    `json:"take"`
}

// AimOffer is a figure of the whole that can be aimed at, and where it stands now.
type AimOffer struct {
	What string `json:"what"`
	Name string `json:"name"`
	Unit string `json:"unit"`
	Now  string `json:"now"`
	Sum  string `json:"sum"`
}

// AimLine is a line of the draft; Stays tells that its share is left as it is.
type AimLine struct {
	Line    string `json:"line"`
	Name    string `json:"name"`
	Percent string `json:"percent"`
	Stays   bool   `json:"stays"`
}

// AimTarget is what became of one target.
type AimTarget struct {
	Says   string `json:"says"`
	Before string `json:"before"`
	After  string `json:"after"`
	Met    bool   `json:"met"`
	Missed string `json:"missed"`
	// BeforeSum and AfterSum say how the two came about, "" where they are not known.
	BeforeSum string `json:"beforeSum"`
	AfterSum  string `json:"afterSum"`
}

// AmountsView is the view amounts: the most that the shelf allows, and the most that a vessel holds.
type AmountsView struct {
	Stock  Amount `json:"stock"`
	Vessel Amount `json:"vessel"`
}

// Amount is one way to say how much is to be made. Jars is what to write into the plan, "" where it cannot be taken.
type Amount struct {
	Says string `json:"says"`
	Mass Figure `json:"mass"`
	Jars string `json:"jars"`
	Not  string `json:"not"`
}
