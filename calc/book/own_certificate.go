package book

import (
	"strings"

	"stillroom/calc"
	"stillroom/calc/matter"
)

// certified tells whether anything of a supplier's certificate was written down.
func (b *IngredientDefined) certified() bool {
	return b.Scheme != "" || len(b.Maxima) > 0 || len(b.Allergens) > 0 || b.Flash != "" || b.VanillinSaid
}

// certificateCite is the certificate as a source: its scheme and amendment, and its own day or else that of the entry.
func (d *defined) certificateCite() calc.Cite {
	b := &d.body
	c := calc.Cite{Source: strings.TrimSpace(b.Scheme + " certificate"), Date: d.cite().Date}
	if b.Amendment > 0 {
		c.Source += ", amendment " + number(b.Amendment)
	}
	if b.Certified > 0 {
		c.Date = "certificate of " + showDay(b.Certified)
	}
	return c
}

// certify lays the supplier's certificate over the figures of an ingredient.
func (d *defined) certify(i *calc.Ingredient) {
	b := &d.body
	if !b.certified() {
		return
	}
	from := d.certificateCite()
	c := calc.Certified{}
	if len(b.Maxima) > 0 || b.Scheme != "" {
		c.Certificate = &matter.Certificate{Scheme: b.Scheme, Amendment: int(b.Amendment), Cite: from}
		for _, m := range b.Maxima {
			c.Certificate.Maxima = append(c.Certificate.Maxima, matter.CategoryMax{Category: m.Category, Percent: calc.Percent(m.Percent)})
		}
	}
	if b.Flash != "" {
		c.FlashPoint = &calc.Temperature{MilliC: b.FlashMilli, Text: b.Flash, Cite: from}
	}
	for _, a := range b.Allergens {
		c.Allergens = append(c.Allergens, calc.Share{INCI: a.INCI, Percent: calc.Percent(a.Percent), Listed: "yes", Cite: from})
	}
	if b.VanillinSaid {
		c.Vanillin = &matter.Range{Low: calc.Percent(b.Vanillin), High: calc.Percent(b.Vanillin), Cite: from}
	}
	c.WithCertificate(i)
}

// readCertificate reads what was typed of a certificate.
func readCertificate(a *ownIngredient, b *IngredientDefined, unit string) *Refusal {
	b.Scheme = strings.TrimSpace(a.Scheme)
	if t := strings.TrimSpace(a.Amendment); t != "" {
		n, e := calc.ReadCount(t)
		if e != nil || n > 9999 {
			return refuse("misread", "amendment", "“"+t+"” is not the number of an amendment", "write a whole number, such as 51")
		}
		b.Amendment = int64(n)
	}
	var no *Refusal
	if b.Certified, no = readDay(a.Certified, "certified"); no != nil {
		return no
	}
	for _, l := range pairLines(a.Maxima) {
		p, e := calc.ReadPercent(l.share)
		if e != nil || l.name == "" {
			return refuse("misread", "maxima", "“"+l.text+"” is not a category and its maximum", "write one category a line with its per cent, such as: 5A 0.3")
		}
		category := strings.ToUpper(l.name)
		for _, m := range b.Maxima {
			if m.Category == category {
				return refuse("twice", "maxima", "category "+category+" stands twice", "write each category once, as the certificate does")
			}
		}
		b.Maxima = append(b.Maxima, CategoryMax{category, int64(p)})
	}
	sum := int64(0)
	for _, l := range pairLines(a.Allergens) {
		p, e := calc.ReadPercent(l.share)
		if e != nil || l.name == "" {
			return refuse("misread", "allergens", "“"+l.text+"” is not an allergen and its share", "write one allergen a line with its per cent of the scent, such as: Linalool 31.2")
		}
		sum += int64(p)
		b.Allergens = append(b.Allergens, AllergenShare{calc.AllergenName(l.name), int64(p)})
	}
	if sum > int64(calc.Hundred) {
		return refuse("sum", "allergens", "the allergens sum to "+plain(sum, 4)+" %, and a scent is 100 %", "write per cent of the scent, not of the product")
	}
	if t := strings.TrimSpace(a.Flash); t != "" {
		d, e := calc.ReadDegrees(t, unit)
		if e != nil {
			return misread(e, "flash")
		}
		b.Flash, b.FlashMilli = d.Text, d.MilliC
	}
	if t := strings.TrimSpace(a.Vanillin); t != "" {
		p, e := calc.ReadPercent(t)
		if e != nil {
			return misread(e, "vanillin")
		}
		b.VanillinSaid, b.Vanillin = true, int64(p)
	}
	return nil
}

// pairLine is a name and a share as typed on one line.
type pairLine struct{ text, name, share string }

// pairLines parts lines, or what stands between semicolons, into a name and the share at its end.
func pairLines(text string) []pairLine {
	var out []pairLine
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' || r == ';' }) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		l := pairLine{text: line}
		if at := strings.LastIndexAny(strings.TrimRight(line, " %\t"), " \t"); at >= 0 {
			l.name, l.share = strings.TrimRight(strings.TrimSpace(line[:at]), ":=,"), line[at+1:]
		}
		out = append(out, l)
	}
	return out
}

// typed is an own definition as it would be typed, so that it can be changed and not only written anew.
func (b *IngredientDefined) typed() ownIngredient {
	a := ownIngredient{Key: b.Key, Name: b.Name, INCI: b.INCI, Charge: b.Charge, Soluble: b.Soluble, PHLow: blankZero(b.PHLow, 2), PHHigh: blankZero(b.PHHigh, 2), UseLow: blankZero(b.UseLow, 4), UseHigh: blankZero(b.UseHigh, 4),
		Density: blankZero(b.Density, 3), MaxTemperature: calc.DegreesWithUnit(b.Highest, "C"), Airborne: b.Airborne, Corrosive: b.Corrosive, Source: b.Source, Preservative: b.Keeps, WorksLow: blankZero(b.WorksLow, 2), WorksHigh: blankZero(b.WorksHigh, 2),
		Scheme: b.Scheme, Amendment: blankZero(b.Amendment, 0), Certified: showDay(b.Certified), Flash: calc.DegreesWithUnit(b.Flash, "C")}
	if a.Source == "" {
		a.Source = "my own entry"
	}
	for _, p := range b.Composition {
		a.Composition += p.INCI + " " + plain(p.Percent, 4) + "\n"
	}
	for _, c := range b.Counts {
		a.Counts = append(a.Counts, c.As)
	}
	for _, m := range b.Maxima {
		a.Maxima += m.Category + " " + plain(m.Percent, 4) + "\n"
	}
	for _, x := range b.Allergens {
		a.Allergens += x.INCI + " " + plain(x.Percent, 4) + "\n"
	}
	if b.VanillinSaid {
		a.Vanillin = plain(b.Vanillin, 4)
	}
	return a
}
