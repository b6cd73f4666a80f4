// Package law holds what the law of cosmetics says in figures, as far as this book knows it: maxima, bans and warnings by region, kind of
// product, site and age; what may not stand together; colours by field of use; allergens of scents. Each table is a text beside this file, each row
// with its instrument, entry, date, source and mark, so that a new limit is an edit of one table. What is in no table is not thereby allowed.
package law

import (
	_ "embed"

	"stillroom/calc/matter"
)

// Regions that the tables speak of.
var Regions = []string{"EU", "UK", "US"}

// Banned and Free stand in place of a maximum: nothing at all, and no maximum but something to know.
const (
	Banned matter.Percent = -1
	Free   matter.Percent = -2
)

// Scope is where a row applies. An empty list of sites is all; Wash and Age "" are any.
type Scope struct {
	Regions []string
	Wash    string   // rinse-off or leave-on
	Sites   []string // these only, or, with NotSites, all but these
	// NotSites and NotAge turn Sites and Age round.
	NotSites bool
	Age      string
	NotAge   bool
}

// Limit is one row of limits.txt: the sum of its substances in the product is at most Most.
type Limit struct {
	Name       string
	Substances []string
	// Counted is whole, acid (salts and esters as their acid) or retinol (esters as retinol).
	Counted string
	Scope
	Most  matter.Percent
	Level string // stop, care or note
	// Entry is the instrument and its entry; Since is from when, "-" as read for this edition.
	Entry, Since string
	matter.Cite
	// Warning is what to print, from a share above PrintFrom; "" for none.
	Warning   string
	PrintFrom matter.Percent
}

// Exclusion is one row of exclusions.txt.
type Exclusion struct {
	Name    string
	These   []string
	With    []string
	Regions []string
	Level   string
	Entry   string
	matter.Cite
}

// Colour is one row of colours.txt.
type Colour struct {
	INCI, Name string
	// EU is all, not eye, not mucous or rinse-off; US is all, not eye, not lip or external.
	EU, US    string
	Certified bool // in the US only from a lot with a certificate
	FromEU    matter.Cite
	FromUS    matter.Cite
}

// Allergen is one row of allergens.txt.
type Allergen struct {
	INCI    string
	Regions []string
	matter.Cite
	// Also are other names that suppliers' statements call it by, from memory.
	Also []string
}

// Thresholds above which an allergen of a scent is named (Reg. 1223/2009 Art. 19 and Annex III; read).
const (
	AllergenLeftOn matter.Percent = 10  // 0.001 %
	AllergenRinsed matter.Percent = 100 // 0.01 %
)

var (
	//go:embed limits.txt
	limitsText string
	//go:embed exclusions.txt
	exclusionsText string
	//go:embed colours.txt
	coloursText string
	//go:embed allergens.txt
	allergensText string
)

// The tables are read once, when the program starts; a test finds a row that cannot be read. They are not to be changed.
var (
	Limits, limitsFault         = read("limits.txt", limitsText, 13, limit)
	Exclusions, exclusionsFault = read("exclusions.txt", exclusionsText, 7, exclusion)
	Colours, coloursFault       = read("colours.txt", coloursText, 7, colour)
	Allergens, allergensFault   = read("allergens.txt", allergensText, 4, allergen)
)
