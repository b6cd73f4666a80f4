package calc

import (
	"stillroom/calc/given"
	"stillroom/calc/matter"
)

// Sites are where a product is used: colour, inhalation and limits differ by it (E18).
func Sites() []string {
	return []string{"body", "face", "hair", "lip", "hand", "foot", "eye area", "bath", "spray or mist", "nail", "intimate", "whole body"}
}

// The words of package matter, under the name that the rest of the house uses.
type (
	Percent     = matter.Percent
	Mass        = matter.Mass
	Cite        = matter.Cite
	Ingredient  = matter.Ingredient
	Share       = matter.Share
	Substance   = matter.Substance
	Charge      = matter.Charge
	Hazard      = matter.Hazard
	Temperature = matter.Temperature
)

// Units that callers need to write figures.
const (
	Gram       = matter.Gram
	Kilogram   = matter.Kilogram
	OnePercent = matter.OnePercent
	Hundred    = matter.Hundred
)

// Formula is one revision as the computations see it: percentages by phase, lines in order.
type Formula struct {
	Key    string
	Name   string
	Wash   string // "rinse-off", "leave-on" or "" when not said
	Site   string // one of Sites, or ""
	Age    string // "adults", "3 to 12", "under 3"
	Phases []Phase
	Lines  []Line
	// LifeMonths is how long it keeps unopened, PAOMonths once opened; 0 when not said.
	LifeMonths, PAOMonths int
}

// Phase is what is weighed and treated together.
type Phase struct {
	Letter    string
	Treatment Treatment
}

// Treatment is what is done to a phase. To keeps the words that were typed; Degrees is nil when none was given.
type Treatment struct {
	Do      string // mix, heat, melt, cool, whip, fold or ""
	To      string
	Degrees *Degrees
	HoldMin int // minutes, 0 when none
}

// Line is one line of a formula: an ingredient or a base, by weight.
type Line struct {
	ID         string
	Phase      string
	Ingredient string
	Base       string
	// Percent is 0 for the q.s. line until Total has filled it in.
	Percent Percent
	QS      bool
	// Compatible is the maker's mark, for this use, that the supplier states it as compatible with the opposite charge.
	Compatible bool
	Note       string
}

// Known is what the book knows: ingredients by key, bases (formulas used in formulas) by key, substances by INCI.
type Known struct {
	Ingredients map[string]*Ingredient
	Bases       map[string]*Formula
	Substances  map[string]*Substance
	Bench       Bench
	// Region is whose law is applied: EU, UK or US; "" is the EU.
	Region string
}

// Bench is what a maker thinks and weighs in. The zero value is grams, Celsius and a scale of unknown capacity.
type Bench struct {
	Fahrenheit bool // a temperature without a unit is in °F, and each is shown in both units
	Ounces     bool // masses are shown in ounces too
	ScaleHolds Mass // most that the scale carries, 0 when not known
}

func (b Bench) degrees() string {
	if b.Fahrenheit {
		return "F"
	}
	return "C"
}

// Beside is a mass in ounces in brackets, "" for who thinks in grams.
func (b Bench) Beside(m Mass) string {
	if !b.Ounces {
		return ""
	}
	return " (" + ShowOunces(m) + ")"
}

// Given is the list that ships inside, without bases. The maps are the caller's own; what they point at is shared and must not be changed.
func Given() Known {
	ingredients, substances := given.Ingredients(), given.Substances()
	k := Known{
		Ingredients: make(map[string]*Ingredient, len(ingredients)),
		Bases:       map[string]*Formula{},
		Substances:  make(map[string]*Substance, len(substances)),
	}
	for i := range ingredients {
		k.Ingredients[ingredients[i].Key] = &ingredients[i]
	}
	for i := range substances {
		k.Substances[substances[i].INCI] = &substances[i]
	}
	return k
}

// name is what a line is called on screen: its ingredient's or base's name, or "" when nothing was chosen or it is not known.
func (k Known) name(l Line) string {
	if l.Base != "" {
		if b := k.Bases[l.Base]; b != nil {
			return b.Name
		}
		return ""
	}
	if i := k.Ingredients[l.Ingredient]; i != nil {
		return i.Name
	}
	return ""
}

// treatment is what is done to the phase with this letter.
func (f *Formula) treatment(letter string) Treatment {
	for _, p := range f.Phases {
		if p.Letter == letter {
			return p.Treatment
		}
	}
	return Treatment{}
}
