package calc

import "github.com/shopspring/decimal"

const packSource = "common practice: what packs stand"

// PackFindings judges a pack against what goes into it (S4). Material is a word such as polystyrene, aluminium, tinplate, paper, glass or plastic; closure is
// lid, pump or spray. pH is in hundredths, 0 when not measured.
func PackFindings(f Formula, k Known, pH int, material, closure string) []Finding {
	f.Lines = Total(f.Lines).Lines
	e := gatherEvidence(&f, k, pH)
	var out []Finding
	say := func(level Level, says, figure, limit, do string) {
		out = append(out, Finding{Rule: "pack", Level: level, Says: says, Figure: figure, Limit: limit, Source: packSource, Do: do})
	}
	scent, grit := "", ""
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		switch ing := e.k.Ingredients[p.Key]; {
		case p.Percent.IsZero():
		case does(ing, "scent") || does(ing, "fragrance") || ing.INCI == "Parfum":
			scent = ing.Name
		case e.isGrit(ing, p.Percent):
			grit = ing.Name
		}
	}
	water, salt := e.waterIn(), e.amount("Sodium Chloride").Add(e.amount("Magnesium Sulfate"))
	alcohol := e.amount("Alcohol").Add(e.amount("Alcohol Denat."))
	switch material {
	case "polystyrene":
		if scent != "" || alcohol.IsPositive() {
			say(Care, "polystyrene cracks or softens with essential oils, scent and alcohol", scent, "", "take PET, HDPE, polypropylene or glass")
		}
	case "aluminium", "tinplate":
		switch {
		case salt.GreaterThanOrEqual(decimal.New(1, 0)) && water.IsPositive():
			say(Care, material+" corrodes with salt and water", show(salt)+" % salt", "from 1 % (own rule)", "take plastic or glass")
		case pH > 0 && (pH < 400 || pH > 800):
			say(Care, material+" does not stand this pH", "pH "+showPH(pH), "pH 4 to 8", "take plastic or glass")
		case pH == 0 && water.IsPositive():
			say(Unchecked, "not checked: whether "+material+" stands it; the pH of the product is missing", "", "pH 4 to 8", "measure the pH")
		}
	case "paper":
		if water.GreaterThanOrEqual(decimal.New(wet, 0)) {
			say(Stop, "paper does not hold a product with water in it", show(water)+" % water", "", "take a jar or a bottle")
		}
	case "glass":
		if f.Wash == "rinse-off" {
			say(Note, "glass breaks in a shower, where feet are bare", "", "", "take plastic for what is used there")
		}
	}
	if grit != "" && (closure == "pump" || closure == "spray") {
		say(Stop, "a "+closure+" clogs with grit", grit, "", "take a jar or a tube")
	}
	return append(out, Finding{Rule: "pack", Level: Note, Says: "how a pack stands a product only time shows", Source: packSource, Do: "leave it in its pack at 40 °C for some weeks, upright and lying, and look at both"})
}

// NextDay compares a jar on the next day with what was filled (M10): densities in mg/mL, or the distance from the rim in tenths of a millimetre with the
// jar's inner depth. More than 5 % is worth a care.
func NextDay(filled, next, rimFilled, rimNext, depth int64) []Finding {
	const source = "this book's own rule M10: more than 5 % is more than setting"
	share := decimal.Decimal{}
	f := Finding{Rule: "next-day", Source: source, Limit: "5 %"}
	switch {
	case filled > 0 && next > 0:
		share = decimal.New(next-filled, 2).DivRound(decimal.New(filled, 0), 1)
		f.Says = "it lost air overnight"
		if share.IsNegative() {
			f.Says = "it took up more room overnight: it may have grown into the lid"
		}
	case depth > rimFilled && rimFilled >= 0 && rimNext >= 0 && depth > 0:
		share = decimal.New(rimNext-rimFilled, 2).DivRound(decimal.New(depth-rimFilled, 0), 1)
		f.Says = "it sank overnight"
		if share.IsNegative() {
			f.Says = "it rose overnight"
		}
	default:
		return []Finding{{Rule: "next-day", Level: Unchecked, Says: "not checked: whether it sank overnight; the density, or the distance from the rim with the jar's depth, is missing for both days", Source: source, Do: "measure one jar after filling and the same jar the next day"}}
	}
	if !share.Abs().GreaterThan(decimal.New(5, 0)) {
		return nil
	}
	f.Level, f.Figure, f.Do = Care, share.Abs().String()+" %", "net mass is unchanged; look at the jars, and whip or cool otherwise next time"
	return []Finding{f}
}
