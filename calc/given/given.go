// Package given is the list of everyday ingredients that ships inside, by INCI and trade-neutral names, every figure with its source and
// mark. A supplier's document or the maker's own entry always overrides it: compositions and pH values differ from supplier to supplier.
package given

import (
	"sort"

	"stillroom/calc/matter"
)

// Ingredients gives the list in order of name. The slice is the caller's own; what it points at is not to be changed.
func Ingredients() []matter.Ingredient {
	var out []matter.Ingredient
	for _, group := range [][]matter.Ingredient{waters(), surfactants(), fats(), keepers(), solids(), oils(), cleansers(), emulsifiers(), actives(), colours()} {
		out = append(out, group...)
	}
	sort.Slice(out, func(a, b int) bool { return out[a].Name < out[b].Name })
	return out
}

const pct = matter.OnePercent

// The sources that many rows share.
var (
	practice  = matter.Cite{Source: "common practice", Mark: "CP"}
	typical   = matter.Cite{Source: "typical supplier's document, varies by supplier", Mark: "M"}
	whole     = matter.Cite{Source: "single substance as named", Mark: "own"}
	rest      = matter.Cite{Source: "the rest of 100 %", Mark: "C"}
	sdsMemory = matter.Cite{Source: "typical safety data sheet, take your own supplier's", Mark: "M"}
)

// pure is an ingredient that is one substance.
func pure(inci string) []matter.Share {
	return []matter.Share{{INCI: inci, Percent: matter.Hundred, Listed: "yes", Cite: whole}}
}

// solution is one substance in water.
func solution(inci string, p matter.Percent, from matter.Cite) []matter.Share {
	return []matter.Share{share(inci, p, "yes", from), share("Aqua", matter.Hundred-p, "yes", rest)}
}

func share(inci string, percent matter.Percent, listed string, from matter.Cite) matter.Share {
	return matter.Share{INCI: inci, Percent: percent, Listed: listed, Cite: from}
}

func usual(low, high matter.Percent, from matter.Cite) *matter.Range {
	return &matter.Range{Low: low, High: high, Cite: from}
}

func most(p matter.Percent, from matter.Cite) *matter.Limit {
	return &matter.Limit{Percent: p, Cite: from}
}

func supplied(low, high int, at string, from matter.Cite) *matter.PHRange {
	return &matter.PHRange{Low: low, High: high, At: at, Cite: from}
}

func keeps(low, high int, from matter.Cite) *matter.PHRange {
	return &matter.PHRange{Low: low, High: high, Cite: from}
}

func below(milliC int64, text string, from matter.Cite) *matter.Temperature {
	return &matter.Temperature{MilliC: milliC, Text: text, Cite: from}
}

func density(mgPerML int64, from matter.Cite) *matter.Density {
	return &matter.Density{MgPerML: mgPerML, Cite: from}
}

func melts(lowC, highC int64, from matter.Cite) *matter.TemperatureRange {
	return &matter.TemperatureRange{LowMilliC: lowC * 1000, HighMilliC: highC * 1000, Cite: from}
}

// hundredF is where the trade adds preservative, extract and scent: below 100 °F, which is 37.8 °C and never 38.
func hundredF() *matter.Temperature { return below(37_778, "100 F", practice) }

func powder(says string, from matter.Cite) matter.Hazard {
	return matter.Hazard{Kind: "airborne powder", Says: says, Wear: "respirator (FFP2, N95 or better) on before the tub is opened, for everyone in the room; fan off; weigh slowly", Cite: from}
}

func eye(says string, from matter.Cite) matter.Hazard {
	return matter.Hazard{Kind: "eye", Says: says, Wear: "goggles and gloves on before it is opened", Cite: from}
}

func corrosive(says string, from matter.Cite) matter.Hazard {
	return matter.Hazard{Kind: "corrosive", Says: says, Wear: "goggles and gloves on before it is opened; always into the water, never water into it", Cite: from}
}
