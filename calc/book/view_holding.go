package book

import (
	"encoding/json"

	"stillroom/calc"
)

// HoldingView is the view holding: how a draft holds together, with the findings of the margin that speak of it.
type HoldingView struct {
	calc.Holding
	Notes []Note `json:"notes"`
}

// viewHolding works from a draft and the newest pH that a batch of its formula had.
func (s *State) viewHolding(args []byte) (any, *Refusal) {
	var a struct{ Draft calc.Draft }
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	k, pH := s.known(basesOf(a.Draft)), 0
	if all := s.readingsOf(a.Draft.Key); len(all) > 0 {
		pH = all[len(all)-1].PH
	}
	h := calc.HoldingOf(calc.FormulaOf(a.Draft, k), k, pH)
	return HoldingView{h, calc.Margin(h.Findings)}, nil
}
