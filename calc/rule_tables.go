package calc

import "strconv"

// ruleTables (E13): silence must not read as permission, so it is counted how many substances stand in the tables of limits here.
func ruleTables(e *evidence) []Finding {
	total := len(e.apart.Substances)
	if total == 0 {
		return nil
	}
	var missing []string
	for i := range e.apart.Substances {
		if inci := e.apart.Substances[i].Key; len(lawFor[inci]) == 0 {
			missing = append(missing, inci)
		}
	}
	if len(missing) == 0 {
		return nil
	}
	names := missing
	if len(names) > 6 { // the count says how many; a margin note is no place for forty names
		names = append(append([]string(nil), names[:5]...), strconv.Itoa(len(missing)-5)+" more")
	}
	figure := strconv.Itoa(total-len(missing)) + " of " + strconv.Itoa(total) + " substances found; " + strconv.Itoa(len(missing)) + " not"
	return []Finding{{Rule: "tables", Level: Unchecked, Says: "not checked: limits of " + list(names) + " are not in this book's tables, which is not a permission", Figure: figure,
		Limit: "EU Annex V preservatives only", Source: "this book's tables, as read for this edition", Do: "look up what law says of them where you sell; UK and US tables are not in this book yet"}}
}
