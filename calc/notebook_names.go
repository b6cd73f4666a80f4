package calc

import (
	"sort"
	"strings"
	"unicode"
)

// knownName is one name under which something is known, as its words.
type knownName struct {
	choice NotebookChoice
	words  []string
	bare   []string // without the words that make no difference
	// bare, parted into words and figures
	named, numbers []string
	inci           bool
}

// nameOf parts a name into what it is matched by.
func nameOf(c NotebookChoice, words []string) knownName {
	k := knownName{choice: c, words: words, bare: withoutIdle(words)}
	k.named, k.numbers = partNumbers(k.bare)
	return k
}

// meaning is what words may mean: a choice, or choices.
type meaning struct {
	choice  NotebookChoice
	exact   bool // every word is accounted for by a name
	sure    bool
	choices []NotebookChoice
	used    []string
}

// idle are words that tell of quality or handling and not of which ingredient.
var idle = map[string]bool{"of": true, "the": true, "and": true, "a": true, "in": true, "for": true, "organic": true, "pure": true, "fresh": true, "raw": true, "cosmetic": true, "grade": true,
	"natural": true, "refined": true, "unrefined": true, "virgin": true, "cold": true, "pressed": true, "warm": true, "hot": true, "sifted": true, "melted": true, "fine": true, "liquid": true,
	"extra": true, "bp": true, "usp": true, "eco": true, "deodorised": true, "deodorized": true, "optional": true, "my": true, "some": true, "vegetable": true, "veg": true, "food": true, "blend": true}

// common are words that many names share: alone they point at nothing.
var common = map[string]bool{"oil": true, "acid": true, "butter": true, "powder": true, "solution": true, "sodium": true, "blend": true, "extract": true, "seed": true, "wax": true, "mixed": true, "ground": true, "disodium": true}

// folded are letters with marks, and what they are without.
var folded = strings.NewReplacer("à", "a", "á", "a", "â", "a", "ã", "a", "ä", "a", "å", "a", "ç", "c", "è", "e", "é", "e", "ê", "e", "ë", "e", "ì", "i", "í", "i", "î", "i", "ï", "i",
	"ñ", "n", "ò", "o", "ó", "o", "ô", "o", "õ", "o", "ö", "o", "ø", "o", "ù", "u", "ú", "u", "û", "u", "ü", "u", "ý", "y", "ÿ", "y", "ß", "ss", "œ", "oe", "æ", "ae", "č", "c", "š", "s", "ž", "z",
	"ł", "l", "ő", "o", "ű", "u", "’", "", "'", "")

// tokens are the words of a text without case, accents, punctuation and plural.
func tokens(s string) []string {
	s = strings.ToLower(s)
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 || s[i] == '\'' {
			s = folded.Replace(s)
			break
		}
	}
	words := strings.FieldsFunc(s, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) })
	for i, w := range words {
		if n := len(w); n > 3 && w[n-1] == 's' && w[n-2] != 's' && w[n-2] != 'u' && w[n-2] != 'i' {
			words[i] = w[:n-1]
		}
	}
	return words
}

func withoutIdle(words []string) []string {
	out := make([]string, 0, len(words))
	for _, w := range words {
		if !idle[w] {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		return words
	}
	return out
}

// namesOf lists every name of what is known, in an order that does not change.
func namesOf(k Known) []knownName {
	var out []knownName
	add := func(c NotebookChoice, names ...string) {
		for _, name := range names {
			if w := tokens(name); len(w) > 0 {
				out = append(out, nameOf(c, w))
			}
		}
	}
	// things are sorted and not their names, which are many
	var things []NotebookChoice
	for key, i := range k.Ingredients {
		things = append(things, NotebookChoice{Key: key, Name: i.Name})
	}
	for key, b := range k.Bases {
		things = append(things, NotebookChoice{Key: key, Name: b.Name, Base: true})
	}
	sort.Slice(things, func(a, b int) bool {
		x, y := &things[a], &things[b]
		if x.Name != y.Name {
			return x.Name < y.Name
		}
		return x.Key < y.Key || x.Key == y.Key && !x.Base && y.Base
	})
	for _, c := range things {
		if add(c, c.Name); !c.Base {
			i := k.Ingredients[c.Key]
			outside, _ := brackets(i.Name)
			add(c, outside, c.Key)
			add(c, i.Also...)
			if w := tokens(i.INCI); len(w) > 0 {
				n := nameOf(c, w)
				n.inci = true
				out = append(out, n)
			}
		}
	}
	return out
}

func (r *notebookReader) fromName(typed string) meaning {
	return r.match(cleanWords(withoutNumbering(typed)))
}

// match is bestMatch, asked once for each wording.
func (r *notebookReader) match(words string) meaning {
	m, known := r.met[words]
	if !known {
		m = bestMatch(words, r.names)
		r.met[words] = m
	}
	return m
}

// How well words fit a name. From fitsExactly on every word is accounted for.
const (
	fitsWord    = 100 // word for word, in any order
	fitsINCI    = 98  // the same with the INCI name, which several grades may share: a common word goes before it
	fitsExactly = 96  // but for words that make no difference
	fitsNumber  = 92  // but for a figure such as a strength
	fitsSlip    = 88  // but for slips of the pen
	fitsPart    = 60  // all words stand in a longer name
	fitsSome    = 20
)

// bestMatch finds what words mean. It is sure when one thing fits to the word, or when the words stand in the names of one thing only.
func bestMatch(text string, names []knownName) meaning {
	q := tokens(text)
	if len(q) == 0 || len(q) > 24 {
		return meaning{}
	}
	asked := nameOf(NotebookChoice{}, q)
	type hit struct {
		choice NotebookChoice
		score  int
		used   []string
	}
	best := map[NotebookChoice]int{}
	var hits []hit
	for i := range names {
		score := fit(&asked, &names[i])
		if score < fitsSome {
			continue
		}
		at, seen := best[names[i].choice]
		if !seen {
			best[names[i].choice] = len(hits)
			hits = append(hits, hit{names[i].choice, score, names[i].words})
		} else if score > hits[at].score {
			hits[at].score, hits[at].used = score, names[i].words
		}
	}
	if len(hits) == 0 {
		return meaning{}
	}
	sort.SliceStable(hits, func(a, b int) bool { return hits[a].score > hits[b].score })
	m := meaning{}
	top := hits[0]
	alone := len(hits) == 1 || hits[1].score < top.score
	switch {
	case top.score >= fitsNumber && alone:
		m.choice, m.sure, m.used = top.choice, true, top.used
		m.exact = top.score >= fitsExactly
	case top.score >= fitsPart && top.score < fitsSlip && (len(hits) == 1 || hits[1].score < fitsPart):
		m.choice, m.sure, m.used = top.choice, true, top.used
	case top.score == fitsSlip && alone:
		m.choice, m.used = top.choice, top.used
	}
	for i := 0; i < len(hits) && i < 4; i++ {
		m.choices = append(m.choices, hits[i].choice)
	}
	return m
}

func fit(q, k *knownName) int {
	if sameWords(q.words, k.words) {
		if k.inci {
			return fitsINCI
		}
		return fitsWord
	}
	bare, wordsQ, numbersQ, wordsK, numbersK := q.bare, q.named, q.numbers, k.named, k.numbers
	if sameWords(bare, k.bare) {
		return fitsExactly
	}
	clash := len(numbersQ) > 0 && len(numbersK) > 0 && !within(numbersQ, numbersK) && !within(numbersK, numbersQ)
	if len(wordsQ) == 0 {
		return 0
	}
	if sameWords(wordsQ, wordsK) && within(numbersK, numbersQ) {
		return fitsNumber
	}
	if clash {
		if sameWords(wordsQ, wordsK) {
			return 50
		}
		return 0
	}
	if len(wordsQ) == len(wordsK) && within(numbersK, numbersQ) && slips(wordsQ, wordsK) {
		return fitsSlip
	}
	shared, telling := 0, false
	for _, w := range wordsQ {
		if contains(wordsK, w) {
			shared++
			telling = telling || !common[w]
		}
	}
	switch {
	case shared == len(wordsQ) && within(numbersQ, numbersK):
		return fitsPart + 25*len(bare)/max(len(k.bare), 1)
	case !telling:
		if len(wordsQ) == 1 && len(wordsQ[0]) >= 3 {
			for _, w := range wordsK {
				if strings.HasPrefix(w, wordsQ[0]) {
					return 40
				}
			}
		}
		return 0
	}
	return fitsSome + 35*shared/max(len(wordsQ), len(wordsK))
}

// sameWords tells whether two lists hold the same words in any order.
func sameWords(a, b []string) bool { return len(a) == len(b) && within(a, b) && within(b, a) }

func within(a, b []string) bool {
	for _, w := range a {
		if !contains(b, w) {
			return false
		}
	}
	return true
}

func partNumbers(words []string) (names, numbers []string) {
	for _, w := range words {
		if isDigit(w[0]) {
			numbers = append(numbers, w)
		} else {
			names = append(names, w)
		}
	}
	return names, numbers
}

// slips tells whether the words differ by a letter or two each, in the same order.
func slips(a, b []string) bool {
	for i := range a {
		if len(a[i]) > 40 || len(b[i]) > 40 {
			return false
		}
		most := 0
		if n := min(len(a[i]), len(b[i])); n >= 8 {
			most = 2
		} else if n >= 5 {
			most = 1
		}
		if d := len(a[i]) - len(b[i]); a[i] != b[i] && (d > most || -d > most || distance(a[i], b[i]) > most) {
			return false
		}
	}
	return true
}

// distance counts the letters to exchange, add, take away or swap with their neighbour.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, last, now := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		now[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
		}
		before, last, now = last, now, before
	}
	return last[len(y)]
}
