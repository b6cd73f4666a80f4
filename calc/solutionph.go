package calc

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"
)

// Dissolved is one thing in a solution: its name in the table, and its amount in moles per litre (a kilogram of thin solution is taken as a litre).
type Dissolved struct {
	What  string
	Molar decimal.Decimal
}

// SolutionPH is the pH of a simple solution, always an estimate.
type SolutionPH struct {
	PH       decimal.Decimal // to 0.01
	Strength decimal.Decimal // ionic strength, mol/L, to 0.001
	Says     string
	Findings []Finding
}

const solutionSource = "charge balance at 25 °C with Davies activities; pKa of each acid as this book's table cites it"

// PHOfSolution works out the pH of acids, their salts and strong acids or bases in water, at 25 °C: the pH at which the charges balance.
// Ideal leaves the activities out, for comparison with textbooks. A surfactant's or a product's pH cannot be worked out like this.
func PHOfSolution(parts []Dissolved, ideal bool) (SolutionPH, *FieldError) {
	s := balance{ideal: ideal}
	for i, p := range parts {
		at := "parts[" + strconv.Itoa(i) + "]"
		known := findSolute(p.What)
		if known == nil {
			return SolutionPH{}, &FieldError{Field: at + ".what", Says: "“" + short(p.What) + "” is not among the acids, salts and bases of this table, so the pH cannot be worked out", Want: "measure it; names here are such as citric acid, sodium benzoate, sodium hydroxide"}
		}
		if p.Molar.IsNegative() || p.Molar.GreaterThan(decimal.New(5, 0)) {
			return SolutionPH{}, &FieldError{Field: at + ".amount", Says: "that is more than a simple solution holds", Want: "write at most 5 mol/L"}
		}
		s.add(known, p.Molar.InexactFloat64())
	}
	pH, strength := s.solve()
	out := SolutionPH{PH: rounded(pH, 2), Strength: rounded(strength, 3)}
	out.Says = "About pH " + out.PH.StringFixed(1) + ", an estimate. Measure it before you rely on it."
	out.Findings = []Finding{{Rule: "solution-ph", Level: Note, Says: "an estimate for clean water at 25 °C, and only for what is named here: surfactants, extracts and the air's carbon dioxide move it", Figure: "pH " + out.PH.StringFixed(2), Source: solutionSource, Do: "measure with a meter or strip"}}
	if !ideal && strength > 0.5 {
		out.Findings = append(out.Findings, Finding{Rule: "solution-strong", Level: Care, Says: "so much is dissolved in it that this estimate may be wrong by more than 0.2", Figure: out.Strength.String() + " mol/L of charges", Limit: "0.5 mol/L", Source: "range of Davies' equation, widely published (from memory)", Do: "measure; or work out a thinner solution"})
	}
	return out, nil
}

// MolesPerLitre turns an amount as typed into mol/L: "1 %", "5 g/kg", "5 g/L", "0.1 mol/L" or "0.1 M".
func MolesPerLitre(what, amount string) (decimal.Decimal, *FieldError) {
	known := findSolute(what)
	if known == nil {
		return decimal.Decimal{}, nil // PHOfSolution says so
	}
	n, err := readNumber(amount)
	if err != nil {
		return decimal.Decimal{}, err
	}
	grams := n.decimal()
	if grams.IsNegative() {
		return decimal.Decimal{}, &FieldError{Says: short(amount) + " is below nothing", Want: "write 0 or more"}
	}
	switch n.unit {
	case "mol/L", "mol/l", "M", "mol":
		return grams, nil
	case "%":
		grams = grams.Shift(1)
	case "g/kg", "g/L", "g/l":
	default:
		return decimal.Decimal{}, &FieldError{Says: "“" + short(amount) + "” does not say of what", Want: "write %, g/kg or mol/L: 0.5 %"}
	}
	return grams.Shift(3).DivRound(decimal.New(known.molar, 0), quotientPlaces), nil
}

// balance holds the moles per litre of each acid and of the strong ions.
type balance struct {
	ideal     bool
	acids     []*protolyte
	moles     []float64
	strong    float64 // charge of sodium, potassium and chloride together
	spectator float64 // their amount
}

func (s *balance) add(p *solute, molar float64) {
	s.strong += float64(p.ions) * molar
	s.spectator += float64(p.spectator) * molar
	if p.acid == "" {
		return
	}
	for i, a := range s.acids {
		if a.name == p.acid {
			s.moles[i] += molar
			return
		}
	}
	s.acids, s.moles = append(s.acids, findProtolyte(p.acid)), append(s.moles, molar)
}

// waterPK is −log10 of the ion product of water at 25 °C.
const waterPK = 14.0

// davies is the logarithm of an ion's activity coefficient: −0.509 z² (√I ÷ (1 + √I) − 0.3 I). Beyond its range it is held at I = 1.
func (s *balance) davies(z int, strength float64) float64 {
	if s.ideal {
		return 0
	}
	i := min(strength, 1)
	root := math.Sqrt(i)
	return -0.509 * float64(z*z) * (root/(1+root) - 0.3*i)
}

// charges is the sum of all charges at a pH, and the ionic strength that they make; it falls as the pH rises.
func (s *balance) charges(pH, strength float64) (sum, next float64) {
	one := s.davies(1, strength)
	h, oh := math.Pow(10, -pH-one), math.Pow(10, pH-waterPK-one)
	sum = h - oh + s.strong
	next = (h + oh + s.spectator) / 2
	for i, a := range s.acids {
		// each form against the fullest, in logarithms, the largest taken out so that nothing overflows
		logs := make([]float64, len(a.pKa)+1)
		most := 0.0
		for j, pKa := range a.pKa {
			logs[j+1] = logs[j] + pH - pKa + s.davies(j, strength) - s.davies(j+1, strength)
			most = max(most, logs[j+1])
		}
		all := 0.0
		for j := range logs {
			logs[j] = math.Pow(10, logs[j]-most)
			all += logs[j]
		}
		for j, part := range logs {
			c := s.moles[i] * part / all
			sum -= float64(j) * c
			next += float64(j*j) * c / 2
		}
	}
	return sum, next
}

// solve halves towards the pH at which the charges balance, and repeats with the ionic strength that this makes until it stands still.
func (s *balance) solve() (pH, strength float64) {
	for range 60 {
		low, high := -2.0, 16.0
		for range 60 {
			mid := (low + high) / 2
			if sum, _ := s.charges(mid, strength); sum > 0 {
				low = mid
			} else {
				high = mid
			}
		}
		pH = (low + high) / 2
		_, next := s.charges(pH, strength)
		if math.Abs(next-strength) < 1e-9 {
			break
		}
		strength = (strength + next) / 2
	}
	return pH, strength
}
