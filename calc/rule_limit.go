package calc

import "github.com/shopspring/decimal"

// comparePlaces: shares are held against law after rounding to 0.001 percentage point (E7), so that 0.59 % sodium benzoate, which is
// 0.5000005 % as acid, meets 0.5 %, and 0.591 % does not.
const comparePlaces = 3

// finePlaces is for limits below 0.01 %, which are stated in ppm: 0.0015 % must not be held against 0.002.
const finePlaces = 4

// ruleLimit: EU Annex V maxima, summed over every source in the formula and its bases, salts and esters counted as acid.
func ruleLimit(e *evidence) []Finding {
	var out []Finding
	var seen []*lawLimit
	for i := range e.apart.Substances {
		p := &e.apart.Substances[i]
		for _, law := range lawFor[p.Key] {
			if p.Percent.IsZero() || holds(seen, law) {
				continue
			}
			seen = append(seen, law)
			if f, fires := e.against(law); fires {
				out = append(out, f)
			}
		}
	}
	return out
}

func holds(seen []*lawLimit, law *lawLimit) bool {
	for _, s := range seen {
		if s == law {
			return true
		}
	}
	return false
}

// against holds the formula against one limit.
func (e *evidence) against(law *lawLimit) (Finding, bool) {
	sum := decimal.Decimal{}
	var lines []string
	for _, inci := range law.members {
		p := e.part(inci)
		if p == nil {
			continue
		}
		if law.asAcid {
			sum = sum.Add(AsAcid(inci, p.Percent))
		} else {
			sum = sum.Add(p.Percent)
		}
		for _, id := range p.Lines {
			if !contains(lines, id) {
				lines = append(lines, id)
			}
		}
	}
	allowed, places := law.allowed(e.f.Wash), int32(comparePlaces)
	if max(law.rinseOff, law.leaveOn) < OnePercent/100 {
		places = finePlaces
	}
	figure := sum.Round(places)
	f := Finding{Rule: "limit", Level: Stop, Subject: lines[0], Phase: e.phaseOf(lines[0]), Figure: figure.StringFixed(places) + " %",
		Limit: allowed.String() + " %", Source: law.cite() + "; compared after rounding to " + decimal.New(1, -places).String() + " %", Do: "use less of " + e.nameLines(lines)}
	if allowed == notAllowed {
		f.Limit = "not allowed"
		f.Says = law.name + " is not allowed in a product that is left on"
		if e.f.Wash == "" {
			f.Level, f.Says = Unchecked, "not checked: whether it is rinsed off or left on is missing; "+law.name+" is not allowed in a product that is left on"
		}
		return f, true
	}
	if !figure.GreaterThan(decimal.New(int64(allowed), -4)) {
		return f, false
	}
	f.Says = "more " + law.name + " than is allowed"
	if e.f.Wash == "leave-on" || e.f.Wash == "rinse-off" {
		f.Says += " in a " + e.f.Wash + " product"
	} else if higher := max(law.rinseOff, law.leaveOn); !figure.GreaterThan(decimal.New(int64(higher), -4)) {
		f.Level, f.Says = Unchecked, "not checked: whether it is rinsed off or left on is missing; "+law.name+" would be too much in one that is left on"
		f.Do = "say which it is"
	}
	return f, true
}

// legalMaximum is the most of an ingredient as supplied that one line may be without passing a limit by itself; ok is false without one.
// It is exact, without the tolerance of the comparison: rounding on a scale must not use that up.
func legalMaximum(ing *Ingredient, wash string) (most Percent, ok bool) {
	for _, c := range ing.Composition {
		for _, law := range lawFor[c.INCI] {
			allowed := law.allowed(wash)
			if allowed < 0 || c.Percent <= 0 {
				continue
			}
			unit := decimal.New(int64(c.Percent), -6)
			if law.asAcid {
				unit = AsAcid(c.INCI, unit)
			}
			m := Percent(decimal.New(int64(allowed), 0).Div(unit).IntPart())
			if !ok || m < most {
				most, ok = m, true
			}
		}
	}
	return most, ok
}
