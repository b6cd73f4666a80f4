package book

import (
	"maps"
	"slices"
	"strings"

	"stillroom/calc"
	"stillroom/calc/matter"
)

// ownEntry is the source of a figure that the maker wrote down without a document.
const ownEntry = "own entry"

// cite is where the figures of an own definition come from, and when they were written down. They carry no mark: nobody but the maker
// vouches for them. The day is that of the device's clock in no time zone: a fold knows none.
func (d *defined) cite() calc.Cite {
	day := "written down " + showDay(dayOf(d.from.at, 0))
	if d.body.Source == "" {
		return calc.Cite{Source: ownEntry, Date: day}
	}
	return calc.Cite{Source: d.body.Source, Date: day}
}

// over lays the maker's figures over those of the given list; given is nil for an ingredient of the maker's own. What
// was not said stays as given, hazards too: silence must not take a warning away.
func (d *defined) over(given *calc.Ingredient) *calc.Ingredient {
	b := &d.body
	i := calc.Ingredient{Key: b.Key, Own: given == nil}
	if given != nil {
		i = *given
	}
	from := d.cite()
	if b.Name != "" {
		i.Name = b.Name
	}
	if b.INCI != "" {
		i.INCI = b.INCI
	}
	switch {
	case len(b.Composition) > 0:
		i.Composition = nil
		for _, p := range b.Composition {
			i.Composition = append(i.Composition, calc.Share{INCI: p.INCI, Percent: calc.Percent(p.Percent), Listed: p.Listed, Cite: from})
		}
	case given == nil:
		i.Composition = []calc.Share{{INCI: b.INCI, Percent: calc.Hundred, Cite: from}}
	}
	if b.Soluble != "" {
		i.Soluble = b.Soluble
	}
	if b.PHHigh != 0 {
		i.PHKeeps = &matter.PHRange{Low: int(b.PHLow), High: int(b.PHHigh), Cite: from}
	}
	if b.WorksHigh != 0 {
		// It keeps a product only where it both lasts and works.
		low, high := int(b.WorksLow), int(b.WorksHigh)
		if r := i.PHKeeps; r != nil && max(low, r.Low) <= min(high, r.High) {
			low, high = max(low, r.Low), min(high, r.High)
		}
		i.PHKeeps = &matter.PHRange{Low: low, High: high, Cite: from}
	}
	i.Functions = slices.Clone(i.Functions)
	also := func(function string) {
		if !slices.Contains(i.Functions, function) {
			i.Functions = append(i.Functions, function)
		}
	}
	if b.Keeps {
		also("preservative")
	}
	i.CountsAs = slices.Clone(i.CountsAs)
	for _, c := range b.Counts {
		switch as := c.As; as {
		case "colour":
			also(as)
		case "nut-derived":
			i.CountsAs = append(i.CountsAs, "nut")
		default:
			i.CountsAs = append(i.CountsAs, as)
		}
	}
	if b.UseHigh != 0 {
		i.Usual = &matter.Range{Low: calc.Percent(b.UseLow), High: calc.Percent(b.UseHigh), Cite: from}
	}
	if b.Density != 0 {
		i.Density = &matter.Density{MgPerML: b.Density, Cite: from}
	}
	if b.Highest != "" {
		i.Highest = &calc.Temperature{MilliC: b.HighestMilli, Text: b.Highest, Cite: from}
	}
	i.Hazards = slices.Clone(i.Hazards)
	hazard := func(kind, says, wear string) {
		if !slices.ContainsFunc(i.Hazards, func(h calc.Hazard) bool { return h.Kind == kind }) {
			i.Hazards = append(i.Hazards, calc.Hazard{Kind: kind, Says: says, Wear: wear, Cite: from})
		}
	}
	if b.Airborne {
		hazard("airborne powder", "a powder that flies", "respirator (FFP2, N95 or better) on before the tub is opened, for everyone in the room; fan off, no window across the tub; weigh slowly")
	}
	if b.Corrosive {
		hazard("corrosive", "it burns skin and eyes", "goggles and gloves on before it is opened; into the water, never water into it; never with children near")
	}
	if i.About == "" {
		i.About = "own ingredient"
	}
	if i.INCI == "Parfum" || b.certified() {
		also("scent")
	}
	d.certify(&i)
	return &i
}

// charged names the substances that a stated charge belongs to: those that the given list does not know, else the one
// that there is most of, water left out.
func charged(i *calc.Ingredient, known map[string]*calc.Substance) []string {
	var out []string
	most := -1
	for n, p := range i.Composition {
		if known[p.INCI] == nil {
			out = append(out, p.INCI)
		}
		if !strings.EqualFold(p.INCI, "Aqua") && (most < 0 || p.Percent > i.Composition[most].Percent) {
			most = n
		}
	}
	if len(out) == 0 && most >= 0 {
		out = append(out, i.Composition[most].INCI)
	}
	return out
}

// count lets an ingredient's substances count as what the maker says that it is: a preservative, or water. What the given
// list names as no preservative stays none, whoever calls it one.
func (d *defined) count(i *calc.Ingredient, given, into map[string]*calc.Substance) {
	b := &d.body
	water := slices.Contains(b.Counts, CountsAs{"water"})
	if !b.Keeps && !water {
		return
	}
	for _, inci := range charged(i, given) {
		x := calc.Substance{INCI: inci}
		if had := into[inci]; had != nil {
			x = *had
		}
		if b.Keeps && x.Keeping == "" {
			x.Keeping, x.KeepingFrom = "preservative", d.cite()
		}
		if water && given[inci] == nil {
			x.Functions = append(slices.Clone(x.Functions), "water")
		}
		into[inci] = &x
	}
}

// matter is all ingredients and substances that this book knows, the maker's own word above the given list. The maps
// are not to be changed.
func (s *State) matter() calc.Known {
	w := s.workshop()
	region := w.labelRegion()
	if s.ingredients.len() == 0 {
		return calc.Known{Ingredients: s.given.Ingredients, Substances: s.given.Substances, Bench: s.bench(), Region: region}
	}
	k := calc.Known{Ingredients: maps.Clone(s.given.Ingredients), Substances: maps.Clone(s.given.Substances), Bench: s.bench(), Region: region}
	s.ingredients.each(func(key string, d *defined) bool {
		i := d.over(s.given.Ingredients[key])
		k.Ingredients[key] = i
		d.count(i, s.given.Substances, k.Substances)
		if d.body.Charge == "" {
			return true
		}
		for _, inci := range charged(i, s.given.Substances) {
			x := calc.Substance{INCI: inci}
			if had := k.Substances[inci]; had != nil {
				x = *had
			}
			x.Charge, x.ChargeFrom = calc.Charge(d.body.Charge), d.cite()
			if x.Charge == matter.Anionic && s.given.Substances[inci] == nil {
				// Most of what is anionic in this trade cleans; taken for less, a clash of charges would be called harmless.
				x.Functions = append(slices.Clone(x.Functions), "surfactant")
			}
			k.Substances[inci] = &x
		}
		return true
	})
	return k
}

// ingredient answers what this book knows of one ingredient, nil when nothing.
func (s *State) ingredient(key string) *calc.Ingredient {
	if d := s.ingredients.get(key); d != nil {
		return d.over(s.given.Ingredients[key])
	}
	return s.given.Ingredients[key]
}
