package calc

import "strings"

// least is the undissociated share of an acid, in per cent, below which it is taken not to keep a product (own rule).
const least = 5

// ruleKeepingPH: a weak acid keeps a product only undissociated. Without a measured pH the table of shares is shown and nothing is judged.
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
			f.Level, f.Says = Unchecked, "not checked: the pH of the product is missing. Only whole (undissociated) "+a.name+" keeps microbes away, and the less sour the product, the less of it is whole"
			f.Figure, f.Do = shareTable(a), "measure it in the finished product"
			if !e.soured() {
				f.Says += "; no acid stands in the formula to make it sour"
			}
			out = append(out, f)
			continue
		}
		share := Undissociated(float64(e.pH)/100, a.pKa)
		f.Figure = share.StringFixed(1) + " % undissociated at pH " + showPH(e.pH)
		f.Limit = "at least 5 % (own rule)"
		switch {
		case share.IntPart() < least:
			f.Level, f.Says, f.Do = Stop, "at this pH almost none of the "+a.name+" is whole (undissociated), and only what is whole keeps microbes away", "bring the pH down, or choose another preservative"
		case share.IntPart() < 4*least:
			f.Level, f.Says, f.Do = Care, "at this pH little of the "+a.name+" is whole (undissociated), and only what is whole keeps microbes away", "bring the pH down if the other lines allow it"
			f.Limit = "20 % or more is easier to rely on (own rule)"
		default:
			continue
		}
		out = append(out, f)
	}
	return out
}

// soured tells whether any acid stands in the formula that could bring its pH down.
func (e *evidence) soured() bool {
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		name := strings.ToLower(p.Key)
		if p.Percent.IsPositive() && (findProtolyte(name) != nil || name == "ascorbic acid" || name == "gluconolactone" || name == "erythorbic acid") {
			return true
		}
	}
	return false
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
