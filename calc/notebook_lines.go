package calc

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// withoutNumbering takes a bullet, a tick box or "3." off the start of a line.
func withoutNumbering(line string) string {
	line = strings.TrimLeft(line, " \t*•·☐☑✓✔")
	for _, box := range []string{"[ ]", "[x]", "[X]", "[]"} {
		line = strings.TrimLeft(strings.TrimPrefix(line, box), " ")
	}
	n := 0
	for n < len(line) && n < 2 && isDigit(line[n]) {
		n++
	}
	if n > 0 && n+1 < len(line) && (line[n] == ')' || line[n] == '.') && line[n+1] == ' ' {
		return strings.TrimLeft(line[n+1:], " ")
	}
	return line
}

// brackets parts what stands in brackets from the rest.
func brackets(s string) (outside, inside string) {
	var out, in strings.Builder
	depth := 0
	for _, c := range s {
		switch c {
		case '(', '[', '{':
			depth++
			out.WriteByte(' ')
			in.WriteByte(' ')
		case ')', ']', '}':
			depth = max(depth-1, 0)
			out.WriteByte(' ')
		default:
			if depth > 0 {
				in.WriteRune(c)
			} else {
				out.WriteRune(c)
			}
		}
	}
	return strings.Join(strings.Fields(out.String()), " "), strings.Join(strings.Fields(in.String()), " ")
}

// cleanWords is a name without the marks that stood between it and its amount.
func cleanWords(s string) string {
	words := strings.Trim(strings.Join(strings.Fields(s), " "), " \t-–—−:;=.,…*•·|/~≈@_\"“”'")
	for _, about := range []string{"about ", "approx ", "approx. ", "ca ", "ca. ", "circa ", "of "} {
		if len(words) > len(about) && strings.EqualFold(words[:len(about)], about) {
			words = words[len(about):]
		}
	}
	return words
}

// findQS reads "water q.s.", "water qs to 500 g", "water to 100 %", "rest water".
func findQS(line string, figures []figure) (notebookAmount, bool) {
	words := strings.Fields(line)
	var kept []string
	found := false
	for i, w := range words {
		bare := strings.ToLower(strings.Trim(w, "()[],;:-–—="))
		next := ""
		if i+1 < len(words) {
			next = strings.ToLower(strings.Trim(words[i+1], "()[],;:%."))
		}
		switch {
		case bare == "qs" || bare == "q.s." || bare == "q.s" || bare == "qs.":
			found = true
		case bare == "q" && (next == "s") || bare == "q." && next == "s":
			found = true
			words[i+1] = ""
		case (bare == "to" || bare == "ad") && next == "100" && (i+2 == len(words) || strings.ContainsRune(words[i+1]+words[i+2], '%')): // and not to 100 °F
			found = true
		case (bare == "balance" || bare == "remainder" || bare == "rest") && len(words) <= 4:
			found = true
		default:
			kept = append(kept, w)
		}
	}
	if !found {
		return notebookAmount{}, false
	}
	a := notebookAmount{kind: "qs", text: "q.s."}
	left := strings.Join(kept, " ")
	// "to 500 g" behind it is the page's total, "to 100 %" says nothing new
	for _, f := range figuresOn(left) {
		if f.kind == "mass" && f.trouble == "" && !f.ranged && !f.negative {
			total := notebookAmount{}
			total.read(f)
			a.mass, a.fill = total.mass, total.text
		}
		if f.kind == "mass" || f.kind == "percent" || f.kind == "bare" && f.n.digits == "100" {
			left = left[:f.from] + strings.Repeat(" ", f.to-f.from) + left[f.to:]
		}
	}
	fields := strings.Fields(left)
	for len(fields) > 0 && isFiller(fields[len(fields)-1]) {
		fields = fields[:len(fields)-1]
	}
	for len(fields) > 0 && isFiller(fields[0]) {
		fields = fields[1:]
	}
	a.words, a.note = brackets(strings.Join(fields, " "))
	return a, true
}

func isFiller(w string) bool {
	switch strings.ToLower(strings.Trim(w, "()[],;:.-–—=")) {
	case "", "to", "ad", "up", "make", "of", "the":
		return true
	}
	return false
}

// pieces parts a line at its commas and semicolons into things that have an amount each; a comma inside a name, a figure or brackets stays.
func pieces(line string) []string {
	var parts []string
	depth, from := 0, 0
	for i, c := range line {
		switch c {
		case '(', '[':
			depth++
		case ')', ']':
			depth = max(depth-1, 0)
		case ',', ';':
			after, _ := utf8.DecodeRuneInString(line[i+1:])
			before, _ := utf8.DecodeLastRuneInString(line[:i])
			if depth > 0 || c == ',' && unicode.IsDigit(before) && unicode.IsDigit(after) {
				continue
			}
			parts = append(parts, line[from:i])
			from = i + 1
		}
	}
	parts = append(parts, line[from:])
	if len(parts) == 1 {
		return []string{line}
	}
	return gatherPieces(line, parts)
}

// gatherPieces joins parts until each holds an amount: "water, distilled 212 g" is one thing, and so is "stearic acid, 1.5 oz".
func gatherPieces(line string, parts []string) []string {
	type span struct{ from, to int }
	var out []span
	at, open, lead := 0, -1, false
	weighed := false // the last span has an amount with a unit
	for n, part := range parts {
		from, to := at, at+len(part)
		at = to + 1
		a := notebookAmount{}
		if len(part) <= longestNotebookLine {
			a = findAmount(strings.TrimSpace(part))
		}
		if n == 0 {
			f := figuresOn(part[:min(len(part), longestNotebookLine)])
			lead = a.kind != "" && a.kind != "qs" && len(f) > 0 && startsWith(part, f[0])
		}
		words := len(tokens(a.words)) > 0
		switch {
		case a.kind != "" && open >= 0:
			out = append(out, span{open, to})
			open, weighed = -1, a.kind != "bare"
		case a.kind != "" && !words && len(out) > 0 && !weighed:
			out[len(out)-1].to, weighed = to, true
		case a.kind != "":
			out = append(out, span{from, to})
			weighed = a.kind != "bare"
		case len(out) > 0 && (lead || n == len(parts)-1) && open < 0:
			out[len(out)-1].to = to
		case open < 0:
			open = from
		}
	}
	if open >= 0 {
		if len(out) > 0 {
			out[len(out)-1].to = len(line)
		} else {
			out = append(out, span{open, len(line)})
		}
	}
	var said []string
	for _, s := range out {
		if text := strings.TrimSpace(line[s.from:s.to]); text != "" {
			said = append(said, text)
		}
	}
	return said
}
