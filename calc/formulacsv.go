package calc

import (
	"strconv"
	"strings"
)

// CSVFile is what a spreadsheet's file was taken to mean, before anything is kept. Ready is true when nothing stands in the way of any
// formula: what is kept is all of them or none.
type CSVFile struct {
	Formulas []CSVFormula `json:"formulas"`
	Troubles []CSVTrouble `json:"troubles"`
	// Notes are worth knowing: which columns were not read, what was left out.
	Notes []string `json:"notes"`
	Ready bool     `json:"ready"`
}

// CSVTrouble is what stands in the way, with its place: the line of the file from 1, and the column as a spreadsheet names it ("C, %").
type CSVTrouble struct {
	Line    int    `json:"line"`
	Column  string `json:"column"`
	Formula string `json:"formula"`
	Says    string `json:"says"`
	Do      string `json:"do"`
}

// CSVFormula is one formula of the file; its draft sums to exactly 100 when no trouble names it.
type CSVFormula struct {
	Name  string    `json:"name"`
	Line  int       `json:"line"`
	Total string    `json:"total"`
	Lines []CSVLine `json:"lines"`
	Draft Draft     `json:"draft"`
	// Credit is whose formula it was, "" when the file does not say.
	Credit string `json:"credit"`
}

// CSVLine is one row as it was understood.
type CSVLine struct {
	Line       int    `json:"line"`
	Typed      string `json:"typed"`
	Phase      string `json:"phase"`
	Ingredient string `json:"ingredient"`
	Base       string `json:"base"`
	Name       string `json:"name"`
	Amount     string `json:"amount"`
	Percent    string `json:"percent"`
	QS         bool   `json:"qs"`
	Says       string `json:"says"`
	Trouble    string `json:"trouble"`

	note, treatment, phaseTyped, unit string
}

const (
	mostCSVRows     = 5000
	mostCSVFormulas = 100
	longestCSVCell  = 400
	mostOfOne       = 400 // lines in one formula
)

// FormulasFromCSV reads formulas from a spreadsheet's file in per cent or by mass. Headings may stand in any order and case, in several
// languages; the separator may be ; tab , or |, the decimal sign comma or point. Several formulas are parted by a column that names
// them, by blank lines or by their own headings. name is for a formula that has none in the file. It never fails: what cannot be used is a trouble with its place.
func FormulasFromCSV(text, name string, known Known) CSVFile {
	r := &csvReader{known: known, named: name, names: namesOf(known), met: map[string]meaning{}, file: CSVFile{Formulas: []CSVFormula{}, Troubles: []CSVTrouble{}, Notes: []string{}}}
	text, says, do := plainTable(text)
	if says != "" {
		r.trouble(1, -1, says, do)
		return r.file
	}
	rows, first, ok := r.choose(text)
	if !ok {
		return r.file
	}
	if len(rows) > mostCSVRows {
		r.trouble(rows[mostCSVRows].line, -1, "the file has more than "+strconv.Itoa(mostCSVRows)+" rows", "part it into several files")
		rows = rows[:mostCSVRows]
	}
	r.walk(rows, first)
	for i := range r.file.Formulas {
		r.finish(&r.file.Formulas[i])
	}
	r.ends()
	return r.file
}

// ends judges the file as a whole.
func (r *csvReader) ends() {
	if len(r.file.Formulas) == 0 && len(r.file.Troubles) == 0 {
		r.trouble(1, -1, "there is a heading and no row under it", "write a row for each ingredient")
	}
	met := map[string]bool{}
	for _, f := range r.file.Formulas {
		if low := strings.ToLower(f.Name); met[low] {
			r.file.Troubles = append(r.file.Troubles, CSVTrouble{f.Line, "", f.Name, "two formulas of this file are called " + short(f.Name), "give each a name of its own"})
		} else {
			met[low] = true
		}
	}
	r.file.Ready = len(r.file.Troubles) == 0
}

// csvReader reads row after row under the heading that was last met.
type csvReader struct {
	known Known
	names []knownName
	met   map[string]meaning
	named string
	file  CSVFile

	columns  map[string]int // what is read, and in which column
	headings []string
	amount   string // %, g, mg, kg, oz, lb, or amount when the cells say the unit themselves
	byName   map[string]int
	now      int    // formula that rows are added to, -1 before the first
	title    string // name that stands over the next formula
	phase    string
	last     string // name of the row before, for cells that were merged
	totals   []csvTotal
}

type csvTotal struct {
	formula, line int
	typed         string
}

func (r *csvReader) trouble(line, column int, says, do string) {
	t := CSVTrouble{Line: line, Says: says, Do: do}
	if column >= 0 {
		t.Column = columnName(column)
		if column < len(r.headings) && r.headings[column] != "" {
			t.Column += ", " + short(r.headings[column])
		}
	}
	if r.now >= 0 && r.now < len(r.file.Formulas) {
		t.Formula = r.file.Formulas[r.now].Name
	}
	r.file.Troubles = append(r.file.Troubles, t)
}

// choose finds the separator under which the most headings are known, and the row that they stand in.
func (r *csvReader) choose(text string) (rows []cellRow, heading int, ok bool) {
	r.now = -1
	best, open := 0, 0
	for _, sep := range []byte{';', '\t', ',', '|'} {
		table, unclosed := readCells(text, sep)
		for i := range min(len(table), 40) {
			c := columnsOf(&table[i])
			if c.amounts() > 0 && (c.has("name") || c.has("inci")) && len(c.at) > best {
				best, rows, heading, open = len(c.at), table, i, unclosed
			}
		}
	}
	if best == 0 {
		r.trouble(1, -1, "no heading was found that names an ingredient and an amount", "write a first row such as: ingredient; phase; % (or g instead of %)")
		return nil, 0, false
	}
	if deliveries(&rows[heading]) {
		r.trouble(rows[heading].line, -1, "this looks like a list of what came in and not like a formula", "choose the sheet with the formulas; a list of lots is brought in with “stillroom import -lots” or received at the shelf, tub by tub")
		return nil, 0, false
	}
	if open > 0 {
		r.trouble(open, -1, "a quote opens here and never closes; nothing behind it was read", "close it, or take it out; a quote inside a text is written twice")
	}
	return rows, heading, true
}

// csvColumns are the columns of a heading by what they hold.
type csvColumns struct {
	at     map[string]int
	twice  []int
	unread []int
}

func (c *csvColumns) has(what string) bool { _, ok := c.at[what]; return ok }

func (c *csvColumns) amounts() int {
	n := 0
	for what := range c.at {
		if csvUnits[what] || what == "amount" {
			n++
		}
	}
	return n
}

func columnsOf(row *cellRow) csvColumns {
	c := csvColumns{at: map[string]int{}}
	for i, text := range row.cells {
		what := headingOf(text)
		switch {
		case text == "":
		case what == "":
			c.unread = append(c.unread, i)
		case c.has(what) && csvUnits[what]:
			c.twice = append(c.twice, i)
		case c.has(what):
			c.unread = append(c.unread, i)
		default:
			c.at[what] = i
		}
	}
	if at, ok := c.at["generic"]; ok {
		delete(c.at, "generic")
		switch {
		case !c.has("name"):
			c.at["name"] = at
		case !c.has("formula"):
			c.at["formula"] = at
		default:
			c.unread = append(c.unread, at)
		}
	}
	return c
}
