package calc

import "strconv"

type askTopUp struct {
	Tare    typed       `json:"tare"`
	Before  typed       `json:"before"`
	After   typed       `json:"after"`
	Step    typed       `json:"step"`
	Covered bool        `json:"covered"`
	Residue *askResidue `json:"residue"`
}

type askResidue struct {
	Tare  typed       `json:"tare"`
	After typed       `json:"after"`
	Lines []askPoured `json:"lines"`
}

type askPoured struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Grams  typed  `json:"grams"`
	Poured bool   `json:"poured"`
}

type topUpAnswer struct {
	Lost     string         `json:"lost"`
	PutBack  string         `json:"putBack"`
	Share    string         `json:"lostPercent"`
	Says     string         `json:"says"`
	Residue  *residueAnswer `json:"residue"`
	Findings []Finding      `json:"findings"`
}

type residueAnswer struct {
	Mass  string        `json:"mass"`
	Share string        `json:"percentOfPoured"`
	Says  string        `json:"says"`
	Lines []residueLine `json:"lines"`
}

type residueLine struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	True string `json:"truePercent"`
}

const exampleTopUp = `{
  "tare": "212.4",
  "before": "512.4",
  "after": "503.1",
  "covered": true,
  "step": "0.1",
  "residue": {
    "tare": "212.4",
    "after": "217.0",
    "lines": [
      {"id": "water", "grams": "114", "poured": true},
      {"id": "betaine", "grams": "90", "poured": true},
      {"id": "isethionate", "grams": "60", "poured": true},
      {"id": "stearic", "grams": "33"},
      {"id": "preservative", "grams": "3"}
    ]
  }
}
`

func doTopUp(request []byte) (any, *FieldError) {
	var ask askTopUp
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	step := Gram / 10
	var err *FieldError
	if ask.Step != "" {
		if step, err = ReadStep(string(ask.Step)); err != nil {
			return nil, err.under("step")
		}
	}
	read := TopUpAsk{Covered: ask.Covered, Step: step}
	for _, m := range []struct {
		field string
		text  typed
		into  *Mass
	}{{"tare", ask.Tare, &read.Tare}, {"before", ask.Before, &read.Before}, {"after", ask.After, &read.After}} {
		if m.text == "" && m.field == "tare" {
			continue
		}
		if *m.into, err = ReadGrams(string(m.text)); err != nil {
			return nil, err.under(m.field)
		}
	}
	got, err := TopUp(read)
	if err != nil {
		return nil, err
	}
	out := topUpAnswer{Lost: got.Lost.On(step) + " g", PutBack: got.PutBack.On(step) + " g", Says: got.Says, Findings: orNone(got.Findings)}
	if read.Tare > 0 {
		out.Share = got.Share.StringFixed(2)
	}
	if ask.Residue == nil {
		return out, nil
	}
	r, err := ask.Residue.read(step)
	if err != nil {
		return nil, err.under("residue")
	}
	left, err := ResidueLeft(r)
	if err != nil {
		return nil, err
	}
	out.Residue = &residueAnswer{Mass: left.Mass.On(step) + " g", Share: left.Share.StringFixed(2), Says: left.Says, Lines: []residueLine{}}
	for i, l := range r.Lines {
		out.Residue.Lines = append(out.Residue.Lines, residueLine{l.ID, l.Name, left.True[i].String()})
	}
	out.Findings = append(out.Findings, left.Findings...)
	return out, nil
}

func (a *askResidue) read(step Mass) (ResidueAsk, *FieldError) {
	r := ResidueAsk{Step: step}
	var err *FieldError
	if r.Tare, err = ReadGrams(string(a.Tare)); err != nil {
		return r, err.under("tare")
	}
	if r.After, err = ReadGrams(string(a.After)); err != nil {
		return r, err.under("after")
	}
	for i, l := range a.Lines {
		m, err := ReadGrams(string(l.Grams))
		if err != nil {
			return r, err.under("lines[" + strconv.Itoa(i) + "].grams")
		}
		r.Lines = append(r.Lines, PouredLine{ID: nameOr(l.ID, strconv.Itoa(i+1)), Name: l.Name, Mass: m, Poured: l.Poured})
	}
	return r, nil
}
