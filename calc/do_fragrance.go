package calc

import (
	"strconv"

	"github.com/shopspring/decimal"

	"stillroom/calc/matter"
)

const fragranceSource = "names of the categories: practice page (read); that a body scrub that is rinsed off is category 9 is from memory. A certificate is valid for one supplier's mixture and one amendment"

type askFragrance struct {
	Wash string `json:"wash"`
	Site string `json:"site"`
	// Scents are the scented inputs: a certificate limits its own mixture only.
	Scents []askScent `json:"scents"`
	// Batch is the mass of the batch, g when no unit is written.
	Batch typed `json:"batch"`
}

type askScent struct {
	Name    string `json:"name"`
	Percent typed  `json:"percent"`
	// Amendment of the certificate: the categories of 48 and before are other ones.
	Amendment int         `json:"amendment"`
	Maxima    []askMaxima `json:"maxima"`
	Flash     string      `json:"flash"`
}

type askMaxima struct {
	Category string `json:"category"`
	Percent  typed  `json:"percent"`
}

type fragranceAnswer struct {
	Category string        `json:"category"`
	Means    string        `json:"means"`
	Scents   []scentAnswer `json:"scents"`
	Findings []Finding     `json:"findings"`
}

type scentAnswer struct {
	Name  string `json:"name"`
	Most  string `json:"most"`
	Grams string `json:"grams"`
	Sum   string `json:"sum"`
}

const exampleFragrance = `{
  "wash": "rinse-off",
  "site": "body",
  "batch": "1500 g",
  "scents": [
    {"name": "parfum", "percent": "1", "amendment": 51, "maxima": [{"category": "9", "percent": "1.49"}, {"category": "5A", "percent": "0.3"}]}
  ]
}
`

// scentCategory is the category of a product, and what it stands for (standards §14); "" when too little was said.
func scentCategory(wash, site string) (category, means string) {
	switch {
	case site == "lip":
		return "1", "lips"
	case site == "intimate":
		return "8", "significant anogenital exposure"
	case site == "eye area":
		return "3", "face and body by fingertips"
	case wash == "rinse-off" && site == "hair":
		return "9", "rinsed off: shampoo, conditioner, wash"
	case wash == "rinse-off" && site != "":
		return "9", "body and hands, rinsed off: soap, wash, scrub"
	case wash == "leave-on" && site == "face":
		return "5B", "face moisturiser"
	case wash == "leave-on" && site == "hand":
		return "5C", "hand cream"
	case wash == "leave-on" && site == "hair":
		return "7B", "hair, left on"
	case wash == "leave-on" && (site == "body" || site == "whole body" || site == "foot"):
		return "5A", "body lotion, butter, oil"
	}
	return "", ""
}

func doFragrance(request []byte) (any, *FieldError) {
	var ask askFragrance
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	kind := askFormula{Wash: ask.Wash, Site: ask.Site}
	if _, err := kind.read(); err != nil {
		return nil, err
	}
	var batch Mass
	if ask.Batch != "" {
		var err *FieldError
		if batch, err = ReadGrams(string(ask.Batch)); err != nil {
			return nil, err.under("batch")
		}
	}
	out := fragranceAnswer{Scents: []scentAnswer{}, Findings: []Finding{}}
	out.Category, out.Means = scentCategory(ask.Wash, ask.Site)
	if out.Category == "" {
		out.Findings = append(out.Findings, Finding{Rule: "fragrance", Level: Unchecked, Says: "not checked: the category of the product is missing; say whether it is rinsed off or left on, and where it is used", Source: fragranceSource,
			Do: "look the category up on the certificate"})
	}
	for i := range ask.Scents {
		if err := ask.Scents[i].against(&out, batch); err != nil {
			return nil, err.under("scents[" + strconv.Itoa(i) + "]")
		}
	}
	if len(ask.Scents) > 1 {
		out.Findings = append(out.Findings, Finding{Rule: "fragrance", Level: Unchecked, Says: "not checked: what the " + strconv.Itoa(len(ask.Scents)) + " scents bring together of one restricted material; each certificate speaks of its own mixture only",
			Source: fragranceSource, Do: "ask one supplier for a certificate of the mixture"})
	}
	return out, nil
}

// against holds one scent against its own certificate.
func (a *askScent) against(out *fragranceAnswer, batch Mass) *FieldError {
	share, err := ReadPercent(string(a.Percent))
	if err != nil {
		return err.under("percent")
	}
	name := a.Name
	if name == "" {
		name = "the scent"
	}
	var most *Percent
	for i, m := range a.Maxima {
		p, err := ReadPercent(string(m.Percent))
		if err != nil {
			return err.under("maxima[" + strconv.Itoa(i) + "].percent")
		}
		if m.Category == out.Category {
			most = &p
		}
	}
	f := Finding{Rule: "fragrance", Level: Unchecked, Subject: name, Figure: share.String() + " % " + name, Source: fragranceSource}
	switch {
	case out.Category == "":
		return nil
	case a.Amendment != 0 && a.Amendment < 49:
		f.Says, f.Do = "not checked: the certificate of "+name+" is by amendment "+strconv.Itoa(a.Amendment)+", which sorts products into other categories", "ask the supplier for one by amendment 49 or later"
	case most == nil:
		f.Says, f.Do = "not checked: the maximum of "+name+" for category "+out.Category+" is missing", "read it from the supplier's certificate"
	default:
		answer := scentAnswer{Name: name, Most: most.String() + " %"}
		if batch > 0 {
			// rounded down to the milligram: a maximum is never rounded up past
			grams := decimal.New(int64(batch), 0).Mul(decimal.New(int64(*most), -6)).Floor()
			answer.Grams = matter.Mass(grams.IntPart()).String() + " g"
			answer.Sum = most.String() + " ÷ 100 × " + batch.String() + " g = " + answer.Grams
		}
		out.Scents = append(out.Scents, answer)
		if !percentOf(share).Round(comparePlaces).GreaterThan(percentOf(*most)) {
			return nil
		}
		f.Level, f.Says, f.Limit, f.Do = Stop, "more "+name+" than its certificate allows in category "+out.Category, "at most "+most.String()+" %", "use less, or take a scent whose certificate allows it"
	}
	out.Findings = append(out.Findings, f)
	return nil
}
