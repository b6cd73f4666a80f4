package calc

import "github.com/shopspring/decimal"

// CupDensity is the density, in mg/mL, of what fills a cup: (full − empty) ÷ volume, to the nearest 1 mg/mL. The masses
// are the cup with and without it; microL is what the cup holds to its rim, in microlitres (60 mL is 60,000).
func CupDensity(full, empty Mass, microL int64) (mgPerML int64, err *FieldError) {
	switch {
	case microL <= 0:
		return 0, &FieldError{Field: "volume", Says: "the cup's volume is missing", Want: "weigh the cup full of water: its grams are its millilitres, near enough"}
	case empty < 0 || full <= empty:
		return 0, &FieldError{Field: "full", Says: "the full cup is not heavier than the empty one", Want: "weigh both again"}
	}
	d := decimal.New(int64(full-empty), 3).DivRound(decimal.New(microL, 0), 0)
	if !d.IsPositive() || d.GreaterThan(decimal.New(25_000, 0)) {
		return 0, &FieldError{Field: "full", Says: "that would be a density of " + d.Shift(-3).String() + " g/mL", Want: "look at the grams and the millilitres again"}
	}
	return d.IntPart(), nil
}
