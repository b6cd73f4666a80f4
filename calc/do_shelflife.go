package calc

import "strconv"

type askLotUntil struct {
	Name   string `json:"name"`
	Expiry string `json:"expiry"`
	Opened string `json:"opened"`
	PAO    int    `json:"paoMonths"`
}

type askShelfLife struct {
	Made string        `json:"made"`
	Life int           `json:"lifeMonths"`
	PAO  int           `json:"paoMonths"`
	Lots []askLotUntil `json:"lots"`
}

type shelfLifeAnswer struct {
	BestBefore string    `json:"bestBefore"`
	Says       string    `json:"says"`
	PAO        string    `json:"pao"`
	Findings   []Finding `json:"findings"`
}

const exampleShelfLife = `{
  "made": "2026-03-10",
  "lifeMonths": 12,
  "paoMonths": 6,
  "lots": [
    {"name": "lot G-17 of glycerin", "expiry": "2027-11-30"},
    {"name": "lot S-2 of sunflower oil", "expiry": "2027-12-31", "opened": "2026-02-01", "paoMonths": 9},
    {"name": "lot W-1 of water"}
  ]
}
`

func doShelfLife(request []byte) (any, *FieldError) {
	var ask askShelfLife
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	made, err := ReadDate(ask.Made)
	if err != nil {
		return nil, err.under("made")
	}
	if ask.Life < 0 || ask.Life > longestLife {
		return nil, &FieldError{Field: "lifeMonths", Says: "that is not a life in months", Want: "write months, such as 12"}
	}
	if ask.PAO < 0 || ask.PAO > longestOpen {
		return nil, &FieldError{Field: "paoMonths", Says: "that is not a period in months", Want: "write months, such as 6"}
	}
	var lots []LotUntil
	for i, l := range ask.Lots {
		lot := LotUntil{Name: l.Name, PAO: l.PAO}
		for _, d := range []struct {
			field, text string
			into        *Date
		}{{"expiry", l.Expiry, &lot.Expiry}, {"opened", l.Opened, &lot.Opened}} {
			if d.text != "" {
				if *d.into, err = ReadDate(d.text); err != nil {
					return nil, err.under("lots[" + strconv.Itoa(i) + "]." + d.field)
				}
			}
		}
		if l.PAO < 0 || l.PAO > longestOpen {
			return nil, &FieldError{Field: "lots[" + strconv.Itoa(i) + "].paoMonths", Says: "that is not a period in months", Want: "write months, such as 12"}
		}
		lots = append(lots, lot)
	}
	s := ShelfLifeOf(made, ask.Life, ask.PAO, lots)
	out := shelfLifeAnswer{Says: s.Says, PAO: s.PAO, Findings: orNone(s.Notes)}
	if s.Best != (Date{}) {
		out.BestBefore = s.Best.String()
	}
	return out, nil
}

// The most that a label may state, in months: unopened, and after opening.
const (
	longestLife = 1200
	longestOpen = 120
)

// ReadMonths reads whole months from 1 to most; "" is 0, which means not said.
func ReadMonths(text string, most int) (int, *FieldError) {
	if text == "" {
		return 0, nil
	}
	n, err := ReadCount(text)
	if err != nil || n > most {
		return 0, &FieldError{Says: "“" + short(text) + "” is not a number of months", Want: "write whole months, at most " + strconv.Itoa(most) + ", or leave it empty"}
	}
	return n, nil
}
