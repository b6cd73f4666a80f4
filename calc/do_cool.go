package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

type askCool struct {
	Readings []askCoolReading `json:"readings"`
	Limit    typed            `json:"limit"`
	// Room is empty when it was not measured.
	Room typed `json:"room"`
	// Fats are keys of the given list, or names with their setting range.
	Fats []askFat `json:"fats"`
}

type askCoolReading struct {
	Minutes     typed  `json:"minutes"`
	Temperature typed  `json:"temperature"`
	Changed     string `json:"changed"`
}

type askFat struct {
	Ingredient string `json:"ingredient"`
	Name       string `json:"name"`
	SetsFrom   typed  `json:"setsFrom"`
	SetsTo     typed  `json:"setsTo"`
}

type coolAnswer struct {
	Known    bool      `json:"known"`
	Says     string    `json:"says"`
	Minutes  string    `json:"minutes"`
	From     string    `json:"from"`
	To       string    `json:"to"`
	AtLeast  bool      `json:"atLeast"`
	K        string    `json:"k"`
	Used     int       `json:"used"`
	Findings []Finding `json:"findings"`
}

const exampleCool = `{
  "limit": "100 F",
  "room": "20 C",
  "fats": [{"ingredient": "stearic-50"}],
  "readings": [
    {"minutes": "0", "temperature": "68 C"},
    {"minutes": "5", "temperature": "60 C"},
    {"minutes": "10", "temperature": "56 C"},
    {"minutes": "15", "temperature": "52 C", "changed": "other bowl"},
    {"minutes": "20", "temperature": "48.3 C"},
    {"minutes": "25", "temperature": "45.0 C"},
    {"minutes": "30", "temperature": "42.2 C"}
  ]
}
`

func doCool(request []byte) (any, *FieldError) {
	var ask askCool
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	read, err := ask.read()
	if err != nil {
		return nil, err
	}
	c, err := Cool(read)
	if err != nil {
		return nil, err
	}
	out := coolAnswer{Known: c.Known, Says: c.Says, AtLeast: c.AtLeast, Used: c.Used, Findings: orNone(c.Findings)}
	if c.Known && !c.K.IsZero() {
		out.Minutes, out.From, out.To, out.K = c.Minutes.StringFixed(1), c.From.StringFixed(1), c.To.StringFixed(1), c.K.String()
		if c.Open {
			out.To = ""
		}
	}
	return out, nil
}

func (a *askCool) read() (CoolAsk, *FieldError) {
	var out CoolAsk
	var err *FieldError
	if out.Limit, err = ReadDegrees(string(a.Limit), ""); err != nil {
		return out, err.under("limit")
	}
	if a.Room != "" {
		room, err := ReadDegrees(string(a.Room), "")
		if err != nil {
			return out, err.under("room")
		}
		out.Room = &room
	}
	for i, r := range a.Readings {
		at := "readings[" + strconv.Itoa(i) + "]"
		minutes, err := readMinutes(string(r.Minutes))
		if err != nil {
			return out, err.under(at + ".minutes")
		}
		d, err := ReadDegrees(string(r.Temperature), "")
		if err != nil {
			return out, err.under(at + ".temperature")
		}
		out.Readings = append(out.Readings, CoolReading{Minutes: minutes, MilliC: d.MilliC, Changed: r.Changed})
	}
	for i, f := range a.Fats {
		fat, err := f.read()
		if err != nil {
			return out, err.under("fats[" + strconv.Itoa(i) + "]")
		}
		out.Fats = append(out.Fats, fat)
	}
	return out, nil
}

func (a *askFat) read() (SettingFat, *FieldError) {
	out := SettingFat{Name: a.Name}
	if a.Ingredient != "" {
		ing := Given().Ingredients[a.Ingredient]
		if ing == nil || ing.Melts == nil {
			return out, &FieldError{Field: "ingredient", Says: "no setting range is known for “" + short(a.Ingredient) + "”", Want: "write its name with setsFrom and setsTo instead"}
		}
		out = SettingFat{ing.Name, ing.Melts.LowMilliC, ing.Melts.HighMilliC}
		if a.SetsFrom == "" && a.SetsTo == "" {
			return out, nil
		}
	}
	low, err := ReadDegrees(string(a.SetsFrom), "")
	if err != nil {
		return out, err.under("setsFrom")
	}
	high, err := ReadDegrees(string(a.SetsTo), "")
	if err != nil {
		return out, err.under("setsTo")
	}
	if low.MilliC > high.MilliC {
		return out, &FieldError{Field: "setsFrom", Says: "the setting range is upside down", Want: "write the lower temperature as setsFrom"}
	}
	out.Name, out.LowMilliC, out.HighMilliC = nameOr(out.Name, "the fat"), low.MilliC, high.MilliC
	return out, nil
}

// readMinutes reads minutes as typed, 0 up to a week, to 0.001.
func readMinutes(text string) (decimal.Decimal, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return decimal.Decimal{}, err
	}
	v, whole, fits := n.fixed(3, 10_080_000)
	if n.unit != "" && n.unit != "min" && n.unit != "minutes" || !whole || !fits || v < 0 {
		return decimal.Decimal{}, &FieldError{Says: "“" + short(text) + "” is not a time in minutes", Want: "write minutes since the first reading, at most a week: 12.5"}
	}
	return decimal.New(v, -3), nil
}
