package calc

import "github.com/shopspring/decimal"

// acidValue is how much potassium hydroxide one gram of a fat or fatty acid takes, in mg: its acid or saponification value, as a range.
type acidValue struct {
	inci      string
	low, high int64
	from      Cite
}

var saponMemory = Cite{Source: "saponification values in the manner of Codex Stan 210", Mark: "M"}

// acidValues: stearic acid as quoted of Ph. Eur.; fats from memory.
var acidValues = []acidValue{
	{"Stearic Acid", 194, 212, Cite{Source: "acid value of stearic acid, Ph. Eur. 1474 as quoted", Mark: "R~"}},
	{"Palmitic Acid", 194, 219, Cite{Source: "acid value of stearic and palmitic acid, Ph. Eur. as quoted", Mark: "R~"}},
	{"Cocos Nucifera Oil", 248, 265, saponMemory}, {"Helianthus Annuus Seed Oil", 188, 194, saponMemory}, {"Olea Europaea Fruit Oil", 184, 196, saponMemory},
	{"Elaeis Guineensis Oil", 190, 209, saponMemory}, {"Prunus Amygdalus Dulcis Oil", 188, 200, saponMemory}, {"Theobroma Cacao Seed Butter", 192, 200, saponMemory},
	{"Butyrospermum Parkii Butter", 170, 190, saponMemory}, {"Ricinus Communis Seed Oil", 176, 187, saponMemory}, {"Cera Alba", 87, 104, saponMemory},
}

// kohMolar and naohMolar in mg/mol; IUPAC atomic masses.
const kohMolar, naohMolar = 56_106, 39_997

// AlkaliTaken is how much potassium and sodium hydroxide an amount of a fat or fatty acid can take, from the low and the high end of its range, in the
// unit of the amount. ok is false for a substance whose value is not known, which is then never worked out.
func AlkaliTaken(inci string, amount decimal.Decimal) (kohLow, kohHigh, naohLow, naohHigh decimal.Decimal, from Cite, ok bool) {
	for _, v := range acidValues {
		if v.inci != inci {
			continue
		}
		kohLow, kohHigh = amount.Mul(decimal.New(v.low, -3)), amount.Mul(decimal.New(v.high, -3))
		return kohLow, kohHigh, asSodium(kohLow), asSodium(kohHigh), v.from, true
	}
	return
}

func asSodium(koh decimal.Decimal) decimal.Decimal {
	return koh.Mul(decimal.New(naohMolar, 0)).DivRound(decimal.New(kohMolar, 0), 6)
}
