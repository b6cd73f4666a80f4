package book

import (
	"strings"

	"stillroom/calc"
)

// labelRegion is the region whose rules a workshop's labels follow; EU when none was said.
func (w *WorkshopNamed) labelRegion() string {
	r := strings.ToUpper(strings.TrimSpace(w.Region))
	switch {
	case r == "US" || r == "USA" || strings.Contains(r, "UNITED STATES"):
		return "US"
	case r == "UK" || r == "GB" || strings.Contains(r, "UNITED KINGDOM"):
		return "UK"
	}
	return "EU"
}

// cardSays is what the public card says of what really went in: the ingredient list in the order of the region, and
// the cautions. It is empty when nothing can be said without guessing.
func (m *making) cardSays(region string, net int64) (ingredients string, cautions []Caution) {
	if list, e := calc.IngredientList(m.listedMasses(), m.known, region, m.f.Wash); e == nil {
		ingredients = strings.TrimPrefix(list.Text, "Ingredients: ")
	}
	f, total := m.wentIn()
	if total <= 0 || net <= 0 {
		return ingredients, nil
	}
	label, e := calc.LabelContentOf(calc.LabelAsk{Region: region, Net: calc.Mass(net), BatchCode: m.b.body.Code}, f, m.known)
	if e != nil {
		return ingredients, nil
	}
	for _, c := range label.Cautions {
		cautions = append(cautions, Caution{c.Says})
	}
	return ingredients, cautions
}

// extraFindings say what went in and does not stand in the formula, or stands there otherwise: the label lists what
// went in, the formula does not.
func (s *State) extraFindings(m *making) []calc.Finding {
	var out []calc.Finding
	w, order := m.b.weighed()
	for _, id := range order {
		if id[:1] == "+" && w[id].mass > 0 {
			name := s.lineName(w[id].ingr, "")
			out = append(out, calc.Finding{Rule: "not in the formula", Level: calc.Care, Subject: id, Says: name + " was added; it is not in the formula",
				Figure: grams(w[id].mass, m.b.body.Plan.Step), Source: "this book's own rule", Do: "list it on the label, and revise the formula if it belongs there"})
			continue
		}
		target, planned := m.target(id)
		if off := w[id].mass - target; planned && max(off, -off)*100 > target*readingTolerance && max(off, -off) > m.b.body.Plan.Step {
			step, l := m.b.body.Plan.Step, m.line(id)
			name := id
			if l != nil {
				name = s.lineName(l.Ingredient, l.Base)
			}
			out = append(out, calc.Finding{Rule: "not as planned", Level: calc.Note, Subject: id, Says: name + " is " + grams(w[id].mass, step) + ", and " + grams(target, step) + " were planned",
				Figure: grams(w[id].mass, step), Limit: "within " + number(readingTolerance) + " % of the plan", Source: "this book's own rule", Do: "if it is better so, revise the formula; the label follows what went in"})
		}
	}
	return out
}
