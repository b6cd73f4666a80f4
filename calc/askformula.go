package calc

import (
	"strconv"

	"stillroom/calc/matter"
)

// The structs of this file are the formula, the ingredients and the bases of a request, as JSON.

type askLine struct {
	ID         string `json:"id"`
	Phase      string `json:"phase"`
	Ingredient string `json:"ingredient"`
	Base       string `json:"base"`
	Percent    typed  `json:"percent"`
	QS         bool   `json:"qs"`
	Note       string `json:"note"`
	Compatible bool   `json:"compatible"`
}

type askFormula struct {
	Key    string       `json:"key"`
	Name   string       `json:"name"`
	Wash   string       `json:"wash"`
	Site   string       `json:"site"`
	Age    string       `json:"age"`
	Phases []DraftPhase `json:"phases"`
	Lines  []askLine    `json:"lines"`
}

type askShare struct {
	INCI    string `json:"inci"`
	Percent typed  `json:"percent"`
	Listed  string `json:"listed"`
	// Charge and Preservative tell of a substance that the given list does not know.
	Charge       string `json:"charge"`
	Preservative bool   `json:"preservative"`
}

type askRange struct {
	Low    typed  `json:"low"`
	High   typed  `json:"high"`
	Source string `json:"source"`
}

type askIngredient struct {
	Key         string     `json:"key"`
	Name        string     `json:"name"`
	INCI        string     `json:"inci"`
	Composition []askShare `json:"composition"`
	Functions   []string   `json:"functions"`
	Usual       *askRange  `json:"usual"`
	Maximum     typed      `json:"maximum"`
	// Highest and FlashPoint are temperatures: the highest at which it may be added, and where its vapour can catch fire.
	Highest    typed `json:"highest"`
	FlashPoint typed `json:"flashPoint"`
	// Source is where the maximum and the composition are stated.
	Source string `json:"source"`
}

// askKnown is what a request brings along beside the given list; its own entries stand above the list's.
type askKnown struct {
	Ingredients []askIngredient `json:"ingredients"`
	Bases       []askFormula    `json:"bases"`
}

func (a *askFormula) read() (Formula, *FieldError) {
	f := Formula{Key: a.Key, Name: a.Name, Wash: a.Wash, Site: a.Site, Age: a.Age, Lines: make([]Line, len(a.Lines))}
	if a.Wash != "" && a.Wash != "rinse-off" && a.Wash != "leave-on" {
		return f, &FieldError{Field: "wash", Says: "“" + short(a.Wash) + "” is not a kind of product", Want: "write rinse-off or leave-on, or leave it empty"}
	}
	phases, _, wrong := readDraft(&Draft{Phases: a.Phases}, Known{})
	if len(wrong) > 0 {
		return f, &FieldError{Field: "phases", Says: wrong[0].Says, Want: wrong[0].Do}
	}
	f.Phases = phases.Phases
	for i := range a.Lines {
		l, err := a.Lines[i].read(i)
		if err != nil {
			return f, err.under("lines[" + strconv.Itoa(i) + "]")
		}
		f.Lines[i] = l
	}
	return f, nil
}

func (a *askLine) read(i int) (Line, *FieldError) {
	l := Line{ID: a.ID, Phase: a.Phase, Ingredient: a.Ingredient, Base: a.Base, QS: a.QS, Note: a.Note, Compatible: a.Compatible}
	if l.ID == "" {
		l.ID = strconv.Itoa(i + 1)
	}
	if a.Ingredient != "" && a.Base != "" {
		return l, &FieldError{Field: "base", Says: "an ingredient and a base at once", Want: "write one of them"}
	}
	if !a.QS {
		p, err := ReadPercent(string(a.Percent))
		if err != nil {
			return l, err.under("percent")
		}
		l.Percent = p
	} else if a.Percent != "" {
		return l, &FieldError{Field: "percent", Says: "a q.s. line takes what is left and has no figure of its own", Want: "leave the percent out, or take qs away"}
	}
	return l, nil
}

func (a *askKnown) read() (Known, *FieldError) {
	k := Given()
	for i := range a.Ingredients {
		if err := a.Ingredients[i].into(&k); err != nil {
			return k, err.under("ingredients[" + strconv.Itoa(i) + "]")
		}
	}
	for i := range a.Bases {
		b, err := a.Bases[i].read()
		if err == nil && b.Key == "" {
			err = &FieldError{Field: "key", Says: "the base has no key", Want: "give it one, so that a line can name it"}
		}
		if err != nil {
			return k, err.under("bases[" + strconv.Itoa(i) + "]")
		}
		k.Bases[b.Key] = &b
	}
	return k, nil
}

// readFormula reads what a request brings along, and then its formula; a fault of the formula stands under "formula".
func readFormula(formula askFormula, known askKnown) (Formula, Known, *FieldError) {
	k, err := known.read()
	if err != nil {
		return Formula{}, k, err
	}
	f, err := formula.read()
	if err != nil {
		return f, k, err.under("formula")
	}
	return f, k, nil
}

// readApart reads a formula that must also come apart into substances: no base in itself, none unknown.
func readApart(formula askFormula, known askKnown) (Formula, Known, *FieldError) {
	f, k, err := readFormula(formula, known)
	if err != nil {
		return f, k, err
	}
	if _, err := TakeApart(f, k); err != nil {
		return f, k, err.under("formula")
	}
	return f, k, nil
}

func (a *askIngredient) into(k *Known) *FieldError {
	said := Cite{Source: a.Source, Mark: "T"}
	if said.Source == "" {
		said.Source = "as the request states"
	}
	ing := &Ingredient{Key: a.Key, Name: a.Name, INCI: a.INCI, Functions: a.Functions}
	if ing.Key == "" {
		return &FieldError{Field: "key", Says: "the ingredient has no key", Want: "give it one, so that a line can name it"}
	}
	if ing.Name == "" {
		ing.Name = ing.Key
	}
	var sum Percent
	for i, s := range a.Composition {
		at := "composition[" + strconv.Itoa(i) + "]"
		p, err := ReadPercent(string(s.Percent))
		if err != nil {
			return err.under(at + ".percent")
		}
		if s.INCI == "" {
			return &FieldError{Field: at + ".inci", Says: "the substance has no name", Want: "write its INCI name"}
		}
		if s.Listed != "" && s.Listed != "yes" && s.Listed != "no" {
			return &FieldError{Field: at + ".listed", Says: "“" + short(s.Listed) + "” says neither", Want: "write yes or no, or leave it empty for not known"}
		}
		sum += p
		ing.Composition = append(ing.Composition, Share{INCI: s.INCI, Percent: p, Listed: s.Listed, Cite: said})
		if err := s.substance(k, said, a.Functions); err != nil {
			return err.under(at)
		}
	}
	if sum != Hundred {
		return &FieldError{Field: "composition", Says: "the shares sum to " + sum.String() + " %", Want: "make them exactly 100"}
	}
	if a.Usual != nil {
		low, err := ReadPercent(string(a.Usual.Low))
		if err != nil {
			return err.under("usual.low")
		}
		high, err := ReadPercent(string(a.Usual.High))
		if err != nil {
			return err.under("usual.high")
		}
		if low > high {
			return &FieldError{Field: "usual", Says: "the range is upside down", Want: "write the lower figure as low"}
		}
		ing.Usual = &matter.Range{Low: low, High: high, Cite: Cite{Source: a.Usual.Source, Mark: "T"}}
	}
	for _, d := range []struct {
		field string
		text  typed
		into  **Temperature
	}{{"highest", a.Highest, &ing.Highest}, {"flashPoint", a.FlashPoint, &ing.FlashPoint}} {
		if d.text == "" {
			continue
		}
		read, err := ReadDegrees(string(d.text), "")
		if err != nil {
			return err.under(d.field)
		}
		*d.into = &Temperature{MilliC: read.MilliC, Text: read.Text, Cite: said}
	}
	if a.Maximum != "" {
		p, err := ReadPercent(string(a.Maximum))
		if err != nil {
			return err.under("maximum")
		}
		ing.Maximum = &matter.Limit{Percent: p, Cite: said}
	}
	k.Ingredients[ing.Key] = ing
	return nil
}

// substance notes what a request says of a substance; what the given list knows of it stays where the request says nothing.
func (a *askShare) substance(k *Known, said Cite, functions []string) *FieldError {
	if a.Charge == "" && !a.Preservative {
		return nil
	}
	s := Substance{INCI: a.INCI}
	if had := k.Substances[a.INCI]; had != nil {
		s = *had
	}
	if a.Charge != "" {
		switch c := Charge(a.Charge); c {
		case matter.ChargeNone, matter.Anionic, matter.Cationic, matter.CationicPolymer, matter.Amphoteric, matter.NonIonic:
			s.Charge, s.ChargeFrom = c, said
		default:
			return &FieldError{Field: "charge", Says: "“" + short(a.Charge) + "” is not a class of charge", Want: "none, anionic, cationic, cationic polymer, amphoteric or non-ionic"}
		}
		s.Functions = append(append([]string(nil), s.Functions...), functions...)
	}
	if a.Preservative {
		s.Keeping, s.KeepingFrom = "preservative", said
		s.Functions = append(append([]string(nil), s.Functions...), "preservative")
	}
	k.Substances[a.INCI] = &s
	return nil
}
