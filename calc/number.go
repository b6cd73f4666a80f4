package calc

import "strings"

// number is a decimal figure as typed: ± digits ÷ 10^places.
type number struct {
	negative bool
	digits   string // without the decimal sign, may be long
	places   int
	unit     string // what stood behind the figure, spaces taken off
}

// maxDigits keeps a hostile figure from costing more than a figure should.
const maxDigits = 30

// readNumber reads a figure that a person typed: one comma or point is the decimal sign, a minus of any shape is a minus,
// and what stands behind the figure is its unit. It knows no exponents: nobody types 1e3 at a bench.
func readNumber(text string) (number, *FieldError) {
	s := strings.TrimSpace(text)
	if s == "" {
		return number{}, &FieldError{Says: "nothing is written here", Want: "write a figure such as 9.5"}
	}
	var n number
	for _, minus := range []string{"-", "−", "–"} {
		if rest, ok := strings.CutPrefix(s, minus); ok {
			n.negative, s = true, strings.TrimSpace(rest)
			break
		}
	}
	if !n.negative {
		s = strings.TrimPrefix(s, "+")
	}
	digits, marks, i := make([]byte, 0, 16), 0, 0
scan:
	for ; i < len(s); i++ {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			digits = append(digits, c)
			if marks > 0 {
				n.places++
			}
		case c == '.' || c == ',':
			marks++
		default:
			break scan
		}
	}
	n.unit = strings.TrimSpace(s[i:])
	switch {
	case marks > 1:
		return number{}, &FieldError{Says: "“" + short(text) + "” has more than one decimal sign", Want: "write one comma or one point, and no sign between thousands: 2084.2"}
	case len(digits) == 0:
		return number{}, &FieldError{Says: "“" + short(text) + "” is not a number", Want: "write digits, such as 9.5 or 9,5"}
	case len(digits) > maxDigits:
		return number{}, &FieldError{Says: "“" + short(text) + "” has too many digits", Want: "write at most 30"}
	case n.unit != "" && n.unit[0] >= '0' && n.unit[0] <= '9':
		return number{}, &FieldError{Says: "“" + short(text) + "” holds more than one figure", Want: "write one figure"}
	}
	n.digits = string(digits)
	return n, nil
}

// fixed gives the figure in units of 10^-places, without rounding. whole is false when the figure is finer than that, and fits is
// false when it lies beyond ± limit.
func (n number) fixed(places int, limit int64) (v int64, whole, fits bool) {
	digits, have := n.digits, n.places
	for have > places {
		if digits[len(digits)-1] != '0' {
			return 0, false, true
		}
		digits, have = digits[:len(digits)-1], have-1
		if digits == "" {
			return 0, true, true
		}
	}
	for i := 0; i < len(digits)+places-have; i++ {
		d := int64(0)
		if i < len(digits) {
			d = int64(digits[i] - '0')
		}
		if v > (limit-d)/10 {
			return 0, true, false
		}
		v = v*10 + d
	}
	if n.negative {
		v = -v
	}
	return v, true, true
}

// short cuts what was typed to a length that still fits into a sentence.
func short(text string) string {
	text = strings.ToValidUTF8(strings.TrimSpace(text), "?")
	if r := []rune(text); len(r) > 24 {
		return string(r[:24]) + "…"
	}
	return text
}

// ReadPercent reads a share as typed, from 0 to 100 %, to 0.0001 %; a comma is accepted as decimal sign and a trailing % is allowed.
func ReadPercent(text string) (Percent, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return 0, err
	}
	if n.unit != "" && n.unit != "%" && n.unit != "percent" {
		return 0, &FieldError{Says: "“" + short(text) + "” is not a share in per cent", Want: "write per cent by weight, such as 9.5"}
	}
	v, whole, fits := n.fixed(4, 1<<52)
	switch {
	case !fits || v > int64(Hundred):
		return 0, &FieldError{Says: short(text) + " % is more than a full jar", Want: "write at most 100"}
	case n.negative && v != 0:
		return 0, &FieldError{Says: short(text) + " % is below nothing", Want: "write 0 or more"}
	case !whole:
		return 0, &FieldError{Says: short(text) + " % is finer than 0.0001 %", Want: "write at most four decimals"}
	}
	return Percent(max(v, -v)), nil
}

// heaviest is one tonne: far above a workshop's pot, and small enough that every product of share and mass stays exact.
const heaviest = 1_000_000 * Gram

// ReadGrams reads a mass as typed, above 0 up to one tonne, to 1 mg. Without a unit it is in grams; g, kg, mg, oz and lb are understood,
// and what is not a whole milligram (ounces) is rounded to the nearest.
func ReadGrams(text string) (Mass, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return 0, err
	}
	unit := strings.ToLower(n.unit)
	if n.negative {
		return 0, &FieldError{Says: short(text) + " is below nothing", Want: "write a mass above 0"}
	}
	if unit == "" || unit == "g" || unit == "gram" || unit == "grams" {
		v, whole, fits := n.fixed(3, int64(heaviest))
		switch {
		case !fits:
			return 0, &FieldError{Says: short(text) + " is more than a tonne", Want: "write grams: 300.0"}
		case !whole:
			return 0, &FieldError{Says: short(text) + " is finer than a milligram", Want: "write at most three decimals"}
		case v == 0:
			return 0, &FieldError{Says: "nothing weighs " + short(text) + " g", Want: "write a mass above 0"}
		}
		return Mass(v), nil
	}
	d, err := convert(n, "g", nil)
	if err != nil {
		err.Field = ""
		return 0, err
	}
	mg := d.Shift(3).Round(0)
	if !mg.IsPositive() || mg.GreaterThan(heaviestDecimal) {
		return 0, &FieldError{Says: short(text) + " is not a mass between 1 mg and a tonne", Want: "write grams: 300.0"}
	}
	return Mass(mg.IntPart()), nil
}

// ReadPH reads a pH as typed, 0 to 14, in hundredths of a point.
func ReadPH(text string) (int, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return 0, err
	}
	v, whole, fits := n.fixed(2, 1400)
	switch {
	case n.unit != "":
		return 0, &FieldError{Says: "“" + short(text) + "” is not a pH", Want: "write a figure without a unit, such as 5.2"}
	case !fits || v < 0:
		return 0, &FieldError{Says: "pH " + short(text) + " is outside 0 to 14", Want: "read the meter or strip again"}
	case !whole:
		return 0, &FieldError{Says: "pH " + short(text) + " is finer than any meter here", Want: "write at most two decimals"}
	}
	return int(v), nil
}

// ReadCount reads a number of jars, 1 to 100,000.
func ReadCount(text string) (int, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return 0, err
	}
	v, whole, fits := n.fixed(0, 100_000)
	switch {
	case n.unit != "" && n.unit != "jars" && n.unit != "jar":
		return 0, &FieldError{Says: "“" + short(text) + "” is not a number of jars", Want: "write a whole number, such as 24"}
	case !fits:
		return 0, &FieldError{Says: short(text) + " jars are more than one batch can fill", Want: "write at most 100000"}
	case !whole || v <= 0:
		return 0, &FieldError{Says: "“" + short(text) + "” is not a number of jars", Want: "write a whole number of 1 or more"}
	}
	return int(v), nil
}
