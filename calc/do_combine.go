package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

type askCombine struct {
	askKnown
	Parts []askCombinePart `json:"parts"`
	Fats  []askFat         `json:"fats"`
}

type askCombinePart struct {
	Name        string         `json:"name"`
	Temperature typed          `json:"temperature"`
	Things      []askHeatThing `json:"things"`
}

type askHeatThing struct {
	Ingredient string `json:"ingredient"`
	Grams      typed  `json:"grams"`
	// Capacity in J/(g·K), where it is known better than by this book's table.
	Capacity typed `json:"capacity"`
}

type combineAnswer struct {
	Celsius    string    `json:"celsius"`
	Fahrenheit string    `json:"fahrenheit"`
	Low        string    `json:"low"`
	High       string    `json:"high"`
	Says       string    `json:"says"`
	Findings   []Finding `json:"findings"`
}

const exampleCombine = `{
  "parts": [
    {"name": "A", "temperature": "75 C", "things": [{"ingredient": "water", "grams": "114"}, {"ingredient": "betaine-30", "grams": "90"}, {"ingredient": "sci-powder", "grams": "60"}]},
    {"name": "B", "temperature": "58 C", "things": [{"ingredient": "stearic-50", "grams": "33"}]}
  ],
  "fats": [{"ingredient": "stearic-50"}]
}
`

func doCombine(request []byte) (any, *FieldError) {
	var ask askCombine
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	k, err := ask.askKnown.read()
	if err != nil {
		return nil, err
	}
	var parts []CombinePart
	for i, p := range ask.Parts {
		part, err := p.read()
		if err != nil {
			return nil, err.under("parts[" + strconv.Itoa(i) + "]")
		}
		parts = append(parts, part)
	}
	var fats []SettingFat
	for i, f := range ask.Fats {
		fat, err := f.read()
		if err != nil {
			return nil, err.under("fats[" + strconv.Itoa(i) + "]")
		}
		fats = append(fats, fat)
	}
	c, err := Combine(parts, fats, k)
	if err != nil {
		return nil, err
	}
	return combineAnswer{Celsius(c.MilliC), Fahrenheit(c.MilliC), Celsius(c.Low), Celsius(c.High), c.Says, orNone(c.Findings)}, nil
}

func (a *askCombinePart) read() (CombinePart, *FieldError) {
	d, err := ReadDegrees(string(a.Temperature), "")
	if err != nil {
		return CombinePart{}, err.under("temperature")
	}
	out := CombinePart{Name: a.Name, MilliC: d.MilliC}
	for i, t := range a.Things {
		at := "things[" + strconv.Itoa(i) + "]"
		m, err := ReadGrams(string(t.Grams))
		if err != nil {
			return out, err.under(at + ".grams")
		}
		thing := HeatThing{Ingredient: t.Ingredient, Mass: m}
		if t.Capacity != "" {
			n, err := readNumber(string(t.Capacity))
			if err != nil {
				return out, err.under(at + ".capacity")
			}
			if thing.Capacity = n.decimal(); !thing.Capacity.IsPositive() || thing.Capacity.GreaterThan(decimal.New(10, 0)) || n.unit != "" {
				return out, &FieldError{Field: at + ".capacity", Says: "“" + short(string(t.Capacity)) + "” is not a heat capacity", Want: "write J per gram and degree, such as 4.18 for water"}
			}
		}
		out.Things = append(out.Things, thing)
	}
	return out, nil
}
