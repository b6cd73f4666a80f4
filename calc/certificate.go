package calc

import (
	"strings"

	"stillroom/calc/law"
	"stillroom/calc/matter"
)

// Certified is what a supplier's certificate and allergen statement say of one scent. A nil or empty field was not said, and what is known
// without it stays.
type Certified struct {
	Certificate *matter.Certificate
	FlashPoint  *Temperature
	// Allergens are per cent of the scent. A statement names all that are in it, so it takes the place of every allergen given before.
	Allergens []Share
	// Vanillin is vanillin and ethyl vanillin in per cent of the scent; 0 % is a figure, nil is not known.
	Vanillin *matter.Range
}

// WithCertificate lays a supplier's certificate over what is known of a scent. Restricted substances that are no allergens stay as given: a
// statement of allergens does not speak of them, and silence must not take a warning away. Where a name of the statement is in no table, it is
// kept as Unread, and given allergens that the statement does not name stay too: the name may mean one of them.
func (c Certified) WithCertificate(i *Ingredient) {
	if c.Certificate != nil {
		i.Certificate = c.Certificate
	}
	if c.FlashPoint != nil {
		i.FlashPoint = c.FlashPoint
	}
	if c.Vanillin != nil {
		i.Vanillin = c.Vanillin
	}
	i.Unread = nil
	if len(c.Allergens) == 0 {
		return
	}
	said := make([]Share, len(c.Allergens))
	named := map[string]bool{}
	for n, a := range c.Allergens {
		name, known := knownAllergen(a.INCI)
		a.INCI = name
		if !known && !contains(i.Unread, name) {
			i.Unread = append(i.Unread, name)
		}
		said[n], named[name] = a, true
	}
	kept := make([]Share, 0, len(i.Holds)+len(said))
	for _, h := range i.Holds {
		if !named[h.INCI] && (len(i.Unread) > 0 || !anAllergen(h.INCI)) {
			kept = append(kept, h)
		}
	}
	i.Holds = append(kept, said...)
}

func anAllergen(inci string) bool {
	return isAllergen(inci, "EU") || isAllergen(inci, "UK")
}

// AllergenName is how the tables of law write what a supplier's statement names, by whatever usual name and however spelled; what is in no
// table stays as typed.
func AllergenName(typed string) string {
	name, _ := knownAllergen(typed)
	return name
}

// knownAllergen tells too whether any table knows the name: a restricted substance that is no allergen is known as well.
func knownAllergen(typed string) (string, bool) {
	folded := foldAllergen(typed)
	if folded == "" {
		return typed, false
	}
	if inci := allergenNames[folded]; inci != "" {
		return inci, true
	}
	for i := range law.Limits {
		for _, inci := range law.Limits[i].Substances {
			if foldAllergen(inci) == folded {
				return inci, true
			}
		}
	}
	return typed, false
}

// allergenNames is every name of the table of allergens, folded.
var allergenNames = func() map[string]string {
	m := map[string]string{}
	for i := range law.Allergens {
		a := &law.Allergens[i]
		for _, name := range a.Also {
			m[foldAllergen(name)] = a.INCI
		}
	}
	for i := range law.Allergens { // the names themselves last, so that they win
		m[foldAllergen(law.Allergens[i].INCI)] = law.Allergens[i].INCI
	}
	return m
}()

// foldAllergen leaves of a name what all suppliers write alike: its letters and digits, without capitals and what stands in brackets.
func foldAllergen(name string) string {
	var b strings.Builder
	deep := 0
	for _, r := range strings.ToLower(name) {
		switch {
		case r == '(' || r == '[':
			deep++
		case r == ')' || r == ']':
			deep = max(deep-1, 0)
		case deep > 0:
		case r == 'α':
			b.WriteString("alpha")
		case r == 'β':
			b.WriteString("beta")
		case r == 'γ':
			b.WriteString("gamma")
		case r == 'δ':
			b.WriteString("delta")
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		}
	}
	return b.String()
}

const unreadDo = "write it as the label names it, such as Limonene; the allergens given before are kept beside it until every name is known"

// unreadSays says that names of a scent's statement are in no table.
func unreadSays(i *Ingredient) string {
	var names []string
	for _, n := range i.Unread {
		names = append(names, "“"+short(n)+"”")
	}
	is := " is"
	if len(names) > 1 {
		is = " are"
	}
	return "not checked: " + list(names) + " of the statement of " + i.Name + is + " in no table of this book, so the label does not name it"
}
