package calc

import (
	"strings"

	"github.com/shopspring/decimal"
)

// ReadDensity reads a density as typed in g/mL, above 0 up to 25, to 0.001: "0.86" is 860 mg/mL.
func ReadDensity(text string) (mgPerML int64, err *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return 0, err
	}
	v, whole, fits := n.fixed(3, 25_000)
	switch {
	case n.unit != "" && strings.ToLower(n.unit) != "g/ml" || !fits || v <= 0:
		return 0, &FieldError{Says: "“" + short(text) + "” is not a density", Want: "write g/mL, above 0 and at most 25: 0.86"}
	case !whole:
		return 0, &FieldError{Says: short(text) + " is finer than a cup and a scale can tell", Want: "write at most three decimals"}
	}
	return v, nil
}

// ReadVolume reads a volume as typed, above 0 up to a cubic metre, to 0.001 mL: without a unit in millilitres; mL, L and fl oz are
// understood, and what is finer is rounded to the nearest.
func ReadVolume(text string) (microL int64, err *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return 0, err
	}
	if n.unit == "" {
		n.unit = "mL"
	}
	v, err := convert(n, "mL", nil)
	if err != nil {
		err.Field = ""
		return 0, err
	}
	u := v.Shift(3).Round(0)
	if !u.IsPositive() || u.GreaterThan(decimal.New(1_000_000_000, 0)) {
		return 0, &FieldError{Says: "“" + short(text) + "” is not a volume that a jar holds", Want: "write millilitres: 120"}
	}
	return u.IntPart(), nil
}
