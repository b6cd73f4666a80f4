package label

import (
	"fmt"
	"strconv"
)

// ounce is one in millionths of a milligram: 1 oz avoirdupois = 28.349 523 125 g exactly (NIST Handbook 44, Appendix C, M+).
const ounce = 28_349_523_125

// Grams says a net mass without overstating it: cut, never rounded up, to at most three figures (NIST Handbook 130,
// UPLR section 6, and 16 CFR 500.22, M). mg is the content in milligrams, above 0
// and below 900 kg.
func Grams(mg int64) string {
	switch {
	case mg < 10_000:
		return tenths(mg/100) + " g"
	case mg < 1_000_000:
		return strconv.FormatInt(mg/1000, 10) + " g"
	case mg < 10_000_000:
		return hundredths(mg/10_000) + " kg"
	}
	return tenths(mg/100_000) + " kg"
}

// Ounces says the same in ounces avoirdupois, cut to a tenth; from 100 oz to a whole one.
func Ounces(mg int64) string {
	n := mg * 10_000_000 / ounce
	if n >= 1000 {
		return strconv.FormatInt(n/10, 10) + " oz"
	}
	return tenths(n) + " oz"
}

func tenths(n int64) string {
	if n%10 == 0 {
		return strconv.FormatInt(n/10, 10)
	}
	return fmt.Sprintf("%d.%d", n/10, n%10)
}

func hundredths(n int64) string {
	if n%10 == 0 {
		return tenths(n / 10)
	}
	return fmt.Sprintf("%d.%02d", n/100, n%100)
}

// FigureHeight is how tall the figures of a net mass must be at least, in millimetres (Directive 76/211/EEC Annex I
// 3.1; UK SI 1987/1538, R~; above 1 kg M+).
func FigureHeight(mg int64) float64 {
	switch {
	case mg <= 50_000:
		return 2
	case mg <= 200_000:
		return 3
	case mg <= 1_000_000:
		return 4
	}
	return 6
}
