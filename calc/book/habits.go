package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

// chosen is the last answer to the questions of a first run.
type chosen struct {
	from origin
	body WorkshopChosen
}

func (c *chosen) clone() *chosen { d := *c; return &d }

// Habits is the view habits and the arguments of workshop.choose.
type Habits struct {
	Region     string `json:"region"`
	Mass       string `json:"mass"`
	Degrees    string `json:"degrees"`
	Money      string `json:"money"`
	ScaleStep  string `json:"scaleStep"`
	ScaleHolds string `json:"scaleHolds"`
	// Asked is true once the questions were answered or skipped.
	Asked bool `json:"asked,omitempty"`
}

// usualStep is the step of a kitchen scale, in mg, until she says hers.
const usualStep = 100

// habits are the answers in force: what was skipped has its default.
func (s *State) habits() WorkshopChosen {
	h := WorkshopChosen{Mass: "g", Degrees: "C", ScaleStep: usualStep, Region: s.signed().Region, Money: s.signed().Money}
	if c := s.chosen.get(""); c != nil {
		take := func(into *string, said string) {
			if said != "" {
				*into = said
			}
		}
		take(&h.Region, c.body.Region)
		take(&h.Mass, c.body.Mass)
		take(&h.Degrees, c.body.Degrees)
		take(&h.Money, c.body.Money)
		if c.body.ScaleStep > 0 {
			h.ScaleStep = c.body.ScaleStep
		}
		h.ScaleHolds = c.body.ScaleHolds
	}
	return h
}

func (s *State) viewHabits() Habits {
	h := s.habits()
	return Habits{Region: h.Region, Mass: h.Mass, Degrees: h.Degrees, Money: h.Money, ScaleStep: plain(h.ScaleStep, 3), ScaleHolds: blankZero(h.ScaleHolds, 3), Asked: s.chosen.get("") != nil}
}

var (
	regions      = []string{"", "EU", "UK", "US", "elsewhere"}
	massUnits    = []string{"", "g", "oz"}
	degreesUnits = []string{"", "C", "F"}
)

// choose writes the answers down. Each may be empty; then its default stands.
func (s *State) choose(args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[Habits](args)
	if no != nil {
		return nil, nil, no
	}
	b := &WorkshopChosen{Region: strings.TrimSpace(a.Region), Mass: strings.TrimSpace(a.Mass), Degrees: strings.TrimSpace(a.Degrees), Money: strings.ToUpper(strings.TrimSpace(a.Money))}
	for _, c := range []struct {
		field, text string
		of          []string
	}{{"region", b.Region, regions}, {"mass", b.Mass, massUnits}, {"degrees", b.Degrees, degreesUnits}} {
		if !slices.Contains(c.of, c.text) {
			return nil, nil, refuse("not offered", c.field, "“"+c.text+"” is not one of the answers", "choose "+listed(c.of[1:])+", or leave it empty")
		}
	}
	if b.Money != "" && (len(b.Money) != 3 || strings.Trim(b.Money, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "") {
		return nil, nil, refuse("misread", "money", "“"+a.Money+"” is not the code of a currency", "write its three letters, such as EUR, GBP or USD")
	}
	if strings.TrimSpace(a.ScaleStep) != "" {
		step, e := calc.ReadStep(a.ScaleStep)
		if e != nil {
			return nil, nil, misread(e, "scaleStep")
		}
		b.ScaleStep = int64(step)
	}
	if strings.TrimSpace(a.ScaleHolds) != "" {
		most, e := calc.ReadGrams(a.ScaleHolds)
		if e != nil {
			return nil, nil, misread(e, "scaleHolds")
		}
		if b.ScaleHolds = int64(most); b.ScaleHolds < b.ScaleStep {
			return nil, nil, refuse("upside down", "scaleHolds", "the scale carries less than its own step", "write the most that it carries, such as 500 g or 5 kg")
		}
	}
	if had := s.chosen.get(""); had != nil && same(&had.body, b) {
		return nil, nothing{}, nil // the key was pressed twice
	}
	out, no := several(kindBody{KindWorkshopChosen, b})
	return out, nothing{}, no
}

// mass writes a mass for reading, with ounces beside the grams where she thinks in ounces.
func (s *State) mass(mg, step int64) string { return grams(mg, step) + s.bench().Beside(calc.Mass(mg)) }

// withStep gives a plan that names no step the step of her scale.
func (s *State) withStep(p calc.Plan) calc.Plan {
	if strings.TrimSpace(p.Step) == "" {
		p.Step = plain(s.habits().ScaleStep, 3)
	}
	return p
}

// unitOr is the unit of temperature that was chosen with a figure, else the one that she thinks in.
func (s *State) unitOr(unit string) string {
	if unit == "" {
		return s.habits().Degrees
	}
	return unit
}

// withUnits writes the unit that she thinks in beside temperatures that were typed without one, so that what is kept
// means the same after she changes her mind.
func (s *State) withUnits(d calc.Draft) calc.Draft {
	if s.habits().Degrees == "F" {
		d.Phases = slices.Clone(d.Phases)
		for i := range d.Phases {
			d.Phases[i].Treatment.To = calc.DegreesWithUnit(d.Phases[i].Treatment.To, "F")
		}
	}
	d.Plan = s.withStep(d.Plan)
	return d
}

// bench is what calc needs to know of her habits.
func (s *State) bench() calc.Bench {
	h := s.habits()
	return calc.Bench{Fahrenheit: h.Degrees == "F", Ounces: h.Mass == "oz", ScaleHolds: calc.Mass(h.ScaleHolds)}
}
