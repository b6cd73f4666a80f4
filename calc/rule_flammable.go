package calc

import (
	"strings"

	"github.com/shopspring/decimal"
)

const flammableSource = "this book's own rule M15: nothing at or near its flash point where a hot plate is on; alcohol from 20 % (common practice)"

// ruleFlammable (M15): alcohol, or a scent at its flash point, where a phase is hot. The flash point tells of fire, not of lost scent.
func ruleFlammable(e *evidence) []Finding {
	hot := ""
	for _, p := range e.f.Phases {
		if d := p.Treatment.Do; hot == "" && (d == "heat" || d == "melt") {
			hot = p.Letter
		}
	}
	var out []Finding
	alcohol := e.anyOf("Alcohol Denat.", "Alcohol")
	if share := e.amount("Alcohol").Add(e.amount("Alcohol Denat.")); hot != "" && alcohol != nil && !share.LessThan(decimal.New(20, 0)) {
		line := first(alcohol)
		f := Finding{Rule: "flammable", Level: Wear, Subject: line, Phase: e.phaseOf(line), Says: "alcohol: hot plate off and cold before it is opened", Figure: show(share) + " % alcohol", Limit: "from 20 %", Source: flammableSource,
			Do: "finish phase " + hot + ", take hot plate and flame away, open a window; only then pour the alcohol"}
		if e.phaseOf(line) == hot {
			f.Level, f.Says, f.Do = Stop, "alcohol stands in a phase that is heated: its vapour can catch fire", "move it to a phase that is added after cooling, with the hot plate away"
		}
		out = append(out, f)
	}
	for i := range e.f.Lines {
		l := &e.f.Lines[i]
		ing, t := e.ingredient(l), e.f.treatment(l.Phase)
		if ing == nil || l.Percent == 0 || strings.HasPrefix(ing.INCI, "Alcohol") {
			continue // alcohol is judged by its share above: a little of it in water does not burn as it does alone
		}
		f := Finding{Rule: "flammable", Subject: l.ID, Phase: l.Phase, Source: flammableSource}
		switch {
		case ing.FlashPoint == nil && (t.Do == "heat" || t.Do == "melt") && (does(ing, "scent") || does(ing, "fragrance")):
			f.Level, f.Says, f.Do = Unchecked, "not checked: the flash point of "+ing.Name+", from which its vapour can catch fire, is missing, and its phase is heated", "look it up in its safety data sheet, or add it after cooling"
		case ing.FlashPoint == nil || t.Degrees == nil:
			continue
		case t.Degrees.MilliC >= ing.FlashPoint.MilliC:
			f.Level, f.Says, f.Do = Stop, ing.Name+" goes in at or above its flash point, where its vapour can catch fire", "add it below "+Celsius(ing.FlashPoint.MilliC-5000)
		case t.Degrees.MilliC >= ing.FlashPoint.MilliC-5000:
			f.Level, f.Says, f.Do = Wear, "its vapour may catch fire: no flame, hot plate off", "take flame and hot plate away before "+ing.Name+" is opened"
		default:
			continue
		}
		if ing.FlashPoint != nil {
			f.Figure, f.Limit, f.Source, f.Date = t.Degrees.Show(), "flash point "+bothDegrees(ing.FlashPoint), ing.FlashPoint.Cite.String()+"; "+flammableSource, ing.FlashPoint.Dated()
		}
		out = append(out, f)
	}
	return out
}
