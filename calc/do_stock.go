package calc

import "strconv"

type askStock struct {
	Events []askStockEvent `json:"events"`
}

type askStockEvent struct {
	Stream  string `json:"stream"`
	Seq     int    `json:"seq"`
	Log     int    `json:"log"`
	SeenLog int    `json:"seenLog"`
	// At is the corrected time in ms.
	At    typed  `json:"at"`
	Lot   string `json:"lot"`
	Place string `json:"place"`
	// Count and Move are whole amounts; one of the two is written.
	Count typed `json:"count"`
	Move  typed `json:"move"`
}

type stockAnswer struct {
	Hand []stockRow `json:"hand"`
}

type stockRow struct {
	Lot        string `json:"lot"`
	Place      string `json:"place"`
	OnHand     int64  `json:"onHand"`
	Counted    bool   `json:"counted"`
	Expected   int64  `json:"expected"`
	Difference int64  `json:"difference"`
	Sum        string `json:"sum"`
}

const exampleStock = `{
  "events": [
    {"stream": "phone", "seq": 1, "log": 1, "at": 1000, "lot": "B1", "place": "shelf", "move": 24},
    {"stream": "phone", "seq": 2, "log": 2, "seenLog": 1, "at": 2000, "lot": "B1", "place": "shelf", "move": -6},
    {"stream": "home", "seq": 1, "log": 3, "seenLog": 2, "at": 1500, "lot": "B1", "place": "shelf", "count": 17},
    {"stream": "phone", "seq": 3, "log": 4, "seenLog": 3, "at": 1400, "lot": "B1", "place": "shelf", "move": -2}
  ]
}
`

// mostStock keeps sums of a million events far from what a whole number can hold.
const mostStock = 1_000_000_000_000

func doStock(request []byte) (any, *FieldError) {
	var ask askStock
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	events := make([]StockEvent, len(ask.Events))
	for i, a := range ask.Events {
		at := "events[" + strconv.Itoa(i) + "]"
		e := StockEvent{Stream: a.Stream, Seq: uint64(a.Seq), Log: uint64(a.Log), SeenLog: uint64(a.SeenLog), Lot: a.Lot, Place: a.Place, Count: a.Count != ""}
		if e.Seq == 0 {
			return nil, &FieldError{Field: at + ".seq", Says: "the event has no number in its stream", Want: "write 1 or more"}
		}
		field, text := ".move", string(a.Move)
		switch {
		case a.Count != "" && a.Move != "":
			return nil, &FieldError{Field: at + ".count", Says: "a count and a movement at once", Want: "write one of them"}
		case e.Count:
			field, text = ".count", string(a.Count)
		}
		var err *FieldError
		if e.N, err = readWhole(text); err != nil {
			return nil, err.under(at + field)
		}
		if e.Count && e.N < 0 {
			return nil, &FieldError{Field: at + ".count", Says: "fewer than none cannot be counted", Want: "write 0 or more"}
		}
		if a.At != "" {
			if e.At, err = readWhole(string(a.At)); err != nil {
				return nil, err.under(at + ".at")
			}
		}
		events[i] = e
	}
	out := stockAnswer{Hand: []stockRow{}}
	for _, h := range OnHand(events) {
		row := stockRow{h.Lot, h.Place, h.N, h.Counted, h.Expected, h.Difference, "movements summed"}
		if h.Counted {
			row.Sum = "counted " + strconv.FormatInt(h.Expected+h.Difference, 10) + ", expected " + strconv.FormatInt(h.Expected, 10) + ", then " + strconv.FormatInt(h.N-h.Expected-h.Difference, 10)
		}
		out.Hand = append(out.Hand, row)
	}
	return out, nil
}

func readWhole(text string) (int64, *FieldError) {
	n, err := readNumber(text)
	if err != nil {
		return 0, err
	}
	v, whole, fits := n.fixed(0, 10*mostStock)
	if !whole || !fits || n.unit != "" {
		return 0, &FieldError{Says: "“" + short(text) + "” is not a whole number that can be used here", Want: "write a whole number, such as 24 or -6"}
	}
	return v, nil
}
