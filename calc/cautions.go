package calc

import (
	"strings"

	"github.com/shopspring/decimal"
)

// cautionsOf picks the sentences of a label by what is in it and how it is used: first those that the tables of law ask for in this region,
// then those of common practice. The law of the place may ask for more, and a qualified person decides.
func cautionsOf(f *Formula, k Known, region string) []Caution {
	whole := *f
	whole.Lines = Total(f.Lines).Lines
	e := gatherEvidence(&whole, k, 0)
	var out []Caution
	for _, p := range e.prints(region) {
		out = append(out, Caution{Says: sentence(p.row.Warning), Why: "for " + p.row.Name + ", " + p.sum.StringFixed(p.places) + " %", Source: citeLaw(p.row), Date: tableDate("limits"), Law: true})
	}
	say := func(when bool, says, why string) {
		if when {
			out = append(out, Caution{Says: says, Why: why, Source: "common practice", Date: rulesDate})
		}
	}
	active, _ := e.active()
	oils, grit, sugar := decimal.Decimal{}, false, decimal.Decimal{}
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := k.Ingredients[p.Key]
		if ing.Soluble == "oil" && does(ing, "emollient") {
			oils = oils.Add(p.Percent)
		}
		if e.isGrit(ing, p.Percent) {
			grit = true
			sugar = sugar.Add(p.Percent)
		}
	}
	five := decimal.New(5, 0)
	dry := !e.waterIn().GreaterThanOrEqual(decimal.New(wet, 0))
	some := len(e.apart.Supplied) > 0
	mist := f.Site == "spray or mist"
	say(some && !mist && f.Site != "eye area", "Keep out of the eyes.", "every product")
	say(some && f.Site == "eye area", "Around the eye, not in it. If it gets in, rinse with water at once.", "it is used close to the eye")
	say(some && mist, "Do not spray into the face or the eyes. Do not breathe the mist in.", "what is sprayed is breathed in")
	say(mist && !e.amount("Alcohol").Add(e.amount("Alcohol Denat.")).LessThan(decimal.New(20, 0)), "Flammable: not near a flame or a hot surface.", "20 % of alcohol or more, sprayed")
	say(some, "Stop using it if it irritates.", "every product")
	say(grit, "Not on broken or just-shaved skin.", "it holds grit")
	say((f.Wash == "rinse-off" || f.Site == "bath" || f.Site == "foot") && (!oils.LessThan(five) || !active.LessThan(five)), "Slippery: rinse the floor after use.", "oil or surfactant on a wet floor")
	say(dry && some && !mist, "Dry hands, keep water out, close the lid.", "no water in it, so water that gets in is not preserved")
	say(!dry && sugar.GreaterThanOrEqual(decimal.New(20, 0)), "Keep water out, close the lid.", "much sugar or salt")
	say(some && f.Age == "3 to 12", "Not for children under 3.", "made for children from 3")
	for _, word := range allergyWords {
		var from []string
		for i := range e.apart.Supplied {
			p := &e.apart.Supplied[i]
			if ing := k.Ingredients[p.Key]; p.Percent.IsPositive() && ing.Counts(word) {
				from = append(from, ing.Name)
			}
		}
		say(len(from) > 0, "Made with "+word+": "+list(from)+".", "customers with an allergy ask")
	}
	say(some, "Not food. Keep out of children's reach.", "every product")
	return out
}

// sentence writes a warning of the table as one: a capital first, a full stop at the end.
func sentence(text string) string {
	return strings.TrimSuffix(strings.ToUpper(text[:1])+text[1:], ".") + "."
}
