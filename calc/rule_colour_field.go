package calc

import "stillroom/calc/law"

// ruleColourField (C1): a colour needs a listing, and a listing names the fields of use; in the US some need a certificate for the lot.
func ruleColourField(e *evidence) []Finding {
	var out []Finding
	us := e.k.region() == "US"
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !p.Percent.IsPositive() || !does(ing, "colour") || ing.Counts("plastic") {
			continue
		}
		for _, c := range ing.Composition {
			f := Finding{Rule: "colour-field", Level: Stop, Subject: first(p), Phase: e.phaseOf(first(p)), Figure: c.INCI, Date: tableDate("colours")}
			listed := colourOf(c.INCI)
			switch {
			case listed == nil && ing.Own: // rule counts-as says it of the maker's own
				continue
			case listed == nil && !isColour(c.INCI):
				f.Says, f.Source = c.INCI+" colours and has no colour index number and no US listing in this book: not for sale as a colour", "EU 1223/2009 Art. 14 and Annex IV, 21 CFR 70 to 74 (from memory); "+lawDate
				f.Do = "take a listed colour, or find its listing"
			case listed == nil:
				f.Level, f.Says, f.Source, f.Do = Unchecked, "not checked: the fields of use of "+c.INCI+" are missing", "this book's table of colours, "+lawDate, "look up its listing"
			default:
				if f.Level, f.Says = e.field(listed); f.Says == "" {
					continue
				}
				from := listed.FromEU
				if us {
					from = listed.FromUS
				}
				f.Source = from.String() + "; " + lawDate
				f.Do = "take a colour that is listed for this use"
			}
			out = append(out, f)
		}
		if us {
			out = append(out, e.certified(p, ing)...)
		}
	}
	return out
}

// field holds one listed colour against where the product is used; "" when nothing is to be said.
func (e *evidence) field(c *law.Colour) (Level, string) {
	allowed := c.EU
	if e.k.region() == "US" {
		allowed = c.US
	}
	site := e.f.Site
	barred := map[string][]string{"all": nil, "not eye": {"eye area"}, "not lip": {"lip"}, "not mucous": {"eye area", "lip", "intimate"}, "external": {"eye area", "lip", "intimate"}}[allowed]
	switch {
	case allowed == "rinse-off" && e.f.Wash == "leave-on", site != "" && contains(barred, site):
		return Stop, c.INCI + " (" + c.Name + ") is not listed for this use in the " + e.k.region() + ", " + fieldWords(allowed)
	case allowed == "rinse-off" && e.f.Wash == "", site == "" && len(barred) > 0:
		return Unchecked, "not checked: where it is used is missing; " + c.INCI + " (" + c.Name + ") is listed " + fieldWords(allowed)
	}
	return "", ""
}

// certified: dyes that the US lets in only from a lot with its certificate.
func (e *evidence) certified(p *Part, ing *Ingredient) []Finding {
	for _, c := range ing.Composition {
		if l := colourOf(c.INCI); l != nil && l.Certified {
			return []Finding{{Rule: "colour-field", Level: Care, Subject: first(p), Phase: e.phaseOf(first(p)), Says: c.INCI + " (" + l.Name + ") needs the certificate number of its lot in the US", Figure: c.INCI,
				Source: l.FromUS.String() + "; " + lawDate, Date: tableDate("colours"), Do: "buy a certified lot and keep its number with the lot"}}
		}
	}
	return nil
}

// fieldWords says where a colour is listed for, in the words of who makes it.
func fieldWords(allowed string) string {
	switch allowed {
	case "rinse-off":
		return "only for what is rinsed off"
	case "not eye":
		return "but not at the eye"
	case "not lip":
		return "but not on the lips"
	case "not mucous":
		return "but not at eyes, lips or other wet skin"
	case "external":
		return "for the outer skin only"
	}
	return allowed
}
