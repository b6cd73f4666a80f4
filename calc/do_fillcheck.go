package calc

import "strconv"

type askFillCheck struct {
	Nominal typed `json:"nominal"`
	// Jars are net masses, or with Tare what the full jars weigh.
	Jars []typed `json:"jars"`
	Tare typed   `json:"tare"`
	// Batch is how many jars the batch has; empty when all were weighed.
	Batch  typed  `json:"batch"`
	System string `json:"system"`
	Opened bool   `json:"opened"`
	Step   typed  `json:"step"`
}

type fillCheckAnswer struct {
	Judged   bool      `json:"judged"`
	Pass     bool      `json:"pass"`
	Says     string    `json:"says"`
	Mean     string    `json:"mean"`
	S        string    `json:"s"`
	TNE      string    `json:"tne"`
	T1       string    `json:"t1"`
	T2       string    `json:"t2"`
	BelowT1  int       `json:"belowT1"`
	BelowT2  int       `json:"belowT2"`
	SEL      string    `json:"sel"`
	MAV      string    `json:"mav"`
	Findings []Finding `json:"findings"`
}

const exampleFillCheck = `{
  "nominal": "120 g",
  "system": "average",
  "step": "0.1",
  "jars": ["119.2", "118.8", "120.1", "119.6", "118.4", "119.9", "118.7", "120.3", "119.1", "119.4", "118.9", "119.5"]
}
`

func doFillCheck(request []byte) (any, *FieldError) {
	var ask askFillCheck
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	read := FillAsk{System: ask.System, Opened: ask.Opened}
	var err *FieldError
	if read.Nominal, err = ReadGrams(string(ask.Nominal)); err != nil {
		return nil, err.under("nominal")
	}
	var tare Mass
	if ask.Tare != "" {
		if tare, err = ReadGrams(string(ask.Tare)); err != nil {
			return nil, err.under("tare")
		}
	}
	if ask.Batch != "" {
		if read.Batch, err = ReadCount(string(ask.Batch)); err != nil {
			return nil, err.under("batch")
		}
	}
	if ask.Step != "" {
		if read.Step, err = ReadStep(string(ask.Step)); err != nil {
			return nil, err.under("step")
		}
	}
	for i, j := range ask.Jars {
		at := "jars[" + strconv.Itoa(i) + "]"
		m, err := ReadGrams(string(j))
		if err != nil {
			return nil, err.under(at)
		}
		if m <= tare {
			return nil, &FieldError{Field: at, Says: "this jar weighs no more than an empty one", Want: "write the full jar, or leave the tare out for net masses"}
		}
		read.Jars = append(read.Jars, m-tare)
	}
	c, err := FillCheck(read)
	if err != nil {
		return nil, err
	}
	out := fillCheckAnswer{Judged: c.Judged, Pass: c.Pass && c.Judged, Says: c.Says, Mean: c.Mean.StringFixed(3) + " g", S: c.S.StringFixed(4) + " g", TNE: c.TNE.String() + " g", T1: c.T1.String() + " g", T2: c.T2.String() + " g",
		BelowT1: c.BelowT1, BelowT2: c.BelowT2, Findings: orNone(c.Findings)}
	if read.System == "US" {
		out.SEL = c.SEL.StringFixed(3) + " g"
		if c.MAV > 0 {
			out.MAV = c.MAV.String() + " g"
		}
	}
	return out, nil
}
