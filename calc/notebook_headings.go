package calc

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// heading takes the headings of phases: "A: …", "Phase B, heat to 75 °C", "Oil phase", "Cool down:".
func (r *notebookReader) heading(line string) bool {
	if len(line) > longestNotebookLine {
		return false
	}
	if letter, mark, rest := lettered(line); letter != "" {
		rest = strings.TrimSpace(rest)
		if rest == "" || !r.holdsThings(rest) {
			r.open(letter, line, rest)
			return true
		}
		r.open(letter, strings.TrimSpace(mark), "")
		for _, piece := range pieces(rest) {
			r.piece(piece)
		}
		return true
	}
	words := tokens(line)
	named := contains(words, "phase") || strings.HasSuffix(line, ":")
	if !named || len(words) == 0 || r.holdsThings(line) {
		return false
	}
	r.open(r.nextLetter(), line, line)
	return true
}

// lettered parts "Phase B: heat" or "A) water" into its letter, the mark as written, and the rest.
func lettered(line string) (letter, mark, rest string) {
	s := strings.TrimLeft(line, " *#=_-–—")
	low := strings.ToLower(s)
	for _, word := range []string{"phase", "part", "stage", "pot"} {
		if !strings.HasPrefix(low, word+" ") {
			continue
		}
		after := strings.TrimLeft(s[len(word):], " ")
		c, size := utf8.DecodeRuneInString(after)
		next, _ := utf8.DecodeRuneInString(after[size:])
		if !isPhaseMark(c) || unicode.IsLetter(next) || unicode.IsDigit(next) {
			return "", "", ""
		}
		rest = strings.TrimLeft(after[size:], " .:;,)-–—*=")
		return phaseLetter(c), line[:len(line)-len(rest)], rest
	}
	c, size := utf8.DecodeRuneInString(s)
	if size != 1 || !unicode.IsLetter(c) {
		return "", "", ""
	}
	after := s[size:]
	switch {
	case strings.Trim(after, " *=_") == "" && unicode.IsUpper(c):
		return phaseLetter(c), line, ""
	case strings.HasPrefix(after, ":"), strings.HasPrefix(after, ")"), strings.HasPrefix(after, ". "), after == ".":
		rest = strings.TrimLeft(after[1:], " *")
		return phaseLetter(c), line[:len(line)-len(rest)], rest
	}
	return "", "", ""
}

func isPhaseMark(c rune) bool { return c < 0x80 && (unicode.IsLetter(c) || c >= '1' && c <= '9') }

func phaseLetter(c rune) string {
	if c >= '1' && c <= '9' {
		c += 'A' - '1'
	}
	return string(unicode.ToUpper(c))
}

// holdsThings tells whether ingredients stand on the line, not only what is done to a phase.
func (r *notebookReader) holdsThings(s string) bool {
	a := findAmount(s)
	switch a.kind {
	case "":
		return r.match(cleanWords(s)).exact
	case "bare":
		return r.match(cleanWords(a.words)).sure
	}
	return true
}

// open starts a phase; what stands behind its letter is read as its treatment as far as it can be.
func (r *notebookReader) open(letter, typed, rest string) {
	r.phase = letter
	at := -1
	for i := range r.phases {
		if r.phases[i].Letter == letter {
			at = i
		}
	}
	if at < 0 {
		r.phases = append(r.phases, DraftPhase{Letter: letter})
		at = len(r.phases) - 1
	}
	t := readTreatment(rest)
	says := "phase " + letter
	if t != (DraftTreatment{}) {
		r.phases[at].Treatment = t
		for _, part := range []string{t.Do, t.To} {
			if part != "" {
				says += ", " + part
			}
		}
		if t.HoldMin != "" {
			says += ", hold " + t.HoldMin + " min"
		}
	} else if rest != "" {
		says += "; what is done to it was not understood and is not in the formula"
	}
	l := r.add("phase", typed, says)
	l.Phase = letter
}

// nextLetter is the first letter that no phase has; the lines before any heading are phase A.
func (r *notebookReader) nextLetter() string {
	taken := map[string]bool{}
	for _, p := range r.phases {
		taken[p.Letter] = true
	}
	for i := range r.lines {
		if r.lines[i].Kind == "ingredient" {
			taken[r.lines[i].Phase] = true
		}
	}
	for c := 'A'; c <= 'Z'; c++ {
		if !taken[string(c)] {
			return string(c)
		}
	}
	return "Z"
}

func readTreatment(s string) DraftTreatment {
	var t DraftTreatment
	for _, w := range tokens(s) {
		switch w {
		case "heat", "heated", "hot", "warm":
			t.Do = "heat"
		case "melt", "melted":
			t.Do = "melt"
		case "cool", "cooled", "cooldown":
			t.Do = "cool"
		case "whip", "whipped":
			t.Do = "whip"
		case "fold":
			t.Do = "fold"
		case "mix", "stir", "combine":
			t.Do = "mix"
		default:
			continue
		}
		break
	}
	for _, f := range figuresOn(s) {
		after := strings.ToLower(strings.TrimLeft(s[f.to:], " "))
		switch {
		case f.kind == "temperature" && t.To == "" && f.trouble == "" && !f.ranged:
			u, _ := findUnit(f.unit)
			t.To = f.exact.String() + " " + u.name
		case f.kind == "bare" && strings.HasPrefix(after, "min") && t.HoldMin == "" && f.trouble == "" && !f.ranged && f.exact.IsInteger():
			t.HoldMin = f.exact.String()
		}
	}
	return t
}

// containers are words for what a product is filled into.
var containers = map[string]bool{"jar": true, "bottle": true, "tin": true, "tube": true, "bar": true, "pouch": true, "pot": true}

// isPlan takes "24 jars of 120 g" and "4 % loss", which say how much is made and not of what.
func (r *notebookReader) isPlan(typed string, words []string, a notebookAmount) bool {
	all := tokens(withoutNumbering(typed))
	if a.kind == "percent" && contains(words, "loss") && len(words) <= 3 && a.trouble == "" {
		r.plan.Loss = strings.TrimSuffix(a.text, " %")
		r.add("plan", typed, "how much is lost in making")
		return true
	}
	if len(all) > 7 {
		return false
	}
	for i := 0; i+1 < len(all); i++ {
		n, err := ReadCount(all[i])
		if err != nil || !containers[all[i+1]] {
			continue
		}
		r.plan.Jars = plain(Percent(n) * OnePercent)
		if a.kind == "mass" && a.trouble == "" {
			r.plan.Fill = a.text
		}
		r.add("plan", typed, "how many are to be filled")
		return true
	}
	return false
}
