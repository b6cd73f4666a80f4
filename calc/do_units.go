package calc

import "github.com/shopspring/decimal"

type askUnits struct {
	// Value is a figure with its unit: "4 oz", "167F", "1,5 kg".
	Value   string `json:"value"`
	To      string `json:"to"`
	Density typed  `json:"density"`
}

type unitsAnswer struct {
	// Value is exact where it ends within 15 decimals, else rounded there.
	Value string `json:"value"`
	// Text is how a person would write it; Down never overstates, as a net content must not.
	Text string `json:"text"`
	Down string `json:"down"`
	Unit string `json:"unit"`
	Sum  string `json:"sum"`
}

const exampleUnits = `{
  "value": "100 F",
  "to": "C"
}
`

func doUnits(request []byte) (any, *FieldError) {
	var ask askUnits
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	v, err := Convert(ask.Value, ask.To, string(ask.Density))
	if err != nil {
		return nil, err
	}
	u, _ := findUnit(ask.To)
	places := int32(1)
	if u.name == "kg" || u.name == "lb" || u.name == "L" || u.name == "oz" || u.name == "fl oz" {
		places = 3
	}
	sum := "by exact definition"
	if ask.Density != "" {
		sum += ", with the density given"
	}
	return unitsAnswer{v.String(), v.Round(places).String() + " " + u.name, netDown(v, u).String() + " " + u.name, u.name, sum}, nil
}

// netDown rounds a net content down, so that nothing is overstated: whole grams and millilitres from 10 on, else tenths, and at most three
// significant figures (NIST HB 130, UPLR §6; from memory).
func netDown(v decimal.Decimal, u unit) decimal.Decimal {
	places := int32(1)
	if (u.name == unitG.name || u.name == unitML.name) && !v.Abs().LessThan(decimal.New(10, 0)) {
		places = 0
	}
	if three := 3 - int32(v.NumDigits()) - v.Exponent(); three < places {
		places = three
	}
	return v.RoundFloor(places)
}
