package calc

import (
	"strconv"
	"strings"
)

// NotebookPage is a page of a maker's notebook as it was understood. Every line that is not blank stands in Lines, read or not.
type NotebookPage struct {
	Title string         `json:"title"`
	Lines []NotebookLine `json:"lines"`
	// Total is the sum of what could be read, in grams or per cent; TotalSays holds it against what the page says itself.
	Total     string `json:"total"`
	TotalSays string `json:"totalSays"`
	// Draft is the formula, ready for the formula screen; lines in trouble are in it too, so that they can be mended there.
	Draft Draft `json:"draft"`
	// Unread are the lines, as typed, that nothing was made of.
	Unread []string `json:"unread"`
}

// NotebookLine is one line of the page, or one of several things that stand on a line.
type NotebookLine struct {
	// Kind is ingredient, title, phase, total, plan, remark or unread.
	Kind  string `json:"kind"`
	Typed string `json:"typed"`
	// Ingredient and Base are keys; one of them, or none when the words could mean several things or nothing known.
	Ingredient string `json:"ingredient"`
	Base       string `json:"base,omitempty"`
	Name       string `json:"name"`
	// Sure is false for a slip of the pen that was read as the nearest name, and when nothing was chosen.
	Sure    bool             `json:"sure"`
	Choices []NotebookChoice `json:"choices"`
	// Amount is what was written, read back with its unit; Grams and Percent what became of it.
	Amount  string `json:"amount"`
	Grams   string `json:"grams"`
	Percent string `json:"percent"`
	Phase   string `json:"phase"`
	QS      bool   `json:"qs"`
	// Says is worth knowing, Trouble stands in the way.
	Says    string `json:"says"`
	Trouble string `json:"trouble"`
}

// NotebookChoice is something that the words may mean.
type NotebookChoice struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	// Base is true when Key is that of a base.
	Base bool `json:"base,omitempty"`
}

const (
	mostNotebookLines = 500
	// In bytes: one thing, and a line that holds several. What is longer is shown and not read.
	longestNotebookLine = 400
	longestNotebookRow  = 16 * longestNotebookLine
)

// Notebook reads a page typed or pasted from a maker's notebook: one thing a line or several behind commas, in any order, in grams, ounces,
// spoons or per cent, with headings, title, total and remarks between them. It never fails: what is not understood is shown as unread.
func Notebook(text string, known Known) NotebookPage {
	r := &notebookReader{known: known, names: namesOf(known), met: map[string]meaning{}, phase: "A"}
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u00a0", " ", "\u202f", " ", "\u2009", " ").Replace(strings.ToValidUTF8(text, "\uFFFD"))
	for text != "" {
		line, rest, _ := strings.Cut(text, "\n")
		if len(r.lines) >= mostNotebookLines {
			if left := strings.TrimSpace(text); left != "" {
				r.unread(left, "not read: the page is longer than "+strconv.Itoa(mostNotebookLines)+" lines; put the rest on a page of its own")
			}
			break
		}
		text = rest
		switch line = strings.TrimSpace(line); {
		case line == "":
		case len(line) > longestNotebookRow:
			r.unread(line, "not read: the line is longer than any recipe; write one thing a line")
		default:
			r.line(line)
		}
	}
	return r.page()
}

// notebookReader reads line after line; lines in trouble stay in their place.
type notebookReader struct {
	known  Known
	names  []knownName
	met    map[string]meaning
	lines  []notebookItem
	title  string
	phase  string
	phases []DraftPhase
	said   *notebookAmount // what the page itself calls its total
	plan   Plan
}

// notebookItem is a line with the figures behind it.
type notebookItem struct {
	NotebookLine
	amount notebookAmount
	words  string
	note   string
}

func (r *notebookReader) add(kind, typed, says string) *notebookItem {
	r.lines = append(r.lines, notebookItem{NotebookLine: NotebookLine{Kind: kind, Typed: typed, Says: says, Choices: []NotebookChoice{}}})
	return &r.lines[len(r.lines)-1]
}

func (r *notebookReader) unread(typed, trouble string) {
	r.add("unread", typed, "").Trouble = trouble
}

// line reads one line of the page, which may hold a heading and several things.
func (r *notebookReader) line(line string) {
	if r.remark(line) || r.heading(line) {
		return
	}
	if len(line) <= longestNotebookLine && r.match(cleanWords(findAmount(line).words)).exact { // a comma of the name itself
		r.piece(line)
		return
	}
	for _, piece := range pieces(line) {
		if len(piece) > longestNotebookLine {
			r.unread(piece, "not read: there is too much on this line; write one thing a line")
			continue
		}
		r.piece(piece)
	}
}

// remark takes comment lines and a title that says so.
func (r *notebookReader) remark(line string) bool {
	low := strings.ToLower(line)
	for _, word := range []string{"title:", "name:", "formula:", "recipe:"} {
		if strings.HasPrefix(low, word) && r.title == "" {
			r.setTitle(line, line[len(word):])
			return true
		}
	}
	for _, mark := range []string{"#", "//", "note:", "notes:", "nb:", "n.b.", "ps:"} {
		if strings.HasPrefix(low, mark) {
			if mark == "#" && len(r.lines) == 0 && r.title == "" {
				if findAmount(line).kind == "" {
					r.setTitle(line, line)
					return true
				}
			}
			r.add("remark", line, "a remark; not part of the formula")
			return true
		}
	}
	return false
}

func (r *notebookReader) setTitle(typed, title string) {
	r.title = strings.Trim(title, " \t#*=_-–—:\"“”")
	r.add("title", typed, "the name of the formula")
}

// piece reads one thing: an ingredient with its amount, a total, a plan, a title, or nothing that is known.
func (r *notebookReader) piece(typed string) {
	a := findAmount(typed)
	words := cleanWords(a.words)
	plain := tokens(words)
	switch {
	case a.kind != "" && isTotal(plain):
		r.total(typed, a)
		return
	case r.isPlan(typed, plain, a):
		return
	}
	m := r.match(words)
	if !m.sure && a.note != "" {
		for _, other := range []string{words + " " + a.note, a.note} {
			if n := r.match(other); n.sure {
				m = n
				break
			}
		}
	}
	switch {
	case a.kind == "bare" && !m.sure && m.choice.Key == "" && r.fromName(typed).sure:
		m, a = r.fromName(typed), notebookAmount{words: typed}
	case a.kind == "bare" && r.fromName(typed).exact:
		m, a = r.fromName(typed), notebookAmount{words: typed}
	}
	nothing := m.choice.Key == "" && len(m.choices) == 0
	switch {
	case a.kind == "" && len(r.lines) == 0 && r.title == "" && (!m.exact || m.choice.Base): // her own formula, written down anew, is no line of itself
		r.setTitle(typed, typed)
		return
	case len(plain) == 0 && a.kind == "":
		r.add("remark", typed, "a mark without words")
		return
	case a.kind == "" && !m.sure, a.kind == "bare" && nothing:
		r.unread(typed, "not read: "+lacks(a.kind == "", nothing)+"; write for instance “glycerin 42 g”, or begin the line with # when it is a name or a remark")
		return
	}
	l := r.add("ingredient", typed, "")
	l.amount, l.words, l.note, l.Phase, l.QS = a, words, a.note, r.phase, a.kind == "qs"
	r.mean(l, m)
	if a.kind == "qs" && a.mass > 0 && r.said == nil {
		r.said = &notebookAmount{kind: "mass", mass: a.mass, text: a.fill}
	}
	if a.kind == "qs" {
		l.amount.mass = 0
	}
}

func lacks(amount, name bool) string {
	switch {
	case amount && name:
		return "no amount stands on it and no ingredient known here"
	case amount:
		return "no amount stands on it"
	}
	return "no ingredient known here stands on it"
}

// mean sets down what the words were taken to mean.
func (r *notebookReader) mean(l *notebookItem, m meaning) {
	l.Sure = m.sure
	left := l.amount.unused[:0:0]
	for _, u := range l.amount.unused {
		if !within(tokens(u), m.used) {
			left = append(left, u)
		}
	}
	if l.amount.unused = left; len(left) > 0 && l.amount.spaced != "" && l.amount.trouble == "" {
		l.amount.trouble, l.amount.mass, l.amount.percent = "“"+short(l.amount.spaced)+"” holds two figures; write one, without a space between thousands", 0, 0
	}
	if m.choice.Key != "" {
		l.Name = m.choice.Name
		if m.choice.Base {
			l.Base = m.choice.Key
		} else {
			l.Ingredient = m.choice.Key
		}
	}
	blends := blendsOf(m, r.known)
	switch {
	case !m.sure:
		l.Choices = append(l.Choices, m.choices...)
	case len(blends) > 0:
		l.Choices = append(append(l.Choices, m.choice), blends...)
		l.say("taken as " + m.choice.Name + " and nothing else; if the bottle holds a blend, choose it")
	}
	switch {
	case m.choice.Key != "" && !m.sure:
		l.say("not sure: “" + short(l.words) + "” was taken as " + m.choice.Name)
	case m.choice.Key == "" && len(m.choices) > 0:
		l.trouble("“" + short(l.words) + "” may mean several things; choose one")
	case m.choice.Key == "" && l.words == "":
		l.trouble("an amount without a name; write what it is")
	case m.choice.Key == "":
		l.trouble("“" + short(l.words) + "” is not among the ingredients known here; write its usual name, or choose or add it in the formula")
	}
}

func (l *notebookItem) say(words string) {
	if l.Says != "" {
		l.Says += ". "
	}
	l.Says += words
}

func (l *notebookItem) trouble(words string) {
	if l.Trouble != "" {
		l.Trouble += ". "
	}
	l.Trouble += words
}

func isTotal(words []string) bool {
	if len(words) == 0 || len(words) > 4 {
		return false
	}
	told := false
	for _, w := range words {
		switch w {
		case "total", "sum", "yield", "make", "altogether":
			told = true
		case "batch", "weight", "size", "of", "the", "all", "mass", "formula", "about":
			told = told || w == "batch"
		default:
			return false
		}
	}
	return told
}

func (r *notebookReader) total(typed string, a notebookAmount) {
	l := r.add("total", typed, "the total that the page gives; it is held against the sum of the lines")
	l.amount = a
	switch {
	case a.trouble != "":
		l.Trouble = a.trouble
	case a.kind == "qs" || a.kind == "volume" || a.kind == "spoon":
		l.Trouble = "a total is a mass or per cent; write it in grams"
	case r.said != nil:
		l.Trouble = "a second total; only the first is held against the sum"
	default:
		r.said = &a
	}
}
