package calc

import "strings"

// shortWear is what to put on, in one clause that a phone shows whole; why, and the rest, stand in what to do.
var shortWear = map[string]string{
	"airborne powder": "respirator, before the tub is opened",
	"eye":             "goggles and gloves, before it is opened",
	"skin":            "gloves, before it is opened",
	"corrosive":       "goggles and gloves, before it is opened: it burns",
}

// PutOn is what these findings ask for, in a clause for a list of steps: "respirator, goggles and gloves". What stands
// inside another one is said once.
func PutOn(wear []Finding) string {
	var out []string
	for _, f := range wear {
		what, _, _ := strings.Cut(f.Says, ", before")
		what, _, _ = strings.Cut(what, ":")
		said := false
		for i, w := range out {
			if strings.Contains(what, w) {
				out[i] = what
			}
			said = said || strings.Contains(out[i], what)
		}
		if !said {
			out = append(out, what)
		}
	}
	return strings.Join(out, ", ")
}

// ruleWearPowder: fine powder that flies is breathed in before anyone notices; the respirator goes on before the tub is opened, for everyone in the room.
func ruleWearPowder(e *evidence) []Finding { return e.wear("wear-powder", "airborne powder") }

// wear gives one finding for every line whose ingredient, handled as supplied, has a hazard of one of these kinds. What is inside a base
// is not met again: the base is weighed as it was made.
func (e *evidence) wear(rule string, kinds ...string) []Finding {
	var out []Finding
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing := e.ingredient(l)
		if ing == nil {
			continue
		}
		for _, h := range ing.Hazards {
			if contains(kinds, h.Kind) {
				out = append(out, Finding{Rule: rule, Level: Wear, Subject: l.ID, Phase: l.Phase, Says: shortWear[h.Kind], Source: h.Cite.String(), Date: h.Dated(), Do: ing.Name + ": " + h.Says + ". " + capital(h.Wear)})
			}
		}
	}
	return out
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
