package calc

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// measure reads what a row says of its amount: only its shape; what it comes to is told when the whole formula is read.
func (r *csvReader) measure(l *CSVLine, row *cellRow) {
	wrong := func(says, do string) {
		l.Trouble = nameOr(l.Trouble, says)
		r.trouble(row.line, r.column(r.amount), says, do)
	}
	if isRest(l.Amount) {
		l.QS, l.unit = true, "rest"
		return
	}
	if l.Amount == "" {
		wrong("there is no amount", "write it, or 0 to leave the row out")
		return
	}
	switch strings.ToLower(l.Amount) {
	case "-", "–", "—", "n/a", "./.": // how a spreadsheet shows a zero, and people nothing
		l.unit, l.Says = "none", "nothing stands there, so it is left out"
		return
	}
	n, err := readNumber(l.Amount)
	switch {
	case l.Amount[0] == '=':
		wrong("“"+short(l.Amount)+"” is how a figure is worked out, and not the figure", "save the sheet with its values")
		return
	case l.Amount[0] == '#':
		wrong("“"+short(l.Amount)+"” is how a spreadsheet says that it could not work the figure out", "mend it there, or write the figure")
		return
	case parted(l.Amount):
		wrong("“"+short(l.Amount)+"” has a sign between its thousands", "write the digits together, such as 1084.5")
		return
	case err != nil && r.amount == "%":
		wrong(err.Says, err.Want+"; or q.s. for the one line that takes what is left")
		return
	case err != nil:
		wrong(err.Says, err.Want)
		return
	}
	unit := strings.ToLower(n.unit)
	switch {
	case n.negative:
		wrong(short(l.Amount)+" is below nothing", "write 0 or more")
	case strings.Trim(n.digits, "0") == "":
		l.unit, l.Says = "none", "0, so it is left out"
	case unit == "" && r.amount == "amount":
		l.unit = "bare"
	case unit == "%" || unit == "" && r.amount == "%":
		if l.unit = "%"; r.amount != "%" && r.amount != "amount" {
			wrong("per cent in a column of "+r.amount, "write all rows one way")
			return
		}
		if p, err := ReadPercent(l.Amount); err != nil {
			wrong(err.Says, err.Want)
		} else {
			l.Percent = p.String()
		}
	case r.amount == "%":
		wrong("“"+short(l.Amount)+"” is not a share in per cent", "write per cent by weight, such as 9.5")
	default:
		if l.unit = "g"; unit == "" {
			l.Amount += " " + r.amount
		}
		if s := readNoted(&NotedLine{Ingredient: l.Ingredient, Amount: l.Amount}, r.known); s.Trouble != "" {
			wrong(s.Trouble, "write grams")
		}
	}
}

// parted tells whether a blank or an apostrophe stands between two digits.
func parted(text string) bool {
	runes := []rune(text)
	for i := 1; i+1 < len(runes); i++ {
		if strings.ContainsRune(" '’", runes[i]) && isDigit(byte(min(runes[i-1], 127))) && isDigit(byte(min(runes[i+1], 127))) {
			return true
		}
	}
	return false
}

// signs finds a column that is written with commas in one row and points in another: one of them may part thousands.
func (r *csvReader) signs(f *CSVFormula) {
	comma, point := 0, 0
	for _, l := range f.Lines {
		switch {
		case l.QS:
		case strings.Contains(l.Amount, ","):
			comma = nonZero(comma, l.Line)
		case strings.Contains(l.Amount, "."):
			point = nonZero(point, l.Line)
		}
	}
	if comma > 0 && point > 0 && r.amount != "%" { // no share has thousands
		r.trouble(max(comma, point), r.column(r.amount), "this figure and that of line "+strconv.Itoa(min(comma, point))+" have different decimal signs", "write all with a comma or all with a point, and no sign between thousands")
	}
}

func nonZero(a, b int) int {
	if a != 0 {
		return a
	}
	return b
}

// finish turns the rows of a formula into shares and makes its draft.
func (r *csvReader) finish(f *CSVFormula) {
	for i := range r.file.Formulas {
		if &r.file.Formulas[i] == f {
			r.now = i
		}
	}
	before := len(r.file.Troubles)
	r.signs(f)
	kinds := map[string]int{}
	kept := f.Lines[:0:0]
	for _, l := range f.Lines {
		kinds[l.unit]++
		if l.unit != "none" {
			kept = append(kept, l)
		} else if len(r.file.Notes) < 40 {
			r.file.Notes = append(r.file.Notes, "line "+strconv.Itoa(l.Line)+": "+short(l.Typed)+": "+l.Says)
		}
	}
	f.Lines = kept
	r.bare(f, kinds)
	switch {
	case kinds["g"] > 0 && kinds["%"] > 0:
		r.trouble(f.Line, r.column(r.amount), "some rows are in per cent and some by mass", "write all rows one way")
	case kinds["g"] > 0 && kinds["rest"] > 0:
		r.trouble(f.Line, r.column(r.amount), "q.s. needs per cent, and the rows are by mass", "write grams for every row")
	case kinds["g"] > 0:
		r.byMass(f)
	default:
		r.byShare(f)
	}
	r.phases(f)
	f.Draft.Lines = f.Draft.Lines[:0]
	for i, l := range f.Lines {
		d := DraftLine{ID: strconv.Itoa(i + 1), Phase: l.Phase, Ingredient: l.Ingredient, Base: l.Base, Percent: l.Percent, QS: l.QS, Note: l.note}
		if len(d.Note) > longestCSVCell {
			d.Note = strings.ToValidUTF8(d.Note[:longestCSVCell], "")
		}
		f.Draft.Lines = append(f.Draft.Lines, d)
	}
	if len(r.file.Troubles) > before || r.troubled(f) {
		return
	}
	if _, err := ReadDraft(f.Draft, r.known); err != nil {
		r.trouble(f.Line, -1, err.Says, err.Want)
	}
}

func (r *csvReader) troubled(f *CSVFormula) bool {
	for _, t := range r.file.Troubles {
		if t.Formula == f.Name {
			return true
		}
	}
	return false
}

// bare decides what figures under "amount" without a unit are: per cent when they sum to 100, and otherwise it is not guessed.
func (r *csvReader) bare(f *CSVFormula, kinds map[string]int) {
	if kinds["bare"] == 0 {
		return
	}
	sum := decimal.Decimal{}
	for _, l := range f.Lines {
		if l.unit == "bare" {
			n, _ := readNumber(l.Amount)
			sum = sum.Add(n.decimal())
		}
	}
	share := kinds["g"] == 0 && (sum.Equal(decimal.New(100, 0)) || kinds["rest"] == 1 && sum.LessThan(decimal.New(100, 0)))
	for i := range f.Lines {
		l := &f.Lines[i]
		if l.unit != "bare" {
			continue
		}
		if p, err := ReadPercent(l.Amount); share && err == nil {
			l.unit, l.Percent = "%", p.String()
			continue
		}
		l.Trouble = "nothing says whether this is per cent or grams"
		r.trouble(l.Line, r.column(r.amount), l.Trouble, "write % or g into the heading")
	}
	if share {
		kinds["%"] += kinds["bare"]
		r.file.Notes = append(r.file.Notes, short(f.Name)+": no unit stands there; taken as per cent, since the figures sum to 100")
	}
}

// byShare adds up per cent.
func (r *csvReader) byShare(f *CSVFormula) {
	var sum Percent
	for _, l := range f.Lines {
		p, _ := ReadPercent(nameOr(l.Percent, "0"))
		sum += p
	}
	f.Total = sum.String() + " %"
	rest := 0
	for _, l := range f.Lines {
		if l.QS {
			rest++
		}
	}
	if rest == 1 && sum == Hundred {
		for i := range f.Lines {
			if l := &f.Lines[i]; l.QS {
				l.Says = strings.TrimPrefix(l.Says+"; the others come to 100 %, so nothing is left for it: give it a figure if some goes in", "; ")
			}
		}
	}
	if rest == 1 && sum <= Hundred {
		f.Total = "100.00 %, with " + (Hundred - sum).String() + " % as q.s."
	}
	if sum == OnePercent && rest == 0 && len(f.Lines) > 1 {
		r.trouble(f.Line, r.column(r.amount), "the shares sum to 1", "write per cent: 75.5 and not 0.755; show the column as plain numbers and multiply it by 100")
	}
	r.held(f, decimal.New(int64(sum), -4))
}

// byMass turns masses into shares that sum to exactly 100.
func (r *csvReader) byMass(f *CSVFormula) {
	noted := make([]NotedLine, len(f.Lines))
	for i, l := range f.Lines {
		noted[i] = NotedLine{Ingredient: l.Ingredient, Amount: l.Amount}
	}
	n := FromGrams(noted, r.known)
	f.Total = n.Grams.Round(3).String() + " g"
	for i := range f.Lines {
		l := &f.Lines[i]
		if n.Lines[i].Trouble != "" {
			continue
		}
		if l.Percent = n.Lines[i].Percent.String(); n.Lines[i].Percent == 0 {
			r.trouble(l.Line, r.column(r.amount), "this is less than 0.0001 % and would be lost", "leave it out, or weigh it in a dilution")
		}
		if n.Lines[i].Inexact {
			l.Says = "inexact: spoons, cups and drops are a guess; weigh it once"
		}
	}
	r.held(f, n.Grams)
}

// held compares the total that the file gives with what the rows come to: a difference is a row that is missing or misread.
func (r *csvReader) held(f *CSVFormula, sum decimal.Decimal) {
	for _, t := range r.totals {
		n, err := readNumber(t.typed)
		if t.formula != r.now || err != nil || n.unit != "" && n.unit != "%" && n.unit != "g" || r.amount != "%" && r.amount != "g" {
			continue
		}
		full := n.decimal()
		for _, l := range f.Lines {
			if l.QS {
				full = sum
			}
		}
		if full.Sub(sum).Abs().GreaterThan(decimal.New(5, -2)) {
			r.trouble(t.line, r.column(r.amount), "the file says "+short(t.typed)+" in all, and its rows come to "+f.Total, "a row is missing or misread; look at the rows above")
		}
	}
}

// phases gives each row its letter: a letter as written, a number in its order, a phase with a name the next free letter.
func (r *csvReader) phases(f *CSVFormula) {
	taken, given := map[string]bool{}, map[string]string{}
	letter := func(typed string) string {
		var left []string
		for _, w := range tokens(typed) {
			if csvHeadings[w] != "phase" {
				left = append(left, w)
			}
		}
		if len(left) == 1 && len(left[0]) == 1 && isPhaseMark(rune(left[0][0])) {
			return phaseLetter(rune(left[0][0]))
		}
		return ""
	}
	for _, l := range f.Lines {
		taken[letter(l.phaseTyped)] = true
	}
	treatments := map[string]string{}
	for i := range f.Lines {
		l := &f.Lines[i]
		if l.Phase = letter(l.phaseTyped); l.Phase == "" {
			if given[l.phaseTyped] == "" {
				free := "A"
				for c := 'A'; c <= 'Z' && taken[free]; c++ {
					free = string(c)
				}
				if taken[free] {
					r.trouble(l.Line, r.column("phase"), "there are more phases than letters", "put them together")
				}
				taken[free], given[l.phaseTyped] = true, free
			}
			l.Phase = given[l.phaseTyped]
		}
		if l.treatment != "" {
			treatments[l.Phase] = nameOr(treatments[l.Phase], l.treatment)
		}
	}
	for c := 'A'; c <= 'Z'; c++ {
		for _, l := range f.Lines {
			if l.Phase == string(c) {
				f.Draft.Phases = append(f.Draft.Phases, DraftPhase{Letter: l.Phase, Treatment: readTreatment(treatments[l.Phase])})
				break
			}
		}
	}
}
