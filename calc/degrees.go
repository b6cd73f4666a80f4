package calc

import (
	"strings"

	"stillroom/calc/matter"
)

// Degrees is a temperature as entered: exact thousandths of a degree Celsius (a Fahrenheit entry rounded to the nearest), and the unit
// and words that it was entered in, since 100 °F stays 100 °F (37.8 °C) and is never 38 °C.
type Degrees struct {
	MilliC int64
	// Unit is "C" or "F", as entered.
	Unit string
	// Text is the figure as entered, with its unit, for reading back: "100 °F".
	Text string
	// Both shows it in the other unit too, whichever it was entered in.
	Both bool
}

// ReadDegrees reads a temperature as typed, "75", "75 C", "167F", "1,5 °C", from −50 °C to 300 °C; unit ("C" or "F") holds when none was
// typed, and Celsius when unit is empty too.
func ReadDegrees(text, unit string) (Degrees, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return Degrees{}, err
	}
	if n.unit != "" {
		unit = n.unit
	}
	u := degreeUnit(unit)
	if u == "" {
		return Degrees{}, &FieldError{Says: "“" + short(unit) + "” is not a unit of temperature", Want: "write C or F: 75 C, 167 F"}
	}
	v, whole, fits := n.fixed(3, 1_000_000)
	if !whole {
		return Degrees{}, &FieldError{Says: short(text) + " is finer than any thermometer here", Want: "write at most three decimals"}
	}
	d := Degrees{MilliC: v, Unit: u, Text: strings.Replace(figureText(n), ",", ".", 1) + " °" + u}
	if u == "F" {
		d.MilliC = roundDiv((v-32_000)*5, 9)
	}
	if !fits || d.MilliC < -50_000 || d.MilliC > 300_000 {
		return Degrees{}, &FieldError{Says: short(text) + " is outside what a bench can reach", Want: "write −50 to 300 °C (−58 to 572 °F)"}
	}
	return d, nil
}

// Show reads the temperature back as entered, with Celsius beside it when it was entered in Fahrenheit: "100 °F (37.8 °C)", and
// the other way round for who thinks in Fahrenheit.
func (d Degrees) Show() string {
	if d.Unit == "F" {
		return d.Text + " (" + Celsius(d.MilliC) + ")"
	}
	if d.Both {
		return d.Text + " (" + Fahrenheit(d.MilliC) + ")"
	}
	return d.Text
}

// like writes another temperature in the unit of this one, or in Fahrenheit where both are shown.
func (d Degrees) like(milliC int64) string {
	if d.Unit == "F" || d.Both {
		return Fahrenheit(milliC)
	}
	return Celsius(milliC)
}

// DegreesWithUnit writes the unit behind a temperature that was typed without one; what has a unit, or is none, stays as typed.
func DegreesWithUnit(text, unit string) string {
	if n, err := readNumber(text); err == nil && n.unit == "" {
		return strings.TrimSpace(text) + " " + unit
	}
	return text
}

// Celsius writes thousandths of a degree to one decimal: "37.8 °C", and whole degrees without: "75 °C".
func Celsius(milliC int64) string { return tenths(roundDiv(milliC, 100)) + " °C" }

// Fahrenheit writes the same temperature in Fahrenheit, to one decimal.
func Fahrenheit(milliC int64) string { return tenths(roundDiv(milliC*9+160_000, 500)) + " °F" }

// bothDegrees shows a limit with both units, the one that its source uses first.
func bothDegrees(t *matter.Temperature) string {
	if strings.HasSuffix(t.Text, "F") {
		return t.Text + " (" + Celsius(t.MilliC) + ")"
	}
	return Celsius(t.MilliC) + " (" + Fahrenheit(t.MilliC) + ")"
}

func degreeUnit(unit string) string {
	u := strings.ToUpper(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(unit), "°")))
	switch u {
	case "", "C", "CELSIUS", "℃":
		return "C"
	case "F", "FAHRENHEIT", "℉":
		return "F"
	}
	return ""
}

// figureText writes the figure of a number again as it was typed, without its unit.
func figureText(n number) string {
	whole, frac := n.digits[:len(n.digits)-n.places], n.digits[len(n.digits)-n.places:]
	whole = strings.TrimLeft(whole, "0")
	if whole == "" {
		whole = "0"
	}
	if n.negative {
		whole = "−" + whole
	}
	if frac != "" {
		whole += "." + frac
	}
	return whole
}

func tenths(v int64) string {
	s := matter.Mass(v * 100).String()
	return strings.TrimSuffix(s, ".0")
}

// roundDiv divides and rounds half away from zero; d is positive.
func roundDiv(n, d int64) int64 {
	if n < 0 {
		return -((-n + d/2) / d)
	}
	return (n + d/2) / d
}
