package calc

import "stillroom/calc/matter"

// least is the undissociated share of an acid, in per cent, below which it is taken not to keep a product (own rule).
const least = 5

// ruleKeepingPH: a weak acid keeps a product only undissociated, and other preservatives and surfactants have a window too (E3, E4). The
// windows of all lines must overlap; without a measured pH the table of shares is shown and nothing is judged.
func ruleKeepingPH(e *evidence) []Finding {
	var out []Finding
	if !e.waterIn().IsPositive() {
		return nil
	}
	seen := map[string]bool{}
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		s, form := e.k.Substances[p.Key], findForm(p.Key)
		if s == nil || s.Keeping != "preservative" || form == nil || p.Percent.IsZero() || seen[form.acid] {
			continue
		}
		a := findAcid(form.acid)
		if a.pKa == 0 {
			continue
		}
		seen[form.acid] = true
		line := first(p)
		f := Finding{Rule: "keeping-ph", Subject: line, Phase: e.phaseOf(line), Source: "100 ÷ (1 + 10^(pH − pKa)), pKa " + pKaText(a) + ": " + a.from.String()}
		if e.pH == 0 {
			f.Level, f.Says = Unchecked, "not checked: the pH of the product is missing. "+a.name+" works only undissociated"
			f.Figure, f.Do = shareTable(a), "measure it in the finished product"
			out = append(out, f)
			continue
		}
		share := Undissociated(float64(e.pH)/100, a.pKa)
		f.Figure = share.StringFixed(1) + " % undissociated at pH " + showPH(e.pH)
		f.Limit = "at least 5 % (own rule)"
		switch {
		case share.IntPart() < least:
			f.Level, f.Says, f.Do = Stop, "at this pH almost none of the "+a.name+" works", "bring the pH down, or choose another preservative"
		case share.IntPart() < 4*least:
			f.Level, f.Says, f.Do = Care, "at this pH little of the "+a.name+" works", "bring the pH down if the other lines allow it"
			f.Limit = "20 % or more is easier to rely on (own rule)"
		default:
			continue
		}
		out = append(out, f)
	}
	return append(out, e.windows(len(out) == 0)...)
}

// windows intersects what every line keeps at, and names the two that clash; without a measured pH it tells the window, when tell is set.
func (e *evidence) windows(tell bool) []Finding {
	type window struct {
		line, name string
		r          *matter.PHRange
	}
	var lowest, highest *window // the strictest upper end, the strictest lower end
	var out []Finding
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing.PHKeeps == nil || p.Percent.IsZero() {
			continue
		}
		w := &window{first(p), ing.Name, ing.PHKeeps}
		if lowest == nil || w.r.High < lowest.r.High {
			lowest = w
		}
		if highest == nil || w.r.Low > highest.r.Low {
			highest = w
		}
		if e.pH != 0 && (e.pH < w.r.Low || e.pH > w.r.High) {
			out = append(out, Finding{Rule: "keeping-ph", Level: Care, Subject: w.line, Phase: e.phaseOf(w.line), Says: w.name + " does not keep or work at this pH",
				Figure: "pH " + showPH(e.pH), Limit: "pH " + showPH(w.r.Low) + " to " + showPH(w.r.High), Source: w.r.Cite.String(), Do: "adjust, and measure again"})
		}
	}
	if lowest != nil && lowest.r.High < highest.r.Low {
		out = append(out, Finding{Rule: "keeping-ph", Level: Care, Subject: lowest.line, Phase: e.phaseOf(lowest.line),
			Says:   "no pH suits both: " + lowest.name + " wants at most " + showPH(lowest.r.High) + ", " + highest.name + " at least " + showPH(highest.r.Low),
			Figure: "no overlap", Limit: "pH " + showPH(highest.r.Low) + " and above; " + showPH(lowest.r.High) + " and below",
			Source: lowest.r.Cite.String() + "; " + highest.r.Cite.String(), Do: "exchange one of the two"})
	} else if lowest != nil && e.pH == 0 && tell {
		out = append(out, Finding{Rule: "keeping-ph", Level: Unchecked, Says: "not checked: the pH of the product is missing. Its lines keep together from pH " + showPH(highest.r.Low) + " to " + showPH(lowest.r.High),
			Figure: "not measured", Limit: "pH " + showPH(highest.r.Low) + " to " + showPH(lowest.r.High), Source: lowest.r.Cite.String() + "; " + highest.r.Cite.String(), Do: "measure it in the finished product"})
	}
	return out
}

func pKaText(a *acid) string {
	h := int(a.pKa*1000 + 0.5)
	s := showPH(h / 10)
	if h%10 != 0 {
		if h/10%10 == 0 {
			s += "0"
		}
		s += string(rune('0' + h%10))
	}
	return s
}
