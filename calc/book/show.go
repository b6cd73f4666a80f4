package book

import (
	"strconv"
	"strings"

	"stillroom/calc"
)

// Figure is calc's: a figure and the sum that it came from.
type Figure = calc.Figure

// grams writes a mass with its unit on a grid, "3,000.0 g".
func grams(mg, step int64) string { return onGrid(mg, step) + " g" }

// onGrid writes a mass to the digits of a scale's step; what does not lie on the grid keeps all its digits.
func onGrid(mg, step int64) string {
	if step <= 0 || mg%step != 0 {
		step = 100
		for step > 1 && mg%step != 0 {
			step /= 10
		}
	}
	return calc.Mass(mg).On(calc.Mass(step))
}

// plain writes a fixed-point number as it would be typed: no thousands mark, no zeros at the end.
func plain(v int64, places int) string {
	s := strconv.FormatInt(v, 10)
	sign := ""
	if v < 0 {
		sign, s = "-", s[1:]
	}
	for len(s) <= places {
		s = "0" + s
	}
	whole, frac := s[:len(s)-places], strings.TrimRight(s[len(s)-places:], "0")
	if frac != "" {
		frac = "." + frac
	}
	return sign + whole + frac
}

// fixed writes a fixed-point number with at least keep digits behind the point.
func fixed(v int64, places, keep int) string {
	s := plain(v, places)
	_, frac, ok := strings.Cut(s, ".")
	if !ok && keep > 0 {
		s += "."
	}
	for n := len(frac); n < keep; n++ {
		s += "0"
	}
	return s
}

func blankZero(v int64, places int) string {
	if v == 0 {
		return ""
	}
	return plain(v, places)
}

func number(n int64) string {
	s := calc.Mass(n * 1000).On(calc.Gram)
	return s
}

// pieces writes a count with its word: 1 jar, 23 jars.
func pieces(n int64, word string) string {
	if word == "" {
		word = "jar"
	}
	if n != 1 {
		switch {
		case strings.HasSuffix(word, "ch"):
			word += "es"
		default:
			word += "s"
		}
	}
	return number(n) + " " + word
}

// listed joins names as a sentence does: "a, b and c".
func listed(names []string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// hundredths writes a share rounded to 0.01 %: a record is read by eye, and its exact figure is in its sum.
func hundredths(p int64) string {
	return calc.Percent((p+50)/100*100).String() + " %"
}
