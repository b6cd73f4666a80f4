package book

import (
	"bytes"
	"slices"
	"strings"

	"stillroom/calc"
)

var (
	charges     = []string{"", "anionic", "cationic", "amphoteric", "non-ionic", "none"}
	countsAs    = []string{"water", "plant powder", "food for microbes", "nut-derived", "plastic", "colour"}
	solubleIn   = []string{"", "water", "oil", "both", "neither"}
	fieldsOfOwn = "choose one of those offered, or leave it empty when it is not known"
)

// defineIngredient writes down an ingredient of the maker's own, or own figures over those of the given list.
func (s *State) defineIngredient(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[ownIngredient](args)
	if no != nil {
		return nil, nil, no
	}
	for p, t := range map[*string]string{&a.Name: a.Name, &a.INCI: a.INCI, &a.Source: a.Source, &a.Key: a.Key} {
		*p = strings.TrimSpace(t)
	}
	given := s.given.Ingredients[a.Key]
	switch {
	case a.Key != "" && s.ingredient(a.Key) == nil:
		return nil, nil, refuse("ingredient unknown", "key", "the ingredient "+a.Key+" is not known here", "choose it from the list, or write it down as a new one")
	case a.Name == "" && given == nil:
		return nil, nil, refuse("name missing", "name", "the ingredient has no name", "write what you call it")
	case a.INCI == "" && strings.TrimSpace(a.Composition) == "" && given == nil:
		return nil, nil, refuse("INCI missing", "inci", "nothing says what it is made of, and a label must name it", "write its INCI name; it stands on the tub or in the supplier's document")
	case !slices.Contains(charges, a.Charge):
		return nil, nil, refuse("charge unknown", "charge", "“"+a.Charge+"” is not a class of charge", fieldsOfOwn)
	case !slices.Contains(solubleIn, a.Soluble):
		return nil, nil, refuse("solubility unknown", "soluble", "“"+a.Soluble+"” does not say what it dissolves in", fieldsOfOwn)
	}
	b, no := readOwn(a, s.habits().Degrees)
	if no != nil {
		return nil, nil, no
	}
	if taken := s.ingredientNamed(a.Name, a.Key); taken != "" {
		if had := s.ingredients.get(taken); had != nil && a.Key == "" {
			if b.Key = taken; same(&had.body, b) {
				return nil, keyValue{taken}, nil // the key was pressed twice
			}
		}
		return nil, nil, refuse("name taken", "name", "an ingredient called "+a.Name+" is known here already", "open that one and change its figures, or write another name")
	}
	if b.Key == "" {
		b.Key = (&drawer{seed: ctx.Rand}).key(8, s.matterKeyTaken)
	}
	if had := s.ingredients.get(b.Key); had != nil && same(&had.body, b) {
		return nil, keyValue{b.Key}, nil
	}
	d, no := draft(KindIngredientDefined, b)
	if no != nil {
		return nil, nil, no
	}
	return []Draft{d}, keyValue{b.Key}, nil
}

// same tells whether two bodies of a kind say the same.
func same(a, b visitable) bool {
	x, err := encode(a)
	y, err2 := encode(b)
	return err == nil && err2 == nil && bytes.Equal(x, y)
}

// matterKeyTaken keeps ingredients, made bases and containers apart: a lot names any of them by its key alone.
func (s *State) matterKeyTaken(k string) bool {
	return s.ingredient(k) != nil || s.containers.get(k) != nil || s.formulas.get(k) != nil
}

// ingredientNamed is another ingredient of the same name: two of one name could not be told apart at the bench.
func (s *State) ingredientNamed(name, but string) string {
	found := ""
	if name == "" {
		return ""
	}
	for k, i := range s.matter().Ingredients {
		if k != but && strings.EqualFold(i.Name, name) {
			found = k
		}
	}
	return found
}

// readOwn reads the figures of an own ingredient as typed.
func readOwn(a ownIngredient, unit string) (*IngredientDefined, *Refusal) {
	b := &IngredientDefined{Key: a.Key, Name: a.Name, INCI: a.INCI, Charge: a.Charge, Soluble: a.Soluble, Airborne: a.Airborne, Corrosive: a.Corrosive, Source: a.Source}
	if plainSource(a.Source) {
		b.Source = ""
	}
	b.Keeps = a.Preservative
	for _, c := range a.Counts {
		if !slices.Contains(countsAs, c) {
			return nil, refuse("not offered", "counts", "an ingredient does not count as “"+c+"” here", "choose of "+listed(countsAs))
		}
		b.Counts = append(b.Counts, CountsAs{c})
	}
	var no *Refusal
	if b.Composition, no = readComposition(a.Composition); no != nil {
		return nil, no
	}
	if no = readCertificate(&a, b, unit); no != nil {
		return nil, no
	}
	read := func(text, field string, into *int64, f func(string) (int64, *calc.FieldError)) {
		if strings.TrimSpace(text) == "" || no != nil {
			return
		}
		v, e := f(text)
		if e != nil {
			no = misread(e, field)
			return
		}
		*into = v
	}
	pH := func(t string) (int64, *calc.FieldError) { v, e := calc.ReadPH(t); return int64(v), e }
	percent := func(t string) (int64, *calc.FieldError) { v, e := calc.ReadPercent(t); return int64(v), e }
	read(a.PHLow, "phLow", &b.PHLow, pH)
	read(a.PHHigh, "phHigh", &b.PHHigh, pH)
	read(a.WorksLow, "worksLow", &b.WorksLow, pH)
	read(a.WorksHigh, "worksHigh", &b.WorksHigh, pH)
	read(a.UseLow, "useLow", &b.UseLow, percent)
	read(a.UseHigh, "useHigh", &b.UseHigh, percent)
	read(a.Density, "density", &b.Density, calc.ReadDensity)
	read(a.MaxTemperature, "maxTemperature", &b.HighestMilli, func(t string) (int64, *calc.FieldError) {
		d, e := calc.ReadDegrees(t, unit)
		b.Highest = d.Text
		return d.MilliC, e
	})
	switch {
	case no != nil:
		return nil, no
	case b.PHLow > b.PHHigh:
		return nil, refuse("upside down", "phHigh", "the pH window ends below its beginning", "write the lower figure first, and both of them")
	case b.WorksLow > b.WorksHigh:
		return nil, refuse("upside down", "worksHigh", "the pH at which it works ends below its beginning", "write the lower figure first, and both of them")
	case b.UseLow > b.UseHigh:
		return nil, refuse("upside down", "useHigh", "the range of use ends below its beginning", "write the lower figure first, and both of them")
	}
	return b, nil
}

// plainSource is what people write when they have no document.
func plainSource(t string) bool {
	switch strings.ToLower(strings.TrimRight(t, ".")) {
	case "", "my own entry", ownEntry, "own", "my own", "myself":
		return true
	}
	return false
}

// readComposition reads lines "INCI name percent". Nothing at all is the one INCI name at 100 %.
func readComposition(text string) ([]Part, *Refusal) {
	var out []Part
	sum := int64(0)
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' || r == ';' }) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		at := strings.LastIndexAny(strings.TrimRight(line, " %\t"), " \t")
		if at < 0 {
			return nil, refuse("misread", "composition", "“"+line+"” is not a name and a share", "write one substance a line with its per cent, such as: Cocamidopropyl Betaine 30")
		}
		p, e := calc.ReadPercent(line[at+1:])
		if e != nil {
			return nil, refuse("misread", "composition", "the share in “"+line+"” could not be read: "+e.Says, "write one substance a line with its per cent, such as: Cocamidopropyl Betaine 30")
		}
		sum += int64(p)
		out = append(out, Part{INCI: strings.TrimRight(strings.TrimSpace(line[:at]), ":=,"), Percent: int64(p)})
	}
	switch {
	case len(out) > 100:
		return nil, refuse("too many", "composition", "that is more than 100 substances", "write those that the supplier's document names")
	case len(out) > 0 && sum != int64(calc.Hundred):
		return nil, refuse("sum", "composition", "the shares sum to "+plain(sum, 4)+" %, and an ingredient is 100 %", "write what the rest is, often Aqua")
	}
	return out, nil
}
