package calc

import (
	"strconv"
	"strings"
)

// FormulaPage writes a formula as a page that Notebook reads back to the same shares: a title, a heading for each phase with its treatment, a line for each
// ingredient. Bases are taken apart into ingredients as supplied, since a reader elsewhere does not know them. The formula must sum to 100.
func FormulaPage(f Formula, k Known) (string, *FieldError) {
	t := Total(f.Lines)
	if len(t.Findings) > 0 {
		return "", &FieldError{Field: "lines", Says: t.Findings[0].Says, Want: t.Findings[0].Do}
	}
	u := unpacking{k: k, done: map[string][]supplied{}, open: map[string]int{}}
	var b strings.Builder
	b.WriteString("Formula: " + oneLine(f.Name) + "\n")
	phase := ""
	for _, i := range byPhase(&f) {
		l := &t.Lines[i]
		if l.Phase != phase {
			phase = l.Phase
			b.WriteString(phase + ":" + pageTreatment(f.treatment(phase)) + "\n")
		}
		if l.Base == "" {
			amount := plain(l.Percent) + "%"
			if l.QS {
				amount = "q.s."
			}
			b.WriteString(oneLine(k.name(*l)) + " " + amount + "\n")
			continue
		}
		in, err := u.base(l.Base)
		if err != nil {
			return "", err
		}
		// What rounding to 0.0001 % leaves goes to the largest, so that the page sums as the formula does.
		shares, left, most := make([]Percent, len(in)), l.Percent, 0
		for n, s := range in {
			shares[n] = Percent(s.percent.Shift(-2).Mul(percentOf(l.Percent)).Shift(4).Round(0).IntPart())
			if left -= shares[n]; shares[n] > shares[most] {
				most = n
			}
		}
		for n, s := range in {
			if n == most {
				shares[n] += left
			}
			if shares[n] > 0 {
				b.WriteString(oneLine(k.Ingredients[s.key].Name) + " " + plain(shares[n]) + "%\n")
			}
		}
	}
	return b.String(), nil
}

// byPhase is the order of the lines by the order of their phases.
func byPhase(f *Formula) []int {
	var order []int
	taken := make([]bool, len(f.Lines))
	take := func(letter string) {
		for i := range f.Lines {
			if !taken[i] && f.Lines[i].Phase == letter {
				taken[i], order = true, append(order, i)
			}
		}
	}
	for _, p := range f.Phases {
		take(p.Letter)
	}
	for i := range f.Lines {
		take(f.Lines[i].Phase)
	}
	return order
}

func pageTreatment(t Treatment) string {
	out := ""
	if t.Do != "" {
		out = " " + t.Do
	}
	if t.Degrees != nil {
		out += " " + strings.Replace(t.Degrees.Text, " °", " ", 1)
	}
	if t.HoldMin > 0 {
		out += ", " + strconv.Itoa(t.HoldMin) + " min"
	}
	return out
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
