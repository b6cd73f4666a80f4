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
// statement of allergens does not speak of them, and silence must not take a warning away.
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
	if len(c.Allergens) == 0 {
		return
	}
	kept := make([]Share, 0, len(i.Holds)+len(c.Allergens))
	for _, h := range i.Holds {
		if !anAllergen(h.INCI) {
			kept = append(kept, h)
		}
	}
	i.Holds = append(kept, c.Allergens...)
}

func anAllergen(inci string) bool {
	return isAllergen(inci, "EU") || isAllergen(inci, "UK")
}

// AllergenName is how the table of law writes an allergen, whatever case it was typed in; what is not in the table stays as typed.
func AllergenName(typed string) string {
	for i := range law.Allergens {
		if strings.EqualFold(law.Allergens[i].INCI, typed) {
			return law.Allergens[i].INCI
		}
	}
	return typed
}
