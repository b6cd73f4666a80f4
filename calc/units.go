package calc

import (
	"strings"

	"github.com/shopspring/decimal"
)

// unit is a unit of mass (in grams), of volume (in millilitres) or of temperature, by exact definition (standards §1.3: the pound and the
// US fluid ounce are exact; NIST HB 44 App. C, from memory).
type unit struct {
	name   string // as shown
	kind   string // mass, volume, temperature
	factor decimal.Decimal
}

var (
	heaviestDecimal = decimal.New(int64(heaviest), 0)
	unitG           = unit{"g", "mass", decimal.New(1, 0)}
	unitMG          = unit{"mg", "mass", decimal.New(1, -3)}
	unitKG          = unit{"kg", "mass", decimal.New(1000, 0)}
	unitOZ          = unit{"oz", "mass", decimal.New(28_349_523_125, -9)}
	unitLB          = unit{"lb", "mass", decimal.New(45_359_237, -5)}
	unitML          = unit{"mL", "volume", decimal.New(1, 0)}
	unitL           = unit{"L", "volume", decimal.New(1000, 0)}
	unitFlOz        = unit{"fl oz", "volume", decimal.New(295_735_295_625, -10)}
	unitC           = unit{"°C", "temperature", decimal.Decimal{}}
	unitF           = unit{"°F", "temperature", decimal.Decimal{}}
)

const unitsKnown = "g, kg, mg, oz, lb, mL, L, fl oz, °C or °F"

// findUnit knows each unit by the ways in which people write it. An ounce without "fl" is always an ounce of mass.
func findUnit(text string) (unit, bool) {
	s := strings.ToLower(strings.TrimSpace(text))
	s = strings.ReplaceAll(s, ".", "")
	s = strings.Join(strings.Fields(s), " ")
	switch s {
	case "g", "gram", "grams":
		return unitG, true
	case "mg", "milligram", "milligrams":
		return unitMG, true
	case "kg", "kilogram", "kilograms":
		return unitKG, true
	case "oz", "ounce", "ounces", "oz av":
		return unitOZ, true
	case "lb", "lbs", "pound", "pounds":
		return unitLB, true
	case "ml", "millilitre", "millilitres", "milliliter", "milliliters":
		return unitML, true
	case "l", "litre", "litres", "liter", "liters":
		return unitL, true
	case "fl oz", "floz", "fluid ounce", "fluid ounces":
		return unitFlOz, true
	case "c", "°c", "celsius", "℃":
		return unitC, true
	case "f", "°f", "fahrenheit", "℉":
		return unitF, true
	}
	return unit{}, false
}

func (n number) decimal() decimal.Decimal {
	d, err := decimal.NewFromString(n.digits) // at most 30 digits and nothing else: cannot fail
	if err != nil {
		return decimal.Decimal{}
	}
	d = d.Shift(int32(-n.places))
	if n.negative {
		d = d.Neg()
	}
	return d
}

// quotientPlaces is to how many decimals a quotient that does not end is rounded; everything that ends sooner is exact.
const quotientPlaces = 15

// Convert reads a figure with its unit and gives it in another unit: exact where it ends, else rounded to 15 decimals.
// Between mass and volume a density in g/mL is needed; "" means that none is known.
func Convert(text, to, density string) (decimal.Decimal, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return decimal.Decimal{}, err.under("value")
	}
	var d *decimal.Decimal
	if density != "" {
		dn, err := readNumber(density)
		if err != nil {
			return decimal.Decimal{}, err.under("density")
		}
		v := dn.decimal()
		if !v.IsPositive() || v.GreaterThan(decimal.New(25, 0)) || (dn.unit != "" && strings.ToLower(dn.unit) != "g/ml") {
			return decimal.Decimal{}, &FieldError{Field: "density", Says: short(density) + " is not a density", Want: "write g/mL, above 0 and at most 25: 1.26"}
		}
		d = &v
	}
	return convert(n, to, d)
}

func convert(n number, to string, density *decimal.Decimal) (decimal.Decimal, *FieldError) {
	none := decimal.Decimal{}
	if n.unit == "" {
		return none, &FieldError{Field: "value", Says: "the figure has no unit", Want: "write one of " + unitsKnown}
	}
	from, ok := findUnit(n.unit)
	if !ok {
		return none, &FieldError{Field: "value", Says: "“" + short(n.unit) + "” is not a unit known here", Want: "write one of " + unitsKnown}
	}
	target, ok := findUnit(to)
	if !ok {
		return none, &FieldError{Field: "to", Says: "“" + short(to) + "” is not a unit known here", Want: "write one of " + unitsKnown}
	}
	v := n.decimal()
	if (from.kind == "temperature") != (target.kind == "temperature") {
		return none, &FieldError{Field: "to", Says: from.name + " cannot become " + target.name, Want: "ask for a unit of " + from.kind}
	}
	if from.kind == "temperature" {
		return degreesTo(v, from, target)
	}
	if n.negative && !v.IsZero() {
		return none, &FieldError{Field: "value", Says: "a " + from.kind + " below nothing", Want: "write 0 or more"}
	}
	base := v.Mul(from.factor)
	if from.kind != target.kind {
		if density == nil {
			return none, &FieldError{Field: "density", Says: "from " + from.name + " to " + target.name + " a density is missing", Want: "give it in g/mL"}
		}
		if from.kind == "volume" {
			base = base.Mul(*density)
		} else {
			return base.DivRound(density.Mul(target.factor), quotientPlaces), nil
		}
	}
	return base.DivRound(target.factor, quotientPlaces), nil
}

func degreesTo(v decimal.Decimal, from, to unit) (decimal.Decimal, *FieldError) {
	five, nine, off := decimal.New(5, 0), decimal.New(9, 0), decimal.New(32, 0)
	c := v
	if from.name == unitF.name {
		c = v.Sub(off).Mul(five).DivRound(nine, quotientPlaces)
	}
	if c.LessThan(decimal.New(-27315, -2)) {
		return decimal.Decimal{}, &FieldError{Field: "value", Says: "colder than anything can be", Want: "write −273.15 °C or more"}
	}
	if to.name == from.name {
		return v, nil
	}
	if to.name == unitF.name {
		return v.Mul(decimal.New(18, -1)).Add(off), nil
	}
	return c, nil
}
