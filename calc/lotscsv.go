package calc

import (
	"sort"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// LotsFile is what a table of lots was taken to mean, before anything is kept.
type LotsFile struct {
	Lots     []LotRow
	Troubles []CSVTrouble
	Notes    []string
}

// LotRow is one delivery as it stands in a row. Grams are exact digits; Expiry and Cost are as typed, less a sign of money.
type LotRow struct {
	Line                               int
	Typed, Ingredient, Name            string
	Grams, Code, Supplier, SupplierLot string
	Expiry, Cost                       string
	Says, Trouble                      string
	columns                            map[string]string // where each figure stood, as a trouble names it
}

// Column is where a figure of the row stood, "" when its column is not in the file. of is grams, code, expiry or cost.
func (l *LotRow) Column(of string) string { return l.columns[of] }

// lotHeadings are words for the columns of a list of deliveries (from memory); the words for ingredients and amounts are those of formulas.
var lotHeadings = map[string]string{
	"supplier": "supplier", "vendor": "supplier", "shop": "supplier", "lieferant": "supplier", "fournisseur": "supplier", "proveedor": "supplier", "fornitore": "supplier", "leverancier": "supplier", "dostawca": "supplier",
	"lot": "lot", "batch": "lot", "charge": "lot", "los": "lot", "lote": "lot", "lotto": "lot", "partij": "lot", "partia": "lot", "chargennummer": "lot", "lotnummer": "lot", "batchnummer": "lot",
	"code": "code", "tub": "code", "kurzel": "code", "codigo": "code", "codice": "code", "kod": "code",
	"expiry": "expiry", "expire": "expiry", "exp": "expiry", "best": "expiry", "mhd": "expiry", "haltbar": "expiry", "haltbarkeit": "expiry", "peremption": "expiry", "dlc": "expiry", "dluo": "expiry",
	"ddm": "expiry", "caducidad": "expiry", "vencimiento": "expiry", "scadenza": "expiry", "houdbaar": "expiry", "tht": "expiry", "wazne": "expiry",
	"cost": "cost", "price": "cost", "paid": "cost", "preis": "cost", "prix": "cost", "precio": "cost", "prezzo": "cost", "kosten": "cost", "cout": "cost", "coste": "cost", "costo": "cost", "prij": "cost", "cena": "cost", "eur": "cost", "usd": "cost", "gbp": "cost",
	"stock": "amount", "hand": "amount", "bestand": "amount", "lager": "amount", "received": "", "bought": "",
}

// lotHeadingOf reads what a column of a list of deliveries holds, "" when its heading is not known.
func lotHeadingOf(text string) string {
	words := tokens(text)
	found, unit := "", ""
	for _, w := range words {
		is, own := lotHeadings[w]
		switch {
		case own && is == "":
			return ""
		case is == "lot" && found == "supplier", is == "supplier" && found == "lot": // "supplier's lot"
			found = "lot"
		case is == "amount" && found == "":
			found = is
		case is != "" && (found == "" || found == "amount"):
			found = is
		case w == "by" && contains(words, "use"):
			found = "expiry"
		case csvUnits[csvHeadings[w]] && csvHeadings[w] != "%":
			unit = csvHeadings[w]
		}
	}
	switch {
	case found == "cost" && (unit != "" || contains(words, "per") || contains(words, "unit")): // a price per kilogram is not what the lot cost
		return ""
	case found != "" && found != "amount":
		return found
	case unit != "":
		return unit
	case found != "":
		return found
	}
	switch is := headingOf(text); is {
	case "name", "generic", "inci", "amount":
		return nameOr(map[string]string{"generic": "name"}[is], is)
	}
	return ""
}

// deliveries tells whether a heading is that of a list of lots: it dates them, says where they came from or what they cost, and knows neither phases nor per cent.
func deliveries(row *cellRow) bool {
	has := map[string]bool{}
	for _, c := range row.cells {
		has[lotHeadingOf(c)] = true
		has[headingOf(c)] = true
	}
	return has["expiry"] && (has["supplier"] || has["lot"] || has["cost"]) && !has["phase"] && !has["formula"] && !has["%"]
}

// LotsFromCSV reads a list of deliveries from a spreadsheet's file: an ingredient and how much came of it, and where the file tells them the supplier, their
// lot, the code on the tub, the expiry and what it cost. Separators, signs and languages are as in FormulasFromCSV. It never fails.
func LotsFromCSV(text string, known Known) LotsFile {
	r := lotsReader{known: known, names: namesOf(Known{Ingredients: known.Ingredients}), met: map[string]meaning{}}
	rows, ok := r.choose(text)
	if !ok {
		return r.file
	}
	for i := range rows {
		if len(r.file.Lots) >= mostCSVRows {
			r.trouble(rows[i].line, "", "the file has more than "+strconv.Itoa(mostCSVRows)+" rows", "part it into several files")
			break
		}
		r.row(&rows[i])
	}
	if len(r.file.Lots) == 0 && len(r.file.Troubles) == 0 {
		r.trouble(1, "", "there is a heading and no row under it", "write a row for each tub or bag")
	}
	return r.file
}

type lotsReader struct {
	known    Known
	names    []knownName
	met      map[string]meaning
	file     LotsFile
	at       map[string]int
	headings []string
	unit     string
}

func (r *lotsReader) trouble(line int, column, says, do string) {
	r.file.Troubles = append(r.file.Troubles, CSVTrouble{Line: line, Column: column, Says: says, Do: do})
}

func (r *lotsReader) place(what string) string {
	at, ok := r.at[what]
	if !ok {
		return ""
	}
	return strings.TrimSuffix(columnName(at)+", "+short(r.headings[at]), ", ")
}

// choose finds the separator under which the most headings are known, and gives the rows under them.
func (r *lotsReader) choose(text string) (under []cellRow, ok bool) {
	text, says, do := plainTable(text)
	if says != "" {
		r.trouble(1, "", says, do)
		return nil, false
	}
	open := 0
	for _, sep := range []byte{';', '\t', ',', '|'} {
		table, unclosed := readCells(text, sep)
		for i := range min(len(table), 40) {
			at, unit := map[string]int{}, ""
			for n, c := range table[i].cells {
				what := lotHeadingOf(c)
				if what != "" && what != "amount" && csvUnits[what] {
					what, unit = "amount", what
				}
				if _, twice := at[what]; what != "" && !twice {
					at[what] = n
				}
			}
			_, named := at["name"]
			_, inci := at["inci"]
			if _, amount := at["amount"]; amount && (named || inci) && len(at) > len(r.at) {
				r.at, r.unit, r.headings, under, open = at, unit, table[i].cells, table[i+1:], unclosed
			}
		}
	}
	if r.at == nil {
		r.trouble(1, "", "no heading was found that names an ingredient and how much of it came", "write a first row such as: ingredient; g; supplier; lot; expiry; cost")
		return nil, false
	}
	if open > 0 {
		r.trouble(open, "", "a quote opens here and never closes; nothing behind it was read", "close it, or take it out; a quote inside a text is written twice")
	}
	var taken []string
	means := map[string]string{"name": "the ingredient", "inci": "its INCI name", "amount": "how much came", "supplier": "the supplier", "lot": "their lot number", "code": "your code on the tub", "expiry": "the expiry", "cost": "what it cost"}
	for what, n := range r.at {
		taken = append(taken, columnName(n)+" ("+short(r.headings[n])+") is "+means[what])
	}
	sort.Strings(taken)
	r.file.Notes = append(r.file.Notes, "columns: "+strings.Join(taken, ", "))
	for n, h := range r.headings {
		read := h == ""
		for _, at := range r.at {
			read = read || at == n
		}
		if !read {
			r.file.Notes = append(r.file.Notes, "column "+columnName(n)+" ("+short(h)+") is not read")
		}
	}
	return under, true
}

func (r *lotsReader) row(row *cellRow) {
	cell := func(what string) string {
		if at, ok := r.at[what]; ok {
			return row.cell(at)
		}
		return ""
	}
	called, inci, amount := cell("name"), cell("inci"), cell("amount")
	if called == "" && inci == "" && amount == "" {
		return
	}
	if w := tokens(nameOr(called, nameOr(inci, row.cell(0)))); len(w) > 0 && len(w) <= 3 && csvTotals[w[0]] {
		return
	}
	l := LotRow{Line: row.line, Typed: nameOr(called, inci), Code: cell("code"), Supplier: cell("supplier"), SupplierLot: cell("lot"), Expiry: cell("expiry"), Cost: plainMoney(cell("cost")), columns: map[string]string{}}
	for field, what := range map[string]string{"grams": "amount", "code": "code", "expiry": "expiry", "cost": "cost"} {
		l.columns[field] = r.place(what)
	}
	wrong := func(what, says, do string) {
		l.Trouble = nameOr(l.Trouble, says)
		r.trouble(row.line, r.place(what), says, do)
	}
	for i, c := range row.cells {
		if len(c) > longestCSVCell {
			r.trouble(row.line, columnName(i), "this cell is longer than any name or figure", "shorten it")
			return
		}
	}
	if len(row.cells) > len(r.headings) && (&cellRow{cells: row.cells[len(r.headings):]}).filled() > 0 {
		r.trouble(row.line, columnName(len(r.headings)), "the row has more cells than the heading", "a figure with a decimal comma needs quotes around it, or save the file with semicolons or tabs")
		return
	}
	m := r.match(called)
	if n := r.match(inci); !m.sure && n.sure {
		m, l.Says = n, "taken by its INCI name"
	}
	switch {
	case m.sure:
		if l.Ingredient, l.Name = m.choice.Key, m.choice.Name; !m.exact && l.Says == "" {
			l.Says = "taken as " + l.Name
		}
	case l.Typed == "":
		wrong("name", "nothing says which ingredient this is", "write its name, or take the row out")
	default:
		do := "write it down as an ingredient of your own first, or write the name that it has here"
		if len(m.choices) > 0 {
			do = "write one of these: " + nameChoices(m.choices) + "; or write it down as an ingredient of your own"
		}
		wrong("name", "“"+short(l.Typed)+"” is not known here for certain", do)
	}
	l.Grams = r.grams(&l, amount, wrong)
	r.file.Lots = append(r.file.Lots, l)
}

func (r *lotsReader) match(words string) meaning {
	if words == "" {
		return meaning{}
	}
	m, known := r.met[words]
	if !known {
		m = bestMatch(words, r.names)
		r.met[words] = m
	}
	return m
}

// grams reads how much came, in the unit of the cell, else of the heading.
func (r *lotsReader) grams(l *LotRow, amount string, wrong func(what, says, do string)) string {
	n, err := readNumber(amount)
	switch {
	case amount == "":
		wrong("amount", "nothing says how much came", "write grams or kilograms")
		return ""
	case err != nil:
		wrong("amount", err.Says, err.Want)
		return ""
	case n.negative:
		wrong("amount", short(amount)+" is below nothing", "write what came")
		return ""
	case n.unit == "" && r.unit == "":
		wrong("amount", "nothing says whether this is grams or kilograms", "write g or kg into the heading")
		return ""
	case n.unit == "":
		amount += " " + r.unit
	}
	s := readNoted(&NotedLine{Ingredient: l.Ingredient, Amount: amount}, r.known)
	switch {
	case s.Trouble != "":
		wrong("amount", s.Trouble, "write grams")
		return ""
	case s.Inexact:
		wrong("amount", "spoons, cups and drops are a guess", "weigh what is in the tub, and write grams")
		return ""
	}
	grams := s.Grams.Round(3)
	if !grams.Equal(s.Grams) {
		l.Says = strings.TrimPrefix(l.Says+"; to the milligram", "; ")
	}
	if grams.LessThan(decimal.New(1, -3)) {
		wrong("amount", "this is less than a milligram", "leave the row out, or write what came")
	}
	return grams.String()
}

// plainMoney takes the sign of a money, or the letters of EUR, USD, GBP, CHF and Fr., off an amount. A point goes with letters that it ends, never
// with a figure: ".75" stays as it is, and so does "Fr.75", which may be 75 or 0.75.
func plainMoney(text string) string {
	const signs, letters = "€$£¥ \u00a0", "BCDEFGHPRSUbcdefghprsu"
	t := strings.TrimSpace(text)
	rest := strings.TrimLeft(t, signs+letters)
	before := t[:len(t)-len(rest)]
	if after, point := strings.CutPrefix(rest, "."); point && before != "" && strings.ContainsAny(before[len(before)-1:], letters) {
		if after != "" && after[0] >= '0' && after[0] <= '9' && !strings.ContainsAny(after, ".,") {
			return t
		}
		rest = strings.TrimLeft(after, signs)
	}
	rest = strings.TrimRight(rest, signs)
	if word, point := strings.CutSuffix(rest, "."); point && word != "" && strings.ContainsAny(word[len(word)-1:], letters) {
		rest = word
	}
	return strings.TrimRight(rest, signs+letters)
}

func nameChoices(choices []NotebookChoice) string {
	names := make([]string, 0, 4)
	for _, c := range choices {
		names = append(names, c.Name)
	}
	return list(names)
}
