package calc

import "github.com/shopspring/decimal"

// dissolves is a table of what 100 g of water takes: hundredths of a gram at each temperature in °C.
type dissolves struct {
	inci string
	at   []int64
	take []int64
	from Cite
}

// solubilities: sucrose as read; salts from memory (standards §7). Epsom salt is the heptahydrate by 100 g of added water.
var solubilities = []dissolves{
	{"Sucrose", []int64{0, 10, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100}, []int64{17920, 19050, 20390, 21140, 21990, 23810, 26040, 28730, 32050, 36210, 41570, 48720},
		Cite{Source: "Antokolskaya 1964 in Mohos, Confectionery and Chocolate Engineering, App. 2", Mark: "R"}},
	{"Sodium Chloride", []int64{0, 10, 20, 25, 30, 40, 60, 80}, []int64{3565, 3572, 3589, 3596, 3609, 3637, 3704, 3793},
		Cite{Source: "CRC Handbook, aqueous solubility of inorganic compounds", Mark: "M"}},
	{"Magnesium Sulfate", []int64{0, 10, 20, 25, 30, 40, 60}, []int64{5900, 8000, 10600, 11700, 13700, 17200, 26900},
		Cite{Source: "CRC Handbook, as heptahydrate by 100 g of added water", Mark: "M"}},
	{"Sodium Bicarbonate", []int64{0, 10, 20, 25, 30, 40, 60}, []int64{693, 821, 957, 1028, 1100, 1252, 1587},
		Cite{Source: "CRC Handbook, aqueous solubility of inorganic compounds", Mark: "M"}},
}

// Solubility gives how many grams of a substance 100 g of water take at a temperature, read between the rows of its table by a straight
// line. ok is false for a substance without a table and outside its temperatures.
func Solubility(inci string, milliC int64) (gramsPer100 decimal.Decimal, from Cite, ok bool) {
	for i := range solubilities {
		s := &solubilities[i]
		if s.inci != inci {
			continue
		}
		for j := 1; j < len(s.at); j++ {
			a, b := s.at[j-1]*1000, s.at[j]*1000
			if milliC < a || milliC > b {
				continue
			}
			rise := decimal.New((s.take[j]-s.take[j-1])*(milliC-a), 0).DivRound(decimal.New(b-a, 0), 4)
			return decimal.New(s.take[j-1], 0).Add(rise).Shift(-2), s.from, true
		}
		return decimal.Decimal{}, s.from, false
	}
	return decimal.Decimal{}, Cite{}, false
}
