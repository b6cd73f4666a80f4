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
