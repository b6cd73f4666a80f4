package calc

import "strconv"

type askLabel struct {
	askKnown
	Region  string     `json:"region"`
	Net     typed      `json:"net"`
	Made    string     `json:"made"` // 2026-03-10
	Life    int        `json:"lifeMonths"`
	PAO     int        `json:"paoMonths"`
	Code    string     `json:"batchCode"`
	Person  string     `json:"person"`
	Panel   int        `json:"panelMM2"`
	Sale    bool       `json:"sale"`
	Formula askFormula `json:"formula"`
}

type labelAnswer struct {
	Net              string    `json:"net"`
	Grams            string    `json:"grams"`
	Ounces           string    `json:"ounces"`
	HeightMM         string    `json:"heightMM"`
	HeightSource     string    `json:"heightSource"`
	BestBefore       string    `json:"bestBefore"`
	BestBeforeNeeded bool      `json:"bestBeforeNeeded"`
	PAO              string    `json:"pao"`
	PAONeeded        bool      `json:"paoNeeded"`
	BatchCode        string    `json:"batchCode"`
	Person           string    `json:"person"`
	Cautions         []Caution `json:"cautions"`
	Findings         []Finding `json:"findings"`
}

const exampleLabel = `{
  "region": "EU",
  "net": "120 g",
  "made": "2026-03-10",
  "lifeMonths": 12,
  "batchCode": "260310-B1",
  "sale": true,
  "formula": {
    "wash": "rinse-off",
    "lines": [
      {"ingredient": "water", "qs": true},
      {"ingredient": "betaine-30", "percent": "30"},
      {"ingredient": "sucrose", "percent": "46"},
      {"ingredient": "phenoxyethanol-ehg", "percent": "1"}
    ]
  }
}
`

func doLabel(request []byte) (any, *FieldError) {
	var ask askLabel
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readFormula(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	net, err := ReadGrams(string(ask.Net))
	if err != nil {
		return nil, err.under("net")
	}
	a := LabelAsk{Region: ask.Region, Net: net, LifeMonths: ask.Life, PAOMonths: ask.PAO, BatchCode: ask.Code, Person: ask.Person, PanelMM2: int64(ask.Panel), Sale: ask.Sale}
	if ask.Made != "" {
		if a.Made, err = ReadDate(ask.Made); err != nil {
			return nil, err.under("made")
		}
	}
	l, err := LabelContentOf(a, f, k)
	if err != nil {
		return nil, err
	}
	return labelAnswer{l.Net, l.Grams, l.Ounces, l.HeightMM, l.HeightSource, l.BestBefore, l.BestBeforeNeeded, l.PAO, l.PAONeeded, l.BatchCode, l.Person, append([]Caution{}, l.Cautions...), orNone(l.Findings)}, nil
}

// ReadDate reads a day written as 2026-03-10.
func ReadDate(text string) (Date, *FieldError) {
	bad := &FieldError{Says: "“" + short(text) + "” is not a day", Want: "write year-month-day: 2026-03-10"}
	if len(text) != 10 || text[4] != '-' || text[7] != '-' {
		return Date{}, bad
	}
	y, e1 := strconv.Atoi(text[:4])
	m, e2 := strconv.Atoi(text[5:7])
	d, e3 := strconv.Atoi(text[8:])
	if e1 != nil || e2 != nil || e3 != nil || y < 1900 || m < 1 || m > 12 || d < 1 || d > daysIn(y, m) {
		return Date{}, bad
	}
	return Date{y, m, d}, nil
}

func daysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}
