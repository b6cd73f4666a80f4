package calc

import (
	"strconv"

	"stillroom/calc/law"
	"stillroom/calc/matter"
)

// LawTable is what a table of law tells of itself, in words.
type LawTable struct {
	Key        string   `json:"key"`
	Name       string   `json:"name"`
	Covers     string   `json:"covers"`
	Instrument string   `json:"instrument"`
	AsOf       string   `json:"asOf"`
	Rows       string   `json:"rows"`
	Regions    string   `json:"regions"`
	Known      string   `json:"known"`
	Not        []string `json:"not"`
}

// NotInTables explains what “not in this book's tables” means, wherever it is said.
const NotInTables = "“Not in this book's tables” means that no row here names the substance. It is no permission: law may limit it, ban it or ask for a warning all the same. Most substances of a formula stand in no table, since most have no limit of their own; which of them, this book cannot tell. Look each up in the law of the place where you sell, or ask the qualified person who assesses the product."

// LawTables tells of each table of law what it covers, from when it is, how its rows were come by, and what is not in it.
func LawTables() []LawTable {
	var out []LawTable
	for _, t := range law.Tables() {
		x := LawTable{Key: t.Key, Name: t.Name, Covers: t.Covers, Instrument: t.Instrument, AsOf: dayWords(t.AsOf), Rows: counted1(t.Rows, "row"), Not: t.Not}
		for i, r := range t.Regions {
			if i > 0 {
				x.Regions += ", "
			}
			x.Regions += r.Region + " " + strconv.Itoa(r.Rows)
		}
		x.Known = strconv.Itoa(t.Read) + " read in the source, " + strconv.Itoa(t.Second) + " at second hand, " + strconv.Itoa(t.Memory) + " from memory"
		out = append(out, x)
	}
	return out
}

// GivenSays tells from when the given list of ingredients is.
const GivenSays = "Figures of ingredients come from the given list, as of " + matter.ListDate + ", each with its own source. A supplier's document or your own entry stands above it, and the ingredient's page shows which of the three a figure is."

func counted1(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + one + "s"
}

type lawTablesAnswer struct {
	Tables []LawTable `json:"tables"`
	Not    string     `json:"notInTables"`
}

const exampleLawTables = "{}\n"

func doLawTables(request []byte) (any, *FieldError) {
	var ask struct{}
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	return lawTablesAnswer{LawTables(), NotInTables}, nil
}
