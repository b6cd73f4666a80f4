package calc

import (
	"math"

	"github.com/shopspring/decimal"
)

// acidDissolves is how much of an undissociated acid 100 g of water take at 20 °C, in hundredths of a gram.
var acidDissolves = []struct {
	acid string
	take int64
	from Cite
}{
	{"sorbic acid", 15, Cite{Source: "Food Additives Data Book p. 733: sorbic acid 0.15 % in water at 20 °C", Mark: "R"}},
	{"benzoic acid", 29, Cite{Source: "benzoic acid 0.29 % in water at 20 °C, widely published", Mark: "M"}},
}

// ruleCrystals (K9): at a low pH more of a preserving acid stands undissociated than the water dissolves, and it comes out as crystals. Without a measured
// pH rule keeping-ph already asks for it.
func ruleCrystals(e *evidence) []Finding {
	water := e.waterIn()
	if e.pH == 0 || !water.IsPositive() {
		return nil
	}
	var out []Finding
	for _, d := range acidDissolves {
		a := findAcid(d.acid)
		sum, line := decimal.Decimal{}, ""
		for _, f := range forms {
			if p := e.part(f.inci); f.acid == d.acid && p != nil && p.Percent.IsPositive() {
				sum = sum.Add(AsAcid(f.inci, p.Percent))
				if line == "" {
					line = first(p)
				}
			}
		}
		if line == "" {
			continue
		}
		free := sum.Mul(decimal.New(int64(math.Round(1e6/(1+math.Pow(10, float64(e.pH)/100-a.pKa)))), -6))
		if most := water.Mul(decimal.New(d.take, -4)); free.GreaterThan(most) {
			out = append(out, Finding{Rule: "crystals", Level: Care, Subject: line, Phase: e.phaseOf(line), Says: "at this pH more " + d.acid + " is set free than the water dissolves: it may come out as crystals", Figure: free.Round(3).String() + " % at pH " + showPH(e.pH),
				Limit: most.Round(3).String() + " % in " + show(water) + " % water at 20 °C", Source: d.from.String(), Do: "take less, or raise the pH a little within its working range"})
		}
	}
	return out
}
