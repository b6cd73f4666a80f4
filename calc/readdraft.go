package calc

import (
	"strconv"
	"strings"
)

// ReadDraft turns a draft into a formula that may be saved: readable, summing to exactly 100, everything named known, no base inside itself,
// and the q.s. line filled in. Other findings do not stand in the way: a notebook keeps anything that sums to 100.
func ReadDraft(d Draft, k Known) (Formula, *FieldError) {
	f, trouble, wrong := readDraft(&d, k)
	for i, says := range trouble {
		if says != "" {
			return Formula{}, &FieldError{Field: "lines[" + strconv.Itoa(i) + "]." + troubledField(&d.Lines[i], k), Says: says, Want: "mend the line, or take it out"}
		}
	}
	if len(wrong) > 0 {
		return Formula{}, &FieldError{Field: "phases", Says: wrong[0].Says, Want: wrong[0].Do}
	}
	if len(d.Lines) == 0 {
		return Formula{}, &FieldError{Field: "lines", Says: "there is no line yet", Want: "write at least one"}
	}
	t := Total(f.Lines)
	if len(t.Findings) > 0 {
		return Formula{}, &FieldError{Field: "lines", Says: t.Findings[0].Says, Want: t.Findings[0].Do}
	}
	f.Lines = t.Lines
	if _, err := takeApart(&f, k); err != nil {
		return Formula{}, err
	}
	if f.Name == "" {
		return Formula{}, &FieldError{Field: "name", Says: "it has no name yet", Want: "give it one"}
	}
	return f, nil
}

// FormulaOf is as much of a draft as can be read, its q.s. line filled in; a line that cannot be read weighs nothing. It is for pictures that are drawn
// while a formula is still being written.
func FormulaOf(d Draft, k Known) Formula {
	f, _, _ := readDraft(&d, k)
	f.Lines = Total(f.Lines).Lines
	return f
}

// troubledField is the field of a line that the trouble beside it is about.
func troubledField(l *DraftLine, k Known) string {
	unread := false
	if !l.QS {
		_, err := ReadPercent(l.Percent)
		unread = err != nil
	}
	switch {
	case unread && strings.TrimSpace(l.Percent) != "":
		return "percent"
	case l.Ingredient == "" && l.Base == "", l.Base == "" && k.Ingredients[l.Ingredient] == nil:
		return "ingredient"
	case l.Base != "" && (l.Ingredient != "" || k.Bases[l.Base] == nil):
		return "base"
	}
	return "percent"
}

// readDraft reads all that can be read. trouble stands beside each line that cannot; wrong tells of phases that cannot.
func readDraft(d *Draft, k Known) (f Formula, trouble []string, wrong []Finding) {
	f = Formula{Key: d.Key, Name: strings.TrimSpace(d.Name), Wash: d.Wash, Site: d.Site, Age: d.Age, Lines: make([]Line, len(d.Lines)), Phases: make([]Phase, 0, len(d.Phases))}
	trouble = make([]string, len(d.Lines))
	for i := range d.Lines {
		f.Lines[i], trouble[i] = readLine(&d.Lines[i], k)
	}
	for _, p := range d.Phases {
		phase := Phase{Letter: p.Letter, Treatment: Treatment{Do: p.Treatment.Do, To: strings.TrimSpace(p.Treatment.To)}}
		unread := func(what string, err *FieldError) {
			wrong = append(wrong, Finding{Rule: "treatment", Level: Care, Phase: p.Letter, Says: what + " of phase " + p.Letter + " could not be read: " + err.Says, Source: ownRule, Do: err.Want})
		}
		if phase.Treatment.To != "" {
			if deg, err := ReadDegrees(phase.Treatment.To, k.Bench.degrees()); err == nil {
				deg.Both = k.Bench.Fahrenheit
				phase.Treatment.Degrees = &deg
			} else {
				unread("the temperature", err)
			}
		}
		if p.Treatment.HoldMin != "" {
			if n, err := ReadCount(p.Treatment.HoldMin); err == nil {
				phase.Treatment.HoldMin = n
			} else {
				unread("the time", &FieldError{Says: "“" + short(p.Treatment.HoldMin) + "” is not a number of minutes", Want: "write whole minutes"})
			}
		}
		f.Phases = append(f.Phases, phase)
	}
	for _, m := range []struct {
		name, text string
		most       int
		into       *int
	}{{"the life unopened", d.Life, longestLife, &f.LifeMonths}, {"the time after opening", d.AfterOpen, longestOpen, &f.PAOMonths}} {
		n, err := ReadMonths(strings.TrimSpace(m.text), m.most)
		if *m.into = n; err != nil {
			wrong = append(wrong, Finding{Rule: "shelflife", Level: Care, Says: m.name + " could not be read: " + err.Says, Source: "this book's own rule", Do: err.Want})
		}
	}
	return f, trouble, wrong
}

func readLine(d *DraftLine, k Known) (Line, string) {
	l := Line{ID: d.ID, Phase: d.Phase, Ingredient: d.Ingredient, Base: d.Base, QS: d.QS, Compatible: d.Compatible, Note: d.Note}
	trouble := ""
	switch {
	case d.Ingredient != "" && d.Base != "":
		trouble = "an ingredient and a base at once: choose one"
	case d.Ingredient == "" && d.Base == "":
		trouble = "no ingredient is chosen yet"
	case d.Base == "" && k.Ingredients[d.Ingredient] == nil:
		trouble = "“" + short(d.Ingredient) + "” is not among the ingredients known here"
	case d.Base != "" && k.Bases[d.Base] == nil:
		trouble = "the base “" + short(d.Base) + "” is not known here"
	}
	if !d.QS {
		p, err := ReadPercent(d.Percent)
		if err == nil {
			l.Percent = p
		} else if trouble == "" || strings.TrimSpace(d.Percent) != "" {
			trouble = err.Says + "; " + err.Want
		}
	}
	return l, trouble
}
