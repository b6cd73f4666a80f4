package calc

import "strconv"

type askPHRuler struct {
	askKnown
	Formula askFormula `json:"formula"`
	// Cursor is the pH at which the working shares are wanted; empty takes the latest reading, or the middle of the overlap.
	Cursor   typed          `json:"cursor"`
	Readings []askPHReading `json:"readings"`
	// Stops asks for every tenth of a point as well, for a cursor that is drawn along.
	Stops bool `json:"stops"`
}

type askPHReading struct {
	PH     typed  `json:"ph"`
	Method string `json:"method"`
}

const examplePHRuler = `{
  "formula": {
    "name": "A whipped wash",
    "wash": "rinse-off",
    "lines": [
      {"id": "water", "ingredient": "water", "qs": true},
      {"id": "betaine", "ingredient": "betaine-30", "percent": "30"},
      {"id": "isethionate", "ingredient": "sci-powder", "percent": "20"},
      {"id": "benzoate", "ingredient": "sodium-benzoate", "percent": "0.5"}
    ]
  },
  "readings": [{"ph": "5.6", "method": "meter, 10 % in water"}],
  "cursor": "5"
}
`

func doPHRuler(request []byte) (any, *FieldError) {
	var ask askPHRuler
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	f, k, err := readApart(ask.Formula, ask.askKnown)
	if err != nil {
		return nil, err
	}
	cursor := 0
	if ask.Cursor != "" {
		if cursor, err = ReadPH(string(ask.Cursor)); err != nil {
			return nil, err.under("cursor")
		}
		cursor = max(cursor, rulerLow) // 0 would mean that none was asked for
	}
	var readings []PHReading
	for i, r := range ask.Readings {
		pH, err := ReadPH(string(r.PH))
		if err != nil {
			return nil, err.under("readings[" + strconv.Itoa(i) + "].ph")
		}
		readings = append(readings, PHReading{max(pH, 1), r.Method})
	}
	out := PHRulerOf(f, k, cursor, readings)
	if !ask.Stops {
		out.Stops = []RulerPoint{}
	}
	return out, nil
}
