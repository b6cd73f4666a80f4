package book

import (
	"encoding/json"

	"stillroom/calc"
)

// PrintedView is the view printed: a product's ingredient list and cautions as they will be printed, side by side.
type PrintedView struct {
	Sides    []calc.PrintedSide       `json:"sides"`
	Differ   []calc.PrintedDifference `json:"differ"`
	LeftOut  []string                 `json:"leftOut"`
	Findings []Note                   `json:"findings"`
	// Name is the product's; From says what was listed: a formula as planned, or what went into a batch.
	Name string `json:"name"`
	From string `json:"from"`
	// Unchecked are the checks of the same product that could not be made.
	Unchecked []Note `json:"unchecked"`
}

// viewPrinted writes what will be printed of a draft as it stands on the screen, or of a batch from what went in.
func (s *State) viewPrinted(args []byte) (any, *Refusal) {
	var a struct {
		Draft *calc.Draft `json:"draft"`
		Batch string      `json:"batch"`
	}
	if json.Unmarshal(args, &a) != nil || a.Draft == nil && a.Batch == "" {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	if a.Batch != "" {
		return s.printedBatch(a.Batch)
	}
	k := s.known(basesOf(*a.Draft))
	f := calc.FormulaOf(*a.Draft, k)
	return s.printed(nil, f, k, "as planned; a batch lists what really went in")
}

func (s *State) printedBatch(key string) (any, *Refusal) {
	m := s.making(key)
	if m == nil {
		return nil, unseenBatch("key")
	}
	f, total := m.wentIn()
	if total <= 0 {
		return nil, unseen("nothing weighed", "key", "nothing went into this batch yet", "see the formula for what is planned; weigh at the bench")
	}
	from := "from what went into batch " + m.b.body.Code
	if len(s.unweighed(m)) > 0 {
		from += ", which is not complete yet"
	}
	return s.printed(m.listedMasses(), f, m.known, from)
}

func (s *State) printed(in []calc.WentIn, f calc.Formula, k calc.Known, from string) (any, *Refusal) {
	p, e := calc.PrintedOf(in, f, k)
	if e != nil {
		return nil, unseen("no list", "", "the list cannot be written yet: "+e.Says, e.Want)
	}
	v := PrintedView{Sides: p.Sides, Differ: p.Differ, LeftOut: p.LeftOut, Findings: p.Findings, Name: f.Name, From: from, Unchecked: []Note{}}
	for _, n := range calc.Margin(calc.Findings(f, k, 0)) {
		if n.Level == calc.Unchecked {
			v.Unchecked = append(v.Unchecked, n)
		}
	}
	return v, nil
}

// listedMasses is what went in, as a list of ingredients is made from it.
func (m *making) listedMasses() []calc.WentIn {
	w, order := m.b.weighed()
	var in []calc.WentIn
	for _, id := range order {
		x := calc.WentIn{Ingredient: w[id].ingr, Mass: calc.Mass(w[id].mass)}
		if l := m.line(id); l != nil {
			x.Ingredient, x.Base = l.Ingredient, l.Base
		}
		if x.Mass > 0 {
			in = append(in, x)
		}
	}
	return in
}

// LawView is the view law: each table of law with its day and coverage, and what “not in this book's tables” means.
type LawView struct {
	Region string          `json:"region"`
	Tables []calc.LawTable `json:"tables"`
	Not    string          `json:"not"`
	Given  string          `json:"given"`
}

func (s *State) viewLaw() LawView {
	w := s.workshop()
	return LawView{w.labelRegion(), calc.LawTables(), calc.NotInTables, calc.GivenSays}
}
