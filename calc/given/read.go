package given

import (
	"errors"
	"sort"
	"strconv"
	"strings"

	"stillroom/calc/matter"
)

// readAll reads every table. The error names the file and the line.
func readAll(sources, substances string, list []table) ([]matter.Ingredient, []matter.Substance, error) {
	cited, err := readSources(sources)
	if err != nil {
		return nil, nil, err
	}
	known, err := readSubstances(substances, cited)
	if err != nil {
		return nil, nil, err
	}
	var out []matter.Ingredient
	for _, t := range list {
		read, err := readIngredients(t, cited)
		if err != nil {
			return nil, nil, err
		}
		out = append(out, read...)
	}
	sort.Slice(out, func(a, b int) bool { return out[a].Name < out[b].Name })
	return out, known, nil
}

// rows calls row with each line that says something, its number and whether it stands under the line before; it stops at the first fault.
func rows(t table, row func(line string, under bool) string) error {
	n := 0
	for line := range strings.Lines(t.text) {
		n++
		text := strings.TrimSpace(line)
		if text == "" || text[0] == '#' {
			continue
		}
		if wrong := row(text, line[0] == ' ' || line[0] == '\t'); wrong != "" {
			return errors.New(t.file + ":" + strconv.Itoa(n) + ": " + wrong)
		}
	}
	return nil
}

// cells splits a line at its strokes.
func cells(line string) []string {
	out := strings.Split(line, "|")
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

// words splits a list; an empty text is an empty list.
func words(text, by string) []string {
	if text == "" {
		return nil
	}
	out := strings.Split(text, by)
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

// marks that a figure of the list may carry; matter.Cite says what they mean.
const marks = " R R~ M M+ M? C CP own "

func readSources(text string) (map[string]matter.Cite, error) {
	out := map[string]matter.Cite{}
	err := rows(table{"sources.txt", text}, func(line string, _ bool) string {
		c := cells(line)
		if len(c) != 3 || c[0] == "" || c[2] == "" || !strings.Contains(marks, " "+c[1]+" ") {
			return "a source is name | mark | source"
		}
		if _, twice := out[c[0]]; twice {
			return c[0] + " stands twice"
		}
		out[c[0]] = matter.Cite{Source: c[2], Mark: c[1]}
		return ""
	})
	return out, err
}

// cite reads where a figure comes from: the name of a shared source, or a mark and a source.
func cite(text string, sources map[string]matter.Cite) (matter.Cite, string) {
	if c, ok := sources[text]; ok {
		return c, ""
	}
	mark, source, _ := strings.Cut(text, " ")
	if source == "" || !strings.Contains(marks, " "+mark+" ") {
		return matter.Cite{}, "“" + text + "” is neither a shared source nor a mark and a source"
	}
	return matter.Cite{Source: strings.TrimSpace(source), Mark: mark}, ""
}

func readSubstances(text string, sources map[string]matter.Cite) ([]matter.Substance, error) {
	var out []matter.Substance
	seen := map[string]bool{}
	err := rows(table{"substances.txt", text}, func(line string, _ bool) string {
		c := cells(line)
		if len(c) != 4 && len(c) != 6 || c[0] == "" {
			return "a substance is INCI | charge | functions | source, and | keeping | source where that is asked for"
		}
		if seen[c[0]] {
			return c[0] + " stands twice"
		}
		seen[c[0]] = true
		s := matter.Substance{INCI: c[0], Charge: matter.Charge(c[1]), Functions: words(c[2], ",")}
		switch s.Charge {
		case matter.ChargeNone, matter.Anionic, matter.Cationic, matter.CationicPolymer, matter.Amphoteric, matter.NonIonic:
		default:
			return "“" + c[1] + "” is not a class of charge"
		}
		from, wrong := cite(c[3], sources)
		if wrong != "" {
			return wrong
		}
		s.ChargeFrom = from
		if len(c) == 6 {
			s.Keeping, s.KeepingWhy, _ = strings.Cut(c[4], ": ")
			if s.Keeping != "preservative" && s.Keeping != "not counted" || (s.Keeping == "not counted") != (s.KeepingWhy != "") {
				return "keeping is preservative, or not counted: why"
			}
			if s.KeepingFrom, wrong = cite(c[5], sources); wrong != "" {
				return wrong
			}
		}
		out = append(out, s)
		return ""
	})
	sort.Slice(out, func(a, b int) bool { return out[a].INCI < out[b].INCI })
	return out, err
}

// readIngredients reads one file of the list.
func readIngredients(t table, sources map[string]matter.Cite) ([]matter.Ingredient, error) {
	var out []matter.Ingredient
	err := rows(t, func(line string, under bool) string {
		if !under {
			key, name, ok := strings.Cut(line, " = ")
			if !ok || strings.ContainsAny(key, " |") {
				return "an entry begins with key = name"
			}
			out = append(out, matter.Ingredient{Key: key, Name: name})
			return ""
		}
		if len(out) == 0 {
			return "this stands under no entry"
		}
		word, value, _ := strings.Cut(line, " ")
		return set(&out[len(out)-1], word, strings.TrimSpace(value), sources)
	})
	for i := range out {
		if out[i].Composition == nil { // one substance as named is the ordinary case and is not written down
			out[i].Composition = []matter.Share{{INCI: out[i].INCI, Percent: matter.Hundred, Listed: "yes", Cite: sources["whole"]}}
		}
	}
	return out, err
}
