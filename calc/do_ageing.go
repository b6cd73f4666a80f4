package calc

import "strconv"

type askAgeing struct {
	Age      int        `json:"age"`
	Readings []askAged  `json:"readings"`
	Compare  []askBlind `json:"compare"`
}

type askAged struct {
	What      string `json:"what"`
	Day       typed  `json:"day"`
	Value     typed  `json:"value"`
	Condition string `json:"condition"`
	Method    string `json:"method"`
	Step      typed  `json:"step"`
	Strip     bool   `json:"strip"`
}

type askBlind struct {
	Name      string         `json:"name"`
	Lines     []askBlindLine `json:"lines"`
	Day       int            `json:"day"`
	Condition string         `json:"condition"`
	Method    string         `json:"method"`
	Preferred int            `json:"preferred"`
}

type askBlindLine struct {
	Name    string `json:"name"`
	Percent string `json:"percent"`
}

type ageingAnswer struct {
	Drifts   []driftRow `json:"drifts"`
	Due      string     `json:"due"`
	Compared string     `json:"compared"`
	Findings []Finding  `json:"findings"`
}

type driftRow struct {
	What      string `json:"what"`
	Condition string `json:"condition"`
	Method    string `json:"method"`
	N         int    `json:"n"`
	Per30     string `json:"per30Days"`
	Within    string `json:"within"`
	Says      string `json:"says"`
}

const exampleAgeing = `{
  "age": 40,
  "readings": [
    {"what": "pH", "day": "1", "value": "5.42", "condition": "room", "method": "meter, 10 % in distilled water", "step": "0.01"},
    {"what": "pH", "day": "7", "value": "5.40", "condition": "room", "method": "meter, 10 % in distilled water", "step": "0.01"},
    {"what": "pH", "day": "30", "value": "5.29", "condition": "room", "method": "meter, 10 % in distilled water", "step": "0.01"},
    {"what": "pH", "day": "1", "value": "5.5", "condition": "40 °C", "method": "strip, neat", "step": "0.5", "strip": true},
    {"what": "mass", "day": "1", "value": "120.0", "condition": "room", "method": "scale", "step": "0.1"},
    {"what": "mass", "day": "30", "value": "119.9", "condition": "room", "method": "scale", "step": "0.1"}
  ],
  "compare": [
    {"name": "with more stearic acid", "lines": [{"name": "stearic acid", "percent": "12"}, {"name": "glycerin", "percent": "3"}], "day": 30, "condition": "room", "preferred": 6},
    {"name": "as it was", "lines": [{"name": "stearic acid", "percent": "10"}, {"name": "glycerin", "percent": "5"}], "day": 30, "condition": "room", "preferred": 3}
  ]
}
`

func doAgeing(request []byte) (any, *FieldError) {
	var ask askAgeing
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	out := ageingAnswer{Drifts: []driftRow{}, Findings: []Finding{}}
	var readings []Aged
	for i := range ask.Readings {
		r, err := ask.Readings[i].read()
		if err != nil {
			return nil, err.under("readings[" + strconv.Itoa(i) + "]")
		}
		readings = append(readings, r)
	}
	for _, d := range DriftsOf(readings) {
		row := driftRow{What: d.What, Condition: d.Condition, Method: d.Method, N: d.N, Says: d.Says}
		if d.Known {
			row.Per30, row.Within = strconv.FormatFloat(d.Slope, 'f', 4, 64), strconv.FormatFloat(d.Within, 'f', 4, 64)
		}
		out.Drifts = append(out.Drifts, row)
		out.Findings = append(out.Findings, d.Findings...)
	}
	if ask.Age < 0 || ask.Age > 36_500 {
		return nil, &FieldError{Field: "age", Says: strconv.Itoa(ask.Age) + " days is no age of a product", Want: "whole days since it was made"}
	}
	if says, day, overdue, ok := DueLook(ask.Age, readings); ok {
		out.Due = "look at it " + says + " (day " + strconv.Itoa(day) + ")"
		if overdue {
			out.Due += ": that is now due"
		}
	}
	switch len(ask.Compare) {
	case 0:
	case 2:
		var v [2]Variant
		for i, c := range ask.Compare {
			if c.Preferred < 0 || c.Preferred > 1000 {
				return nil, &FieldError{Field: "compare[" + strconv.Itoa(i) + "].preferred", Says: strconv.Itoa(c.Preferred) + " is no number of testers", Want: "0 to 1000"}
			}
			v[i] = Variant{Name: c.Name, Lines: map[string]string{}, Day: c.Day, Condition: c.Condition, Method: c.Method, Preferred: c.Preferred}
			for _, l := range c.Lines {
				v[i].Lines[l.Name] = l.Percent
			}
		}
		says, _, findings := CompareBlind(v[0], v[1])
		out.Compared, out.Findings = says, append(out.Findings, findings...)
	default:
		return nil, &FieldError{Field: "compare", Says: strconv.Itoa(len(ask.Compare)) + " variants", Want: "compare two at a time"}
	}
	return out, nil
}

func (a *askAged) read() (Aged, *FieldError) {
	r := Aged{What: a.What, Condition: a.Condition, Method: a.Method, Strip: a.Strip}
	if a.What == "" || a.Method == "" {
		return r, &FieldError{Field: "method", Says: "what was measured, or how, is missing", Want: "a reading is a value with its method, such as meter, 10 % in distilled water"}
	}
	for _, f := range []struct {
		field string
		text  typed
		what  string
		into  *float64
		must  bool
	}{{"day", a.Day, "a day", &r.Day, true}, {"value", a.Value, "a reading", &r.Value, true}, {"step", a.Step, "an instrument's step", &r.Step, false}} {
		if f.text == "" && !f.must {
			continue
		}
		d, err := readPlain(f.text, f.what, -1000, 1_000_000)
		if err != nil {
			return r, err.under(f.field)
		}
		*f.into = d.InexactFloat64()
	}
	if r.Day < 0 || r.Step < 0 {
		return r, &FieldError{Field: "day", Says: "a day or a step is below nothing", Want: "count the days from making"}
	}
	return r, nil
}
