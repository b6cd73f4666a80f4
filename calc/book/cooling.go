package book

import (
	"slices"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

// coolingChanged marks a treated row that only says that a pot cools otherwise from here on (E15).
const coolingChanged = "cooling changed"

var coolingChanges = []string{"stirred", "bath", "other bowl", "lid"}

type coolingArgs struct {
	Batch   string `json:"batch"`
	Phase   string `json:"phase"`
	Room    string `json:"room"`
	Unit    string `json:"unit"`
	Changed string `json:"changed"`
}

// Cooling is the view cooling: when a pot will be cool enough, as far as anything honest can be said.
type Cooling struct {
	Says     string   `json:"says"`
	Changes  []string `json:"changes"`
	Findings []Note   `json:"findings"`
}

// asked is the phase that a batch cools to, with its limit.
func (s *State) coolingOf(a coolingArgs) (*making, *calc.Phase, *Refusal) {
	m := s.making(a.Batch)
	if m == nil {
		return nil, nil, unseenBatch("batch")
	}
	for i := range m.f.Phases {
		if p := &m.f.Phases[i]; p.Letter == a.Phase && p.Treatment.Do == "cool" && p.Treatment.Degrees != nil {
			return m, p, nil
		}
	}
	return nil, nil, unseen("no limit", "phase", "phase "+a.Phase+" has no temperature to cool to", "go back to the bench and choose a step there")
}

func (s *State) viewCooling(args []byte) (any, *Refusal) {
	a, no := arguments[coolingArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	m, p, no := s.coolingOf(a)
	if no != nil {
		return nil, no
	}
	v := Cooling{Changes: coolingChanges, Findings: []Note{}}
	ask := calc.CoolAsk{Limit: *p.Treatment.Degrees, Readings: m.coolReadings(p.Letter)}
	if a.Room != "" {
		if room, e := calc.ReadDegrees(a.Room, s.unitOr(a.Unit)); e == nil {
			ask.Room = &room
		}
	}
	w, _ := m.b.weighed()
	for _, l := range m.f.Lines {
		if i := s.ingredient(l.Ingredient); i != nil && i.Melts != nil && w[l.ID] != nil && w[l.ID].mass > 0 {
			ask.Fats = append(ask.Fats, calc.SettingFat{Name: i.Name, LowMilliC: i.Melts.LowMilliC, HighMilliC: i.Melts.HighMilliC})
		}
	}
	got, e := calc.Cool(ask)
	if e != nil {
		return nil, unseen("not worked out", "", e.Says, e.Want)
	}
	v.Says = got.Says
	if got.Known && len(got.Findings) > 0 {
		v.Findings = calc.Margin(got.Findings)
	}
	return v, nil
}

// coolReadings are the temperatures read at a cooling step, in minutes since the first. A device's clock is data: a
// reading that is not later than the one before it is left out.
func (m *making) coolReadings(phase string) []calc.CoolReading {
	var out []calc.CoolReading
	var first, last int64
	changed := ""
	m.b.stands(func(r *row, body visitable) {
		switch x := body.(type) {
		case *BatchTreated:
			if x.Do == coolingChanged && x.Phase == phase {
				changed = x.Says
			}
		case *BatchRead:
			if x.What != "temperature" || x.Phase != phase || len(out) > 0 && r.from.at <= last {
				return
			}
			if len(out) == 0 {
				first = r.from.at
			}
			last = r.from.at
			out = append(out, calc.CoolReading{Minutes: decimal.New(last-first, 0).DivRound(decimal.New(60000, 0), 3), MilliC: x.Value, Changed: changed})
			changed = ""
		}
	})
	return out
}

func (s *State) markCooling(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[coolingArgs](args)
	if no != nil {
		return nil, nil, no
	}
	if _, no := s.atBench(a.Batch); no != nil {
		return nil, nil, no
	}
	if _, _, no := s.coolingOf(a); no != nil {
		return nil, nil, no
	}
	if !slices.Contains(coolingChanges, a.Changed) {
		return nil, nil, refuse("not offered", "changed", "“"+a.Changed+"” is not one of the changes", "choose "+listed(coolingChanges))
	}
	return s.one(ctx, KindBatchTreated, &BatchTreated{a.Batch, a.Phase, coolingChanged, a.Changed})
}
