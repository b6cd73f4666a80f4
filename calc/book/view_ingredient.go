package book

import (
	"strings"

	"stillroom/calc"
	"stillroom/calc/matter"
)

// viewIngredient shows an ingredient with each figure's source, and who says it: the maker, a supplier's document that
// the maker read it from, or the given list.
func (s *State) viewIngredient(args []byte) (any, *Refusal) {
	a, no := viewArgs(args)
	if no != nil {
		return nil, no
	}
	i := s.ingredient(a.Key)
	if i == nil {
		return nil, unseen("ingredient unknown", "key", "this ingredient is not known here", "choose it from the list of ingredients")
	}
	v := IngredientView{Key: a.Key, Name: i.Name, INCI: i.INCI, About: i.About, Composition: []SubstanceShare{}, Figures: []SourcedFigure{}, Where: "book"}
	own := s.ingredients.get(a.Key)
	if own != nil {
		typed := own.body.typed()
		v.Typed = &typed
		v.Own, v.Where = s.given.Ingredients[a.Key] == nil, s.where(Workshop, own.from.ref)
	}
	add := func(what, text string, from calc.Cite) {
		f := SourcedFigure{What: what, Text: text, Source: from.String(), Mark: from.Mark, From: "given", Date: from.Dated()}
		if own != nil && from == own.certificateCite() {
			f.From = "supplier"
		} else if own != nil && from == own.cite() {
			if f.From = "supplier"; own.body.Source == "" {
				f.From = "own"
			}
		}
		v.Figures = append(v.Figures, f)
	}
	var cited calc.Cite
	for n, p := range i.Composition {
		listed := p.Listed
		if listed == "" {
			listed = "not known"
		}
		v.Composition = append(v.Composition, SubstanceShare{p.INCI, calc.Percent(p.Percent).String() + " %", listed})
		if n == 0 || p.Cite != cited {
			cited = p.Cite
			add("composition", "from "+p.INCI, p.Cite)
		}
	}
	if len(i.Composition) == 1 {
		v.Figures[0].Text = "one substance"
	}
	s.addFigures(i, add)
	return v, nil
}

// addFigures walks the figures of an ingredient in the order in which they are read.
func (s *State) addFigures(i *calc.Ingredient, add func(what, text string, from calc.Cite)) {
	known := s.matter().Substances
	for _, p := range i.Composition {
		if x := known[p.INCI]; x != nil && x.Charge != "" && (x.Charge != matter.ChargeNone || len(i.Composition) == 1) {
			add("charge", string(x.Charge)+", as "+p.INCI, x.ChargeFrom)
		}
	}
	if i.Soluble != "" {
		from := calc.Cite{Source: "common practice", Mark: "CP"}
		if d := s.ingredients.get(i.Key); d != nil && d.body.Soluble != "" {
			from = d.cite()
		}
		add("dissolves in", i.Soluble, from)
	}
	pH := func(low, high int) string { return fixed(int64(low), 2, 1) + " to " + fixed(int64(high), 2, 1) }
	if d := s.ingredients.get(i.Key); d != nil {
		if d.body.Keeps {
			add("function", "preservative", d.cite())
		}
		for _, c := range d.body.Counts {
			add("counts as", c.As, d.cite())
		}
	}
	if r := i.PHSupplied; r != nil {
		add("pH as delivered", strings.TrimSuffix(pH(r.Low, r.High)+", "+r.At, ", "), r.Cite)
	}
	if r := i.PHKeeps; r != nil {
		add("pH in which it lasts", pH(r.Low, r.High), r.Cite)
	}
	if r := i.Usual; r != nil {
		add("usual use", plain(int64(r.Low), 4)+" to "+plain(int64(r.High), 4)+" %", r.Cite)
	}
	if r := i.Maximum; r != nil {
		add("supplier's maximum", plain(int64(r.Percent), 4)+" %", r.Cite)
	}
	if r := i.Highest; r != nil {
		text := calc.Celsius(r.MilliC)
		if strings.HasSuffix(r.Text, "F") {
			text = r.Text + " (" + text + ")"
		} else if s.bench().Fahrenheit {
			text += " (" + calc.Fahrenheit(r.MilliC) + ")"
		}
		add("added below", text, r.Cite)
	}
	if r := i.Density; r != nil {
		add("density at 20 °C", fixed(r.MgPerML, 3, 2)+" g/mL", r.Cite)
	}
	if r := i.Melts; r != nil {
		text := calc.Celsius(r.LowMilliC) + " to " + calc.Celsius(r.HighMilliC)
		if s.bench().Fahrenheit {
			text += " (" + calc.Fahrenheit(r.LowMilliC) + " to " + calc.Fahrenheit(r.HighMilliC) + ")"
		}
		add("sets", text, r.Cite)
	}
	if c := i.Certificate; c != nil {
		for _, m := range c.Maxima {
			add("most in category "+m.Category, plain(int64(m.Percent), 4)+" %", c.Cite)
		}
		if len(c.Maxima) == 0 {
			add("certificate", "no maximum written down", c.Cite)
		}
	}
	if r := i.FlashPoint; r != nil {
		text := calc.Celsius(r.MilliC)
		if s.bench().Fahrenheit {
			text += " (" + calc.Fahrenheit(r.MilliC) + ")"
		}
		add("flash point", text, r.Cite)
	}
	for _, h := range i.Holds {
		add("holds "+h.INCI, plain(int64(h.Percent), 4)+" %", h.Cite)
	}
	if r := i.Vanillin; r != nil {
		text := plain(int64(r.High), 4) + " %"
		if r.Low != r.High {
			text = plain(int64(r.Low), 4) + " to " + text
		}
		add("vanillin in it", text, r.Cite)
	}
	for _, h := range i.Hazards {
		add(h.Kind, h.Says+"; "+h.Wear, h.Cite)
	}
}
