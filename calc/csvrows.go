package calc

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// heading takes a row of headings for the rows under it.
func (r *csvReader) heading(row *cellRow) {
	c := columnsOf(row)
	r.columns, r.headings, r.amount = c.at, row.cells, ""
	for _, unit := range []string{"%", "g", "kg", "mg", "oz", "lb", "amount"} {
		switch at, ok := c.at[unit]; {
		case !ok:
		case r.amount == "":
			r.amount = unit
		default:
			r.note(row, at, "is not read: "+r.heading1(c.at[r.amount])+" goes before it")
		}
	}
	for _, at := range c.twice {
		r.trouble(row.line, at, "two columns hold "+r.amount, "leave one of them")
	}
	for _, at := range c.unread {
		r.note(row, at, "is not read")
	}
	r.taken(row, c)
	if _, ok := c.at["formula"]; ok && r.byName == nil {
		r.byName = map[string]int{}
	}
}

// taken notes what each column was taken for.
func (r *csvReader) taken(row *cellRow, c csvColumns) {
	means := map[string]string{"formula": "the formula's name", "phase": "the phase", "name": "the ingredient", "inci": "its INCI name", "%": "per cent", "amount": "the amount", "note": "why it is there",
		"treatment": "what is done with the phase", "kind": "rinse-off or leave-on", "credit": "whose formula it is"}
	var columns []string
	for i := range row.cells {
		for what, at := range c.at {
			if at == i && (!csvUnits[what] && what != "amount" || what == r.amount) {
				columns = append(columns, columnName(i)+" ("+short(row.cells[i])+") is "+nameOr(means[what], what))
			}
		}
	}
	if says := "columns: " + strings.Join(columns, ", "); len(r.file.Notes) < 40 && !contains(r.file.Notes, says) {
		r.file.Notes = append(r.file.Notes, says)
	}
}

func (r *csvReader) heading1(column int) string {
	return "column " + columnName(column) + " (" + short(r.headings[column]) + ")"
}

func (r *csvReader) note(row *cellRow, column int, says string) {
	if says = r.heading1(column) + " " + says; len(r.file.Notes) < 40 && !contains(r.file.Notes, says) {
		r.file.Notes = append(r.file.Notes, says)
	}
}

// walk reads all rows; what stands above the first heading can only be a name.
func (r *csvReader) walk(rows []cellRow, first int) {
	for i := range first {
		if rows[i].filled() == 1 && r.title == "" {
			r.title = strings.Join(rows[i].cells, "")
		}
	}
	parted := false
	for i := first; i < len(rows); i++ {
		row := &rows[i]
		if row.blank() {
			parted = true
			continue
		}
		c := columnsOf(row)
		switch {
		case !parted && r.again(row): // printed anew at the top of a page
		case c.amounts() > 0 && (c.has("name") || c.has("inci")) && len(c.at) >= 2 && !r.figure(row):
			r.heading(row)
			parted = true
		case r.heading2(row):
		case row.filled() == 1 && (parted || r.now < 0) && r.cell(row, r.amount) == "" && r.byName == nil:
			r.title, parted = strings.Join(row.cells, ""), true
		default:
			if !r.row(row, parted) {
				return
			}
			parted = false
		}
	}
}

// again tells whether a row is the heading once more, in the middle of a formula.
func (r *csvReader) again(row *cellRow) bool {
	return r.now >= 0 && len(r.file.Formulas[r.now].Lines) > 0 && strings.EqualFold(strings.Join(row.cells, "\t"), strings.Join(r.headings, "\t"))
}

// figure tells whether the amount cell of a row holds a figure: then it is no heading, whatever its words are.
func (r *csvReader) figure(row *cellRow) bool {
	_, err := readNumber(r.cell(row, r.amount))
	return r.columns != nil && err == nil
}

// heading2 takes a row that only names a phase.
func (r *csvReader) heading2(row *cellRow) bool {
	if row.filled() != 1 {
		return false
	}
	words := tokens(strings.Join(row.cells, ""))
	if len(words) != 2 || csvHeadings[words[0]] != "phase" {
		return false
	}
	r.phase = strings.ToUpper(words[1])
	return true
}

func (r *csvReader) cell(row *cellRow, what string) string {
	at, ok := r.columns[what]
	if !ok {
		return ""
	}
	return row.cell(at)
}

func (r *csvReader) column(what string) int {
	if at, ok := r.columns[what]; ok {
		return at
	}
	return -1
}

// begin makes sure that there is a formula to add rows to.
func (r *csvReader) begin(row *cellRow, parted bool) bool {
	name := r.cell(row, "formula")
	if r.byName != nil {
		name = nameOr(name, nameOr(r.last, nameOr(r.title, r.named)))
		r.last = name
		if at, ok := r.byName[strings.ToLower(name)]; ok {
			r.now = at
			return true
		}
	} else if r.now >= 0 && !parted {
		return true
	}
	if name == "" {
		name, r.title = r.title, ""
	}
	if name == "" {
		if name = nameOr(r.named, "Formula"); len(r.file.Formulas) > 0 {
			name += " " + strconv.Itoa(len(r.file.Formulas)+1)
		}
	}
	if len(r.file.Formulas) >= mostCSVFormulas {
		r.trouble(row.line, -1, "the file holds more than "+strconv.Itoa(mostCSVFormulas)+" formulas", "part it into several files")
		return false
	}
	r.file.Formulas = append(r.file.Formulas, CSVFormula{Name: name, Line: row.line, Lines: []CSVLine{}, Draft: Draft{Name: name, Age: "adults", Phases: []DraftPhase{}, Lines: []DraftLine{}}})
	if r.now = len(r.file.Formulas) - 1; r.byName != nil {
		r.byName[strings.ToLower(name)] = r.now
	}
	r.phase = ""
	return true
}

// row reads one row of a formula; false ends the reading.
func (r *csvReader) row(row *cellRow, parted bool) bool {
	called, inci, amount := r.cell(row, "name"), r.cell(row, "inci"), r.cell(row, r.amount)
	if sum, all := isSum(tokens(nameOr(called, nameOr(inci, row.cell(0))))); sum && !r.match(called).sure {
		if r.now >= 0 && amount != "" && all {
			r.totals = append(r.totals, csvTotal{r.now, row.line, amount})
		}
		return true
	}
	if called == "" && inci == "" && r.sumSoFar(amount) {
		r.totals = append(r.totals, csvTotal{r.now, row.line, amount})
		return true
	}
	if is := headingOf(amount); called == "" && inci == "" && csvUnits[is] && r.amount == "amount" && (r.now < 0 || len(r.file.Formulas[r.now].Lines) == 0) {
		r.columns[is], r.amount = r.columns[r.amount], is // the unit stands in a second row of the heading
		return true
	}
	if !r.begin(row, parted) {
		return false
	}
	f := &r.file.Formulas[r.now]
	if len(f.Lines) >= mostOfOne {
		r.trouble(row.line, -1, "one formula has more than "+strconv.Itoa(mostOfOne)+" rows", "part it, or put a blank line between two formulas")
		return false
	}
	if len(row.cells) > len(r.headings) {
		if (&cellRow{cells: row.cells[len(r.headings):]}).filled() > 0 {
			r.trouble(row.line, len(r.headings), "the row has more cells than the heading", "a figure with a decimal comma needs quotes around it, or save the file with semicolons or tabs")
			return true
		}
	}
	for i, c := range row.cells {
		if len(c) > longestCSVCell && i != r.column("note") {
			r.trouble(row.line, i, "this cell is longer than any name or figure", "shorten it")
			return true
		}
	}
	if p := r.cell(row, "phase"); p != "" {
		r.phase = p
	}
	if c := r.cell(row, "credit"); c != "" {
		f.Credit = c
	}
	if k := strings.ToLower(r.cell(row, "kind")); k == "rinse-off" || k == "leave-on" {
		f.Draft.Wash = k
	}
	l := CSVLine{Line: row.line, Typed: nameOr(called, inci), Amount: amount, phaseTyped: r.phase, note: r.cell(row, "note"), treatment: r.cell(row, "treatment")}
	if called == "" && inci == "" && amount == "" {
		return true // a remark, or a line drawn under the formula
	}
	r.mean(&l, row, called, inci)
	r.measure(&l, row)
	f.Lines = append(f.Lines, l)
	return true
}

// sumSoFar tells whether a figure without a name is what the rows above it come to.
func (r *csvReader) sumSoFar(amount string) bool {
	n, err := readNumber(amount)
	if err != nil || r.now < 0 || len(r.file.Formulas[r.now].Lines) < 2 {
		return false
	}
	sum := decimal.Decimal{}
	for _, l := range r.file.Formulas[r.now].Lines {
		x, err := readNumber(l.Amount)
		if l.QS {
			return n.decimal().Equal(decimal.New(100, 0))
		}
		if err != nil {
			return false
		}
		sum = sum.Add(x.decimal())
	}
	return sum.Equal(n.decimal())
}

// mean finds which ingredient a row is, by its name and else by its INCI name.
func (r *csvReader) mean(l *CSVLine, row *cellRow, called, inci string) {
	by, at := called, r.column("name")
	m := r.match(called)
	if !m.sure && inci != "" {
		if n := r.match(inci); n.sure || called == "" {
			if m, by, at = n, inci, r.column("inci"); called != "" && n.sure {
				l.Says = "taken by its INCI name"
			}
		}
	}
	if m.sure {
		if l.Name = m.choice.Name; m.choice.Base {
			l.Base = m.choice.Key
		} else {
			l.Ingredient = m.choice.Key
		}
		blends := blendsOf(m, r.known)
		switch {
		case l.Says != "":
		case len(blends) > 0:
			l.Says = "taken as " + l.Name + " and nothing else; is it a blend, write its name, such as " + blends[0].Name
		case !m.exact && !strings.EqualFold(by, l.Name):
			l.Says = "taken as " + l.Name
		}
		return
	}
	says, do := "“"+short(by)+"” is not known here", "write it down as an ingredient of your own first, or write the name that it has here"
	switch {
	case by == "":
		says, do = "nothing says which ingredient this is", "write its name, or take the row out"
	case len(m.choices) > 0:
		says, do = "“"+short(by)+"” is not known here for certain", "write one of these: "+nameChoices(m.choices)+"; or write it down as an ingredient of your own"
	}
	l.Trouble = says
	r.trouble(row.line, max(at, 0), says, do)
}

// match is bestMatch, asked once for each wording.
func (r *csvReader) match(words string) meaning {
	m, known := r.met[words]
	if !known {
		m = bestMatch(words, r.names)
		r.met[words] = m
	}
	return m
}
