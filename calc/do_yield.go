package calc

import (
	"strconv"

	"github.com/shopspring/decimal"
)

type askYield struct {
	Fill typed `json:"fill"`
	// Density in g/mL; empty takes the median of the earlier batches.
	Density typed          `json:"density"`
	Brim    typed          `json:"brim"`
	Batch   *askBatchMade  `json:"batch"`
	Earlier []askBatchMade `json:"earlier"`
	// Mix and Whipped are volumes in mL, for overrun by volume.
	Mix     typed `json:"mix"`
	Whipped typed `json:"whipped"`
}

type askBatchMade struct {
	Code          string `json:"code"`
	Made          typed  `json:"made"`
	Filled        typed  `json:"filled"`
	JarsExpected  int    `json:"jarsExpected"`
	JarsMade      int    `json:"jarsMade"`
	Density       typed  `json:"density"`
	DensityBefore typed  `json:"densityBefore"`
	GritIn        bool   `json:"gritIn"`
}

type yieldAnswer struct {
	Fits            string    `json:"fits"`
	Holds           string    `json:"holds"`
	Comfortable     string    `json:"comfortable"`
	Yield           string    `json:"yield"`
	Loss            string    `json:"lossPercent"`
	OverrunByWeight string    `json:"overrunByWeightPercent"`
	OverrunByVolume string    `json:"overrunByVolumePercent"`
	Forecast        string    `json:"forecast"`
	Findings        []Finding `json:"findings"`
}

const exampleYield = `{
  "fill": "110 g",
  "brim": "120",
  "earlier": [
    {"code": "B1", "made": "3000", "filled": "2880", "density": "0.84"},
    {"code": "B2", "made": "3000", "filled": "2850", "density": "0.86"},
    {"code": "B3", "made": "1500", "filled": "1455", "density": "0.89"}
  ],
  "batch": {"code": "B4", "made": "3000", "filled": "2870", "jarsExpected": 24, "jarsMade": 23, "density": "0.56", "densityBefore": "1.09"}
}
`

func doYield(request []byte) (any, *FieldError) {
	var ask askYield
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	out := yieldAnswer{Findings: []Finding{}}
	earlier := make([]BatchMade, len(ask.Earlier))
	for i := range ask.Earlier {
		var err *FieldError
		if earlier[i], err = ask.Earlier[i].read(); err != nil {
			return nil, err.under("earlier[" + strconv.Itoa(i) + "]")
		}
	}
	f := ForecastOf(earlier)
	out.Forecast = f.Says
	density := f.MgPerML
	if ask.Density != "" {
		var err *FieldError
		if density, err = ReadDensity(string(ask.Density)); err != nil {
			return nil, err.under("density")
		}
	}
	if ask.Fill != "" {
		fill, err := ReadGrams(string(ask.Fill))
		if err != nil {
			return nil, err.under("fill")
		}
		c := Container{}
		if ask.Brim != "" {
			if c.BrimMicroL, err = ReadVolume(string(ask.Brim)); err != nil {
				return nil, err.under("brim")
			}
		}
		fit := Fits(fill, density, c)
		out.Fits, out.Findings = fit.Says, append(out.Findings, fit.Findings...)
		if fit.Known {
			out.Holds, out.Comfortable = fit.Holds.On(Gram/10)+" g", fit.Comfortable.On(Gram/10)+" g"
		}
	}
	if ask.Batch != nil {
		b, err := ask.Batch.read()
		if err != nil {
			return nil, err.under("batch")
		}
		y := YieldOf(b)
		out.Yield, out.Findings = y.Says, append(out.Findings, y.Findings...)
		if y.LossKnown {
			out.Loss = y.Loss.StringFixed(2)
		}
		if y.OverrunKnown {
			out.OverrunByWeight = y.Overrun.StringFixed(2)
		}
	}
	if ask.Mix != "" || ask.Whipped != "" {
		mix, err := ReadVolume(string(ask.Mix))
		if err != nil {
			return nil, err.under("mix")
		}
		whipped, err := ReadVolume(string(ask.Whipped))
		if err != nil {
			return nil, err.under("whipped")
		}
		out.OverrunByVolume = OverrunByVolume(decimal.New(mix, 0), decimal.New(whipped, 0)).StringFixed(2)
	}
	return out, nil
}

func (a *askBatchMade) read() (BatchMade, *FieldError) {
	b := BatchMade{Code: a.Code, JarsExpected: a.JarsExpected, JarsMade: a.JarsMade, GritIn: a.GritIn}
	var err *FieldError
	for _, m := range []struct {
		field string
		text  typed
		into  *Mass
	}{{"made", a.Made, &b.Made}, {"filled", a.Filled, &b.Filled}} {
		if m.text != "" {
			if *m.into, err = ReadGrams(string(m.text)); err != nil {
				return b, err.under(m.field)
			}
		}
	}
	for _, d := range []struct {
		field string
		text  typed
		into  *int64
	}{{"density", a.Density, &b.MgPerML}, {"densityBefore", a.DensityBefore, &b.MgPerMLBefore}} {
		if d.text != "" {
			if *d.into, err = ReadDensity(string(d.text)); err != nil {
				return b, err.under(d.field)
			}
		}
	}
	return b, nil
}
