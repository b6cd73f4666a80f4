package calc

import "github.com/shopspring/decimal"

// readPlain reads a figure without a unit, from low to high, at most six decimals; what it is for stands in the error.
func readPlain(text typed, what string, low, high int64) (decimal.Decimal, *FieldError) {
	n, err := readNumber(string(text))
	if err != nil {
		return decimal.Decimal{}, err
	}
	v, whole, fits := n.fixed(6, 1<<60)
	d := decimal.New(v, -6)
	switch {
	case n.unit != "":
		return d, &FieldError{Says: "“" + short(string(text)) + "” is not " + what, Want: "write a figure without a unit"}
	case !whole:
		return d, &FieldError{Says: short(string(text)) + " is finer than " + what + " can be", Want: "write at most six decimals"}
	case !fits || d.LessThan(decimal.New(low, 0)) || d.GreaterThan(decimal.New(high, 0)):
		return d, &FieldError{Says: short(string(text)) + " cannot be " + what, Want: "write " + decimal.New(low, 0).String() + " to " + decimal.New(high, 0).String()}
	}
	return d, nil
}
