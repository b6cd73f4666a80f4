package calc

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"
)

// acid is a weak acid that keeps a product only while it is undissociated.
type acid struct {
	name string
	// molar mass in mg/mol, IUPAC atomic masses (computed, standards §4.3)
	molar int64
	pKa   float64
	from  Cite
}

// acids by the name that law and tables use.
var acids = []acid{
	{"benzoic acid", 122_123, 4.204, Cite{Source: "LibreTexts Chemistry, table E1 (acid dissociation constants at 25 °C)", Mark: "R"}},
	{"sorbic acid", 112_128, 4.76, Cite{Source: "practice page; Food Additives Data Book 4.8", Mark: "R~"}},
	{"dehydroacetic acid", 168_148, 5.27, Cite{Source: "pKa widely published", Mark: "M"}},
	{"salicylic acid", 138_122, 2.98, Cite{Source: "pKa widely published", Mark: "M+"}},
	{"levulinic acid", 116_116, 4.64, Cite{Source: "pKa widely published", Mark: "M"}},
	{"p-anisic acid", 152_149, 4.47, Cite{Source: "pKa widely published", Mark: "M+"}},
	{"4-hydroxybenzoic acid", 138_122, 0, Cite{Source: "IUPAC atomic masses; counts parabens only", Mark: "C"}},
}

func findAcid(name string) *acid {
	for i := range acids {
		if acids[i].name == name {
			return &acids[i]
		}
	}
	return nil
}

// form is a substance that counts as an acid: the acid itself, its salt or its ester.
type form struct {
	inci  string
	acid  string
	molar int64 // mg/mol of the form itself
}

// forms: molar masses from IUPAC atomic masses (computed, standards §4.3).
var forms = []form{
	{"Benzoic Acid", "benzoic acid", 122_123},
	{"Sodium Benzoate", "benzoic acid", 144_105},
	{"Sorbic Acid", "sorbic acid", 112_128},
	{"Potassium Sorbate", "sorbic acid", 150_218},
	{"Dehydroacetic Acid", "dehydroacetic acid", 168_148},
	{"Sodium Dehydroacetate", "dehydroacetic acid", 190_130},
	{"Salicylic Acid", "salicylic acid", 138_122},
	{"Sodium Salicylate", "salicylic acid", 160_104},
	{"Levulinic Acid", "levulinic acid", 116_116},
	{"Sodium Levulinate", "levulinic acid", 138_098},
	{"p-Anisic Acid", "p-anisic acid", 152_149},
	{"Sodium Anisate", "p-anisic acid", 174_131},
	{"Methylparaben", "4-hydroxybenzoic acid", 152_149},
	{"Ethylparaben", "4-hydroxybenzoic acid", 166_176},
	{"Propylparaben", "4-hydroxybenzoic acid", 180_203},
	{"Butylparaben", "4-hydroxybenzoic acid", 194_230},
}

func findForm(inci string) *form {
	for i := range forms {
		if forms[i].inci == inci {
			return &forms[i]
		}
	}
	return nil
}

// AsAcid gives the per cent of acid that a per cent of an acid, salt or ester counts as: salt × M(acid) ÷ M(salt), to 12 decimals.
// A substance that is not such a form counts as itself.
func AsAcid(inci string, percent decimal.Decimal) decimal.Decimal {
	f := findForm(inci)
	if f == nil {
		return percent
	}
	a := findAcid(f.acid)
	return percent.Mul(decimal.New(a.molar, 0)).DivRound(decimal.New(f.molar, 0), 12)
}

// Undissociated is the share of a weak acid that is undissociated at a pH, in per cent to 0.01: 100 ÷ (1 + 10^(pH − pKa)).
func Undissociated(pH, pKa float64) decimal.Decimal {
	v := 100 / (1 + math.Pow(10, pH-pKa))
	return decimal.New(int64(math.Round(v*100)), -2)
}

// shareTable writes the undissociated share of an acid over the pH values that a maker meets.
func shareTable(a *acid) string {
	out := ""
	for _, h := range []int{400, 450, 500, 550, 600} {
		if out != "" {
			out += ", "
		}
		out += "pH " + showPH(h) + ": " + Undissociated(float64(h)/100, a.pKa).StringFixed(1) + " %"
	}
	return out
}

// showPH writes hundredths of a point: 450 is "4.5", 425 is "4.25".
func showPH(h int) string {
	s := strconv.Itoa(h/100) + "." + strconv.Itoa(h/10%10)
	if h%10 != 0 {
		s += strconv.Itoa(h % 10)
	}
	return s
}
