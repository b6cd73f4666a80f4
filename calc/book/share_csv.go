package book

import (
	"strings"

	"stillroom/calc"
)

// csvText is a formula as a table. Where commas are decimal signs, semicolons part the cells: so a spreadsheet of the place opens it by a touch.
func (w *sharing) csvText(f calc.SharedFormula) string {
	sep, comma := ",", false
	if r := w.s.habits().Region; r == "EU" {
		sep, comma = ";", true
	}
	var b strings.Builder
	b.WriteString("\uFEFF")
	row := func(cells ...string) {
		for i, c := range cells {
			cells[i] = calc.CSVCell(c, sep)
		}
		b.WriteString(strings.Join(cells, sep) + "\r\n")
	}
	row("formula", "use", "phase", "treatment", "ingredient", "INCI", "%", "note", "credit")
	for _, l := range f.Lines {
		inci, percent := inciOf(w.s.ingredient(l.Ingredient)), l.Percent
		if comma {
			percent = strings.Replace(percent, ".", ",", 1)
		}
		if l.QS {
			percent = "q.s."
		}
		treatment := ""
		for _, p := range f.Phases {
			if p.Letter == l.Phase {
				treatment = strings.TrimSpace(p.Do + " " + p.To)
				if p.HoldMin != "" {
					treatment += ", " + p.HoldMin + " min"
				}
			}
		}
		row(f.Name, f.Wash, l.Phase, treatment, l.Name, inci, percent, l.Note, f.Credit)
	}
	return b.String()
}

// fileName is a name for a file that every system takes.
func fileName(name, ending string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() >= 40 {
			break
		}
	}
	base := strings.Trim(b.String(), "-")
	if base == "" {
		base = "formula"
	}
	return base + ending
}
