// Package given is the list of everyday ingredients that ships inside, by INCI and trade-neutral names, every figure with its source and
// mark. A supplier's document or the maker's own entry always overrides it: compositions and pH values differ from supplier to supplier.
//
// The list is text beside this file, so that adding an ingredient is an edit of one table: an entry begins with "key = name", each line
// under it is one word, its value and, for a figure, "| where it comes from". read.go knows the words.
package given

import (
	_ "embed"
	"slices"

	"stillroom/calc/matter"
)

// Ingredients gives the list in order of name. The slice is the caller's own; what it points at is not to be changed.
func Ingredients() []matter.Ingredient { return slices.Clone(ingredients) }

// Substances gives what is known of the substances that the list is made of, and of some that a maker may add, in order of INCI. The slice
// is the caller's own; what it points at is not to be changed.
func Substances() []matter.Substance { return slices.Clone(substances) }

var (
	//go:embed sources.txt
	sourcesText string
	//go:embed substances.txt
	substancesText string
	//go:embed waters.txt
	watersText string
	//go:embed surfactants.txt
	surfactantsText string
	//go:embed cleansers.txt
	cleansersText string
	//go:embed fats.txt
	fatsText string
	//go:embed oils.txt
	oilsText string
	//go:embed keepers.txt
	keepersText string
	//go:embed scents.txt
	scentsText string
	//go:embed solids.txt
	solidsText string
	//go:embed colours.txt
	coloursText string
	//go:embed emulsifiers.txt
	emulsifiersText string
	//go:embed actives.txt
	activesText string
)

// table is one file of the list.
type table struct{ file, text string }

func tables() []table {
	return []table{
		{"waters.txt", watersText}, {"surfactants.txt", surfactantsText}, {"cleansers.txt", cleansersText}, {"fats.txt", fatsText},
		{"oils.txt", oilsText}, {"keepers.txt", keepersText}, {"scents.txt", scentsText}, {"solids.txt", solidsText}, {"colours.txt", coloursText},
		{"emulsifiers.txt", emulsifiersText}, {"actives.txt", activesText},
	}
}

// The tables are read once, when the program starts. A line that cannot be read leaves the list empty, which a test finds before anyone else.
var ingredients, substances, faulty = readAll(sourcesText, substancesText, tables())
