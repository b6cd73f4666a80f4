package law

import (
	"strings"
)

// Table tells of one of the tables what it covers and how its rows were come by, so that a person can judge how far to lean on it.
type Table struct {
	// Key is limits, exclusions, colours or allergens.
	Key, Name string
	// Covers and Not are in words: what the rows speak of, and what no row speaks of.
	Covers, Instrument string
	Not                []string
	// AsOf is the day, year-month-day, on which the rows were last gone through by hand. The law may have changed on the day after.
	AsOf string
	// Rows is how many there are; Read of them were read in the source, Second at second hand, Memory from memory.
	Rows, Read, Second, Memory int
	Regions                    []Region
}

// Region is how many rows of a table speak of one region.
type Region struct {
	Region string
	Rows   int
}

// Tables tells of every table of this package, in the order in which a formula is held against them.
func Tables() []Table {
	limits := Table{Key: "limits", Name: "maxima, bans and warnings", Instrument: "Reg. (EC) 1223/2009 Annexes II, III and V with later changes; REACH Annex XVII; UK SI 2022/659; 21 CFR 250 and 700; panels' and committees' opinions, marked as no law",
		Covers: "preservatives, and a few other substances that a small maker meets, by region, rinsed off or left on, where it is used and by age", AsOf: asOf(limitsText),
		Not: []string{"most banned and restricted entries of Annexes II and III", "UV filters (Annex VI)", "nano materials", "hair dyes", "nail and eyelash products", "the states of the US, and every country that is not named here"}}
	for i := range Limits {
		limits.count(Limits[i].Mark, Limits[i].Regions)
	}
	together := Table{Key: "exclusions", Name: "what may not stand together", Instrument: "Reg. (EC) 1223/2009 Annex III entries 60 to 62, Annex V entries 39 and 57", Covers: "isothiazolinones, and what can make nitrosamines", AsOf: asOf(exclusionsText),
		Not: []string{"other pairs that law keeps apart", "pairs that only spoil one another: those are rules of chemistry, each with its own source"}}
	for i := range Exclusions {
		together.count(Exclusions[i].Mark, Exclusions[i].Regions)
	}
	colours := Table{Key: "colours", Name: "colours by field of use", Instrument: "Reg. (EC) 1223/2009 Annex IV; 21 CFR 73 and 74", Covers: "mineral colours, carmine, annatto and three dyes: where on the body each may be used", AsOf: asOf(coloursText),
		Not: []string{"the other colours of Annex IV", "purity of a colour, and lakes", "the lot's certificate number in the US, which stands on the tub"}}
	for i := range Colours {
		// a row has two sources, and is known no better than the worse of them
		mark := Colours[i].FromEU.Mark
		if weakness(Colours[i].FromUS.Mark) > weakness(mark) {
			mark = Colours[i].FromUS.Mark
		}
		colours.count(mark, Regions)
	}
	scents := Table{Key: "allergens", Name: "allergens of scents", Instrument: "Reg. (EC) 1223/2009 Annex III; Reg. (EU) 2023/1545", Covers: "allergens that a label names above 0.001 % left on and 0.01 % rinsed off", AsOf: asOf(allergensText),
		Not: []string{"what a scent holds: that is the supplier's statement for the lot", "groups that the regulation names together, beyond the names given here", "the US, for which this book has no list"}}
	for i := range Allergens {
		scents.count(Allergens[i].Mark, Allergens[i].Regions)
	}
	return []Table{limits, together, colours, scents}
}

// TableDate is the day, year-month-day, of the table of that key, "" for none.
func TableDate(key string) string {
	text, ok := map[string]string{"limits": limitsText, "exclusions": exclusionsText, "colours": coloursText, "allergens": allergensText}[key]
	if !ok {
		return ""
	}
	return asOf(text)
}

// asOf reads the first line of a table, "# as of 2026-11-25".
func asOf(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return strings.TrimSpace(strings.TrimPrefix(line, "# as of "))
}

func (t *Table) count(mark string, regions []string) {
	t.Rows++
	switch weakness(mark) {
	case 0:
		t.Read++
	case 1:
		t.Second++
	default:
		t.Memory++
	}
	for _, r := range regions {
		at := -1
		for i := range t.Regions {
			if t.Regions[i].Region == r {
				at = i
			}
		}
		if at < 0 {
			t.Regions = append(t.Regions, Region{Region: r})
			at = len(t.Regions) - 1
		}
		t.Regions[at].Rows++
	}
}

// weakness puts the marks of matter.Cite in order: read, read at second hand, from memory.
func weakness(mark string) int {
	switch mark {
	case "R":
		return 0
	case "R~":
		return 1
	}
	return 2
}
