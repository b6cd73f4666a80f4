package law

import (
	"errors"
	"strconv"
	"strings"

	"stillroom/calc/matter"
)

// read reads the rows of one table; the error names the file and the line. One fault and the table is empty, so that a test cannot miss it.
func read[T any](file, text string, cells int, row func([]string) (T, string)) ([]T, error) {
	var out []T
	n := 0
	for line := range strings.Lines(text) {
		n++
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		c := strings.Split(line, "|")
		wrong := ""
		var v T
		if len(c) != cells {
			wrong = "has " + strconv.Itoa(len(c)) + " cells and not " + strconv.Itoa(cells)
		} else {
			for i := range c {
				if c[i] = strings.TrimSpace(c[i]); c[i] == "" {
					wrong = "cell " + strconv.Itoa(i+1) + " is empty"
				}
			}
		}
		if wrong == "" {
			v, wrong = row(c)
		}
		if wrong != "" {
			return nil, errors.New(file + ":" + strconv.Itoa(n) + ": " + wrong)
		}
		out = append(out, v)
	}
	return out, nil
}

func limit(c []string) (Limit, string) {
	l := Limit{Name: c[0], Substances: list(c[1], ";"), Counted: c[2], Entry: c[9], Since: c[10]}
	var ok [7]bool
	l.Regions, ok[0] = regions(c[3])
	ok[1] = oneOf(c[4], "any", "rinse-off", "leave-on")
	if c[4] != "any" {
		l.Wash = c[4]
	}
	site, notSites := strings.CutPrefix(c[5], "not: ")
	if l.NotSites = notSites; site != "all" {
		l.Sites = list(site, ";")
	}
	age, notAge := strings.CutPrefix(c[6], "not: ")
	if l.NotAge = notAge; age != "all" {
		l.Age = age
	}
	ok[2] = oneOf(age, "all", "under 3", "3 to 12", "adults") && !(notAge && age == "all") && !(notSites && site == "all")
	l.Most, ok[3] = most(c[7])
	l.Level = c[8]
	ok[4] = oneOf(c[8], "stop", "care", "note") && oneOf(c[2], "whole", "acid", "retinol")
	l.Cite, ok[5] = cite(c[11])
	ok[6] = true
	if c[12] != "-" {
		var from string
		from, l.Warning, _ = strings.Cut(c[12], " ")
		l.PrintFrom, ok[6] = percent(from)
		ok[6] = ok[6] && l.Warning != ""
	}
	for i, fine := range ok {
		if !fine {
			return l, []string{"regions", "rinse-off, leave-on or any", "sites or age", "maximum", "counted or level", "mark and source", "warning"}[i] + " cannot be read"
		}
	}
	return l, ""
}

func exclusion(c []string) (Exclusion, string) {
	x := Exclusion{Name: c[0], These: list(c[1], ";"), With: list(c[2], ";"), Level: c[4], Entry: c[5]}
	var a, b bool
	x.Regions, a = regions(c[3])
	x.Cite, b = cite(c[6])
	if !a || !b || !oneOf(c[4], "stop", "care", "note") {
		return x, "regions, level, mark or source cannot be read"
	}
	return x, ""
}

func colour(c []string) (Colour, string) {
	x := Colour{INCI: c[0], Name: c[1], EU: c[2], US: c[3], Certified: c[4] == "yes"}
	var a, b bool
	x.FromEU, a = cite(c[5])
	x.FromUS, b = cite(c[6])
	if !a || !b || !oneOf(c[4], "yes", "no") || !oneOf(c[2], "all", "not eye", "not mucous", "rinse-off") || !oneOf(c[3], "all", "not eye", "not lip", "external") {
		return x, "a field of use, mark or source cannot be read"
	}
	return x, ""
}

func allergen(c []string) (Allergen, string) {
	a := Allergen{INCI: c[0], Cite: matter.Cite{Source: "EU 1223/2009 Annex III, the list of 24", Mark: "M+"}}
	var ok bool
	a.Regions, ok = regions(c[1])
	if c[2] == "new" {
		a.Cite = matter.Cite{Source: "Reg. (EU) 2023/1545, as remembered", Mark: "M"}
	}
	if c[3] != "-" {
		a.Also = list(c[3], ";")
	}
	if !ok || !oneOf(c[2], "old", "new") {
		return a, "regions, or old or new, cannot be read"
	}
	return a, ""
}

func list(text, by string) []string {
	out := strings.Split(text, by)
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

func oneOf(word string, words ...string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

func regions(text string) ([]string, bool) {
	out := list(text, ",")
	for _, r := range out {
		if !oneOf(r, Regions...) {
			return nil, false
		}
	}
	return out, true
}

func cite(text string) (matter.Cite, bool) {
	mark, source, _ := strings.Cut(text, " ")
	return matter.Cite{Source: source, Mark: mark}, source != "" && oneOf(mark, "R", "R~", "M", "M+", "M?", "C", "CP", "own")
}

func most(text string) (matter.Percent, bool) {
	switch text {
	case "banned":
		return Banned, true
	case "free":
		return Free, true
	}
	return percent(text)
}

// percent reads a plain figure of at most four decimals.
func percent(text string) (matter.Percent, bool) {
	whole, frac, point := strings.Cut(text, ".")
	if whole == "" || len(whole) > 3 || len(frac) > 4 || point && frac == "" {
		return 0, false
	}
	v := matter.Percent(0)
	for _, r := range whole + (frac + "0000")[:4] {
		if r < '0' || r > '9' {
			return 0, false
		}
		v = 10*v + matter.Percent(r-'0')
	}
	return v, v <= matter.Hundred
}
