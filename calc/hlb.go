package calc

import (
	"strings"

	"github.com/shopspring/decimal"

	"stillroom/calc/matter"
)

// hlbRow is one source's figure for one substance, in tenths; tables differ, so that a substance may have several rows.
type hlbRow struct {
	inci      string
	low, high int
	from      Cite
}

var (
	hlbRead    = Cite{Source: "lecture notes and papers on HLB", Mark: "R"}
	hlbBook    = Cite{Source: "textbook table of required HLB", Mark: "R~"}
	hlbLecture = Cite{Source: "lecture or paper with worked formulas", Mark: "R"}
	hlbGuide   = Cite{Source: "an emulsifier maker's HLB guide", Mark: "M"}
	hlbMemory  = Cite{Source: "widely published HLB list", Mark: "M+"}
)

// emulsifierHLBs: standards §6.
var emulsifierHLBs = []hlbRow{
	{"Sorbitan Laurate", 86, 86, hlbMemory}, {"Sorbitan Palmitate", 67, 67, hlbMemory}, {"Sorbitan Stearate", 47, 47, hlbRead}, {"Sorbitan Tristearate", 21, 21, hlbMemory},
	{"Sorbitan Oleate", 43, 43, hlbRead}, {"Sorbitan Trioleate", 18, 18, hlbMemory}, {"Sorbitan Sesquioleate", 37, 37, hlbMemory},
	{"Polysorbate 20", 167, 167, hlbRead}, {"Polysorbate 40", 156, 156, hlbMemory}, {"Polysorbate 60", 149, 149, hlbRead}, {"Polysorbate 61", 96, 96, hlbMemory},
	{"Polysorbate 65", 105, 105, hlbMemory}, {"Polysorbate 80", 150, 150, hlbRead}, {"Polysorbate 85", 110, 110, hlbMemory}, {"Glyceryl Stearate", 38, 38, hlbRead},
	{"PEG-100 Stearate", 188, 188, hlbMemory}, {"Ceteareth-20", 152, 157, hlbMemory}, {"Steareth-2", 49, 49, hlbMemory}, {"Steareth-21", 155, 155, hlbMemory},
	{"PEG-40 Hydrogenated Castor Oil", 140, 160, hlbMemory},
}

// requiredHLBs of oils in an emulsion of oil in water: standards §6. They disagree, which is why each stands with its source.
var requiredHLBs = []hlbRow{
	{"Petrolatum", 70, 80, hlbBook}, {"Paraffinum Liquidum", 105, 105, hlbBook}, {"Paraffinum Liquidum", 120, 120, hlbLecture}, {"Paraffinum Liquidum", 100, 120, hlbGuide},
	{"Ricinus Communis Seed Oil", 140, 140, hlbBook}, {"Lanolin", 120, 120, hlbBook}, {"Lanolin", 100, 100, hlbLecture}, {"Cera Alba", 90, 90, hlbBook}, {"Cera Alba", 120, 120, hlbLecture},
	{"Gossypium Herbaceum Seed Oil", 60, 60, hlbBook}, {"Stearic Acid", 150, 150, hlbLecture}, {"Cetyl Alcohol", 150, 150, hlbLecture}, {"Isopropyl Myristate", 115, 115, hlbLecture},
	{"Isopropyl Myristate", 110, 120, hlbGuide}, {"Stearyl Alcohol", 140, 150, hlbGuide}, {"Cetearyl Alcohol", 140, 150, hlbGuide}, {"Dimethicone", 90, 90, hlbGuide},
}

// vegetableOil is what the tables say of vegetable oils in general, for one that has no row of its own.
var vegetableOil = []matter.HLB{{Low: 60, High: 60, Cite: Cite{Source: hlbBook.Source + ", vegetable oils in general", Mark: hlbBook.Mark}},
	{Low: 60, High: 70, Cite: Cite{Source: hlbGuide.Source + ", vegetable oils in general", Mark: hlbGuide.Mark}}}

func hlbOf(rows []hlbRow, inci string) []matter.HLB {
	var out []matter.HLB
	for _, r := range rows {
		if r.inci == inci {
			out = append(out, matter.HLB{Low: r.low, High: r.high, Cite: r.from})
		}
	}
	return out
}

// ownHLB is what an emulsifier has: its own figures above the tables. nil is not known.
func ownHLB(ing *Ingredient) []matter.HLB {
	if len(ing.HLB) > 0 {
		return ing.HLB
	}
	return hlbOf(emulsifierHLBs, ing.INCI)
}

// wantedHLB is what an oil asks for, oil in water: its own figures above the tables. nil is not known, as for every scent.
func wantedHLB(ing *Ingredient) []matter.HLB {
	if len(ing.WantsHLB) > 0 {
		return ing.WantsHLB
	}
	if rows := hlbOf(requiredHLBs, ing.INCI); rows != nil {
		return rows
	}
	if does(ing, "emollient") && (strings.HasSuffix(ing.INCI, " Oil") || strings.HasSuffix(ing.INCI, " Butter")) {
		return vegetableOil
	}
	return nil
}

// HLBShare is one member of an oil phase or of a blend of emulsifiers: so much of it, in any one unit, with its HLB.
type HLBShare struct {
	Amount, HLB decimal.Decimal
}

// HLBOf is the mean by weight, Σ amount × HLB ÷ Σ amount, to 4 decimals; ok is false when there is nothing to average. It serves for a blend of
// emulsifiers and for what an oil phase asks of one: the water is left out of both.
func HLBOf(shares []HLBShare) (mean decimal.Decimal, ok bool) {
	sum, weighed := decimal.Decimal{}, decimal.Decimal{}
	for _, s := range shares {
		sum, weighed = sum.Add(s.Amount), weighed.Add(s.Amount.Mul(s.HLB))
	}
	if !sum.IsPositive() {
		return decimal.Decimal{}, false
	}
	return weighed.DivRound(sum, 4), true
}

// SplitHLB shares an amount of emulsifier between two, so that the blend has the HLB that is wanted: x of the second = (wanted − first) ÷
// (second − first). ok is false when the wanted figure does not lie between the two. The shares sum to the amount, to 6 decimals.
func SplitHLB(wanted, first, second, amount decimal.Decimal) (ofFirst, ofSecond decimal.Decimal, ok bool) {
	if first.Equal(second) {
		return decimal.Decimal{}, decimal.Decimal{}, false
	}
	x := wanted.Sub(first).DivRound(second.Sub(first), 8)
	if x.IsNegative() || x.GreaterThan(decimal.New(1, 0)) {
		return decimal.Decimal{}, decimal.Decimal{}, false
	}
	ofSecond = amount.Mul(x).Round(6)
	return amount.Sub(ofSecond), ofSecond, true
}
