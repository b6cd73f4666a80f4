package calc

import (
	"strconv"

	"stillroom/calc/law"
)

// ruleTables (E13): silence must not read as permission, so it is counted how many substances stand in the tables of this region.
func ruleTables(e *evidence) []Finding {
	found, missing := e.inTables(e.k.region())
	if len(missing) == 0 {
		return nil
	}
	names := missing
	if len(names) > 6 { // the count says how many; a margin note is no place for forty names
		names = append(append([]string(nil), names[:5]...), strconv.Itoa(len(missing)-5)+" more")
	}
	return []Finding{{Rule: "tables", Level: Unchecked, Says: "not checked: limits of " + list(names) + " are not in this book's tables; that is no permission", Figure: countFound(found, missing),
		Limit: "this book's tables for the " + e.k.region(), Source: "limits, colours and allergens, " + lawDate, Date: tableDate("limits"), Do: "look up what law says of them where you sell"}}
}

func countFound(found, missing []string) string {
	total := len(found) + len(missing)
	return strconv.Itoa(len(found)) + " of " + strconv.Itoa(total) + " substances found; " + strconv.Itoa(len(missing)) + " not"
}

// inTables parts the substances of the composition by whether a table of the region names them.
func (e *evidence) inTables(region string) (found, missing []string) {
	for i := range e.apart.Substances {
		inci := e.apart.Substances[i].Key
		known := false
		for _, l := range lawFor[inci] {
			known = known || l.In(region)
		}
		if known || colourOf(inci) != nil || isAllergen(inci, region) {
			found = append(found, inci)
		} else {
			missing = append(missing, inci)
		}
	}
	return found, missing
}

func colourOf(inci string) *law.Colour {
	for i := range law.Colours {
		if law.Colours[i].INCI == inci {
			return &law.Colours[i]
		}
	}
	return nil
}

func isAllergen(inci, region string) bool {
	for i := range law.Allergens {
		if a := &law.Allergens[i]; a.INCI == inci {
			return contains(a.Regions, region)
		}
	}
	return false
}
