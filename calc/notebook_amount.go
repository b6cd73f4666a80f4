package calc

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"
)

// notebookAmount is the amount found on a line and what is left of the line without it.
type notebookAmount struct {
	// kind is mass, percent, qs, volume, spoon, bare (a figure without a unit) or "" for none.
	kind    string
	mass    Mass
	percent Percent
	ml      decimal.Decimal
	number  number
	text    string // read back with its unit
	words   string // the line without it
	note    string // what stood in brackets
	fill    string // "500 g" of "q.s. to 500 g"
	unused  []string
	spaced  string // "2 084 g": a figure before three digits, which may be thousands
	says    string
	trouble string
}

// spoons are the kitchen measures as people write them, by the name that they are shown under.
var spoons = map[string]string{"tsp": "tsp", "teaspoon": "tsp", "teaspoons": "tsp", "tbsp": "tbsp", "tbs": "tbsp", "tablespoon": "tbsp", "tablespoons": "tbsp",
	"cup": "cup", "cups": "cup", "drop": "drops", "drops": "drops"}

// figure is one figure on a line, with its unit when it has one.
type figure struct {
	from, to int // bytes of the line
	n        number
	exact    decimal.Decimal
	unit     string // as written
	kind     string // mass, volume, spoon, percent, temperature or bare
	bracket  bool
	ranged   bool
	negative bool
	trouble  string
}

// findAmount finds the amount on a line. A mass or a volume stands above a share, which may belong to the name ("lactic acid 80 %, 3 g");
// of several shares the last is the amount, or the first when the line begins with it.
func findAmount(line string) notebookAmount {
	line = withoutNumbering(line)
	figures := figuresOn(line)
	if a, ok := findQS(line, figures); ok {
		return a
	}
	pick, also := choose(line, figures)
	if pick < 0 {
		words, note := brackets(line)
		return notebookAmount{words: words, note: note}
	}
	f := figures[pick]
	a := notebookAmount{kind: f.kind, number: f.n}
	rest := cut(line, f.from, f.to)
	if also >= 0 {
		g := figures[also]
		rest = cut(line, min(f.from, g.from), max(f.to, g.to))
	}
	a.words, a.note = brackets(rest)
	for i, o := range figures {
		if i != pick && i != also && (o.kind != "bare" || o.to < f.from && strings.TrimSpace(line[o.to:f.from]) == "") {
			a.unused = append(a.unused, strings.TrimSpace(line[o.from:o.to]))
			if o.kind == "bare" && len(f.n.digits)-f.n.places == 3 {
				a.spaced = strings.TrimSpace(line[o.from:f.to])
			}
		}
	}
	a.read(f)
	if also >= 0 {
		b := notebookAmount{}
		b.read(figures[also])
		a.mass, a.text = a.mass+b.mass, a.text+" "+b.text
	}
	for i, o := range figures {
		if i != pick && i != also && o.kind == f.kind && (f.kind == "mass" || f.kind == "volume") && !o.bracket && a.trouble == "" {
			a.trouble = "two amounts stand on this line; write one"
		}
	}
	return a
}

// choose picks the figure that is the amount; also is the ounces behind the pounds, or −1.
func choose(line string, figures []figure) (pick, also int) {
	pick, also = -1, -1
	for _, kind := range []string{"mass", "volume", "spoon", "percent", "bare"} {
		for _, inBrackets := range []bool{false, true} {
			for i, f := range figures {
				if f.kind != kind || f.bracket != inBrackets {
					continue
				}
				first := strings.Trim(line[:f.from], " -–—*•·~≈") == ""
				last := strings.Trim(line[f.to:], " .,;:-–—)") == ""
				if kind == "bare" && !first && !last {
					continue
				}
				if pick < 0 || kind != "mass" && !startsWith(line, figures[pick]) {
					pick = i
				} else if u, _ := findUnit(f.unit); kind == "mass" && also < 0 && u.name == unitOZ.name && strings.TrimSpace(line[figures[pick].to:f.from]) == "" {
					if p, _ := findUnit(figures[pick].unit); p.name == unitLB.name {
						also = i
					}
				}
			}
			if pick >= 0 {
				return pick, also
			}
		}
	}
	return pick, also
}

func startsWith(line string, f figure) bool {
	return strings.Trim(line[:f.from], " -–—*•·~≈") == ""
}

func cut(line string, from, to int) string { return line[:from] + " " + line[to:] }

// read turns the figure into grams, millilitres or per cent, with its trouble.
func (a *notebookAmount) read(f figure) {
	v := f.exact
	a.text = v.String()
	switch {
	case f.trouble != "":
		a.trouble, a.text = f.trouble, ""
		return
	case f.ranged:
		a.trouble = "a range is not an amount; write one figure"
	case f.negative && !v.IsZero():
		a.trouble = "an amount below nothing; write one above 0"
	}
	switch f.kind {
	case "mass":
		u, _ := findUnit(f.unit)
		a.text += " " + u.name
		mg := v.Mul(u.factor).Shift(3)
		switch {
		case a.trouble != "":
		case mg.GreaterThan(heaviestDecimal):
			a.trouble = a.text + " is more than a tonne"
		case !mg.Round(0).IsPositive():
			a.trouble = a.text + " is less than a milligram; nothing of it would be weighed"
		default:
			a.mass = Mass(mg.Round(0).IntPart())
			if !mg.Equal(mg.Round(0)) {
				a.says = "rounded to the milligram"
			}
		}
		if f.n.places == 3 && len(f.n.digits) <= 6 && len(f.n.digits) > 3 && f.n.digits[0] != '0' && a.trouble == "" {
			a.says = "read with a decimal sign; for thousands write " + f.n.digits + " " + u.name
		}
	case "volume":
		u, _ := findUnit(f.unit)
		a.text += " " + u.name
		a.ml = v.Mul(u.factor)
	case "spoon":
		s := spoons[strings.ToLower(f.unit)]
		a.text += " " + s
		a.ml = v.Mul(kitchen[s])
	case "percent":
		a.text += " %"
		units := v.Shift(4)
		switch {
		case a.trouble != "":
		case units.GreaterThan(decimal.New(int64(Hundred), 0)):
			a.trouble = a.text + " is more than a full jar"
		case !units.Equal(units.Round(0)):
			a.trouble = a.text + " is finer than 0.0001 %"
		default:
			a.percent = Percent(units.IntPart())
		}
	}
	if (f.kind == "volume" || f.kind == "spoon") && a.trouble == "" && a.ml.GreaterThan(heaviestDecimal.Shift(-3)) {
		a.trouble = a.text + " is more than a tonne"
	}
}

// figuresOn finds the figures of a line that stand by themselves; those inside a word (PEG-40, C14-16) belong to it.
func figuresOn(line string) []figure {
	var out []figure
	depth := 0
	for i := 0; i < len(line); {
		c, size := utf8.DecodeRuneInString(line[i:])
		switch c {
		case '(', '[':
			depth++
		case ')', ']':
			depth = max(depth-1, 0)
		}
		if !startsFigure(line, i) {
			i += size
			continue
		}
		f := readFigure(line, i)
		f.bracket = depth > 0
		out = append(out, f)
		i = f.to
	}
	return out
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// vulgar are the fractions that have a character of their own, in thousandths.
var vulgar = map[rune]int64{'½': 500, '¼': 250, '¾': 750, '⅛': 125, '⅜': 375, '⅝': 625, '⅞': 875}

func startsFigure(line string, i int) bool {
	c, _ := utf8.DecodeRuneInString(line[i:])
	if !isDigit(line[i]) && vulgar[c] == 0 && !((c == '.' || c == ',') && i+1 < len(line) && isDigit(line[i+1])) {
		return false
	}
	before, size := utf8.DecodeLastRuneInString(line[:i])
	if i > 0 && (unicode.IsLetter(before) || unicode.IsDigit(before)) {
		return false
	}
	if strings.ContainsRune("-–/'’.,", before) && i > 0 {
		if (before == '.' || before == ',') && line[i] != '.' && line[i] != ',' {
			two, _ := utf8.DecodeLastRuneInString(line[:i-size])
			return !unicode.IsDigit(two) && two != before || two == '.'
		}
		two, _ := utf8.DecodeLastRuneInString(line[:i-size])
		return i == size || !unicode.IsLetter(two) && !unicode.IsDigit(two)
	}
	return true
}

// readFigure reads a figure that starts at i, a fraction behind it, and its unit.
func readFigure(line string, i int) figure {
	f := figure{from: i, kind: "bare"}
	before := strings.TrimRight(line[:i], " ")
	if strings.HasSuffix(before, "−") || strings.HasSuffix(before, "-") && strings.HasSuffix(strings.TrimRight(strings.TrimSuffix(before, "-"), " "), ":") {
		f.negative = true
	}
	j := i
	for j < len(line) && (isDigit(line[j]) || (line[j] == '.' || line[j] == ',') && j+1 < len(line) && isDigit(line[j+1])) {
		j++
	}
	if j > i {
		n, err := readNumber(line[i:j])
		if err != nil {
			f.trouble = err.Says + "; " + err.Want
		}
		f.n, f.exact = n, n.decimal()
	}
	j = f.fraction(line, j)
	if rest := strings.TrimLeft(line[j:], "-–"); rest != "" && len(rest) < len(line)-j && isDigit(rest[0]) {
		next := readFigure(line, len(line)-len(rest))
		next.from, next.ranged = i, true
		return next
	}
	f.to = j
	f.takeUnit(line)
	return f
}

// fraction reads what makes a whole figure a mixed one: "½", "1/2", " 1/2".
func (f *figure) fraction(line string, j int) int {
	c, size := utf8.DecodeRuneInString(line[j:])
	at := j
	if c == ' ' && j > f.from {
		at++
		c, size = utf8.DecodeRuneInString(line[at:])
	}
	if v := vulgar[c]; v != 0 {
		f.exact = f.exact.Add(decimal.New(v, -3))
		return at + size
	}
	top := at
	if at == j && j > f.from { // "1/2": the figure read was the upper part
		top = f.from
	}
	k := top
	for k < len(line) && isDigit(line[k]) {
		k++
	}
	if k == top || k-top > 3 || k+1 >= len(line) || line[k] != '/' || !isDigit(line[k+1]) {
		return j
	}
	e := k + 1
	for e < len(line) && isDigit(line[e]) {
		e++
	}
	if e-k > 4 {
		return j
	}
	up, _ := decimal.NewFromString(line[top:k])
	down, _ := decimal.NewFromString(line[k+1 : e])
	if !down.IsPositive() {
		return j
	}
	part := up.DivRound(down, quotientPlaces)
	if top == f.from {
		f.exact = part
	} else {
		f.exact = f.exact.Add(part)
	}
	f.n.places = 0
	return e
}

// takeUnit looks for a unit behind the figure, of two words before one.
func (f *figure) takeUnit(line string) {
	rest := line[f.to:]
	gap := len(rest) - len(strings.TrimLeft(rest, " "))
	rest = rest[gap:]
	if strings.HasPrefix(rest, "%") {
		f.kind, f.unit, f.to = "percent", "%", f.to+gap+1
		return
	}
	one := word(rest, 0)
	two := one
	if at := one; at < len(rest) && (rest[at] == ' ' || rest[at] == '.') {
		at += len(rest[at:]) - len(strings.TrimLeft(rest[at:], " ."))
		two = word(rest, at)
	}
	for _, end := range []int{two, one} {
		if end == 0 {
			continue
		}
		unit := strings.ToLower(strings.Join(strings.FieldsFunc(rest[:end], func(c rune) bool { return c == ' ' || c == '.' }), " "))
		if u, ok := findUnit(unit); ok {
			f.kind, f.unit = u.kind, unit
		} else if _, ok := spoons[unit]; ok {
			f.kind, f.unit = "spoon", unit
		} else if unit == "per cent" || unit == "percent" || unit == "pct" || unit == "gr" || unit == "grs" || unit == "gm" || unit == "gms" || unit == "gs" || unit == "kgs" || unit == "mls" {
			switch unit[0] {
			case 'p':
				f.kind, f.unit = "percent", "%"
			case 'g':
				f.kind, f.unit = "mass", "g"
			case 'k':
				f.kind, f.unit = "mass", "kg"
			default:
				f.kind, f.unit = "volume", "ml"
			}
		} else {
			continue
		}
		f.to += gap + end
		return
	}
}

// word is where the word that starts at i ends.
func word(s string, i int) int {
	for i < len(s) {
		c, size := utf8.DecodeRuneInString(s[i:])
		if !unicode.IsLetter(c) && c != '°' && c != '℃' && c != '℉' {
			break
		}
		i += size
	}
	return i
}
