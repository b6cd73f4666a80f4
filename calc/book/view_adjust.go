package book

import (
	"maps"
	"slices"
	"strings"

	"stillroom/calc"
)

// Adjust is the view adjust: how far a pH is from where it should be, the trial on a sample, and what goes in next.
type Adjust struct {
	// Stage is what (nothing is chosen yet), trial (being typed), add, measure or done.
	Stage  string   `json:"stage"`
	Says   string   `json:"says"`
	Name   string   `json:"name"` // of what brings it there: "citric acid, 20 % in water"
	Wanted string   `json:"wanted"`
	Offers []Choice `json:"offers"`
	// Strength, Pot, Low and High stand where nothing was typed; PotSum says how the pot came about.
	Strength string `json:"strength"`
	Pot      string `json:"pot"`
	PotSum   string `json:"potSum"`
	Low      string `json:"low"`
	High     string `json:"high"`
	// Begun is true when sample and solution are told, Ready when the trial can be kept.
	Begun    bool        `json:"begun"`
	Ready    bool        `json:"ready"`
	Points   []string    `json:"points"`
	Add      string      `json:"add"` // grams of the solution that go in next
	Lots     []LotChoice `json:"lots"`
	Findings []Note      `json:"findings"`
}

func (s *State) viewAdjust(ctx Context, args []byte) (any, *Refusal) {
	a, no := arguments[adjustArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	m := s.making(a.Batch)
	if m == nil {
		return nil, unseenBatch("batch")
	}
	v := Adjust{Offers: []Choice{}, Points: []string{}, Lots: []LotChoice{}, Findings: []Note{}}
	if now := m.trying(); now.of != nil && !a.Fresh {
		s.goOn(&v, m, now, a)
		b := &bench{making: m, s: s, ctx: ctx}
		v.Lots = b.lots(calc.Line{Ingredient: now.of.Ingredient}, 0)
		return v, nil
	}
	low, high, ok := m.wantedPH()
	if ok {
		v.Low, v.High = milliPH(int64(low)*10), milliPH(int64(high)*10)
		v.Wanted = v.Low + " to " + v.High
	}
	with := s.ingredient(a.Ingredient)
	if with == nil {
		v.Stage, v.Offers = "what", s.movers(ctx, m, low, high, ok)
		v.Says = m.phSays()
		v.Findings = calc.Margin(calc.AdjustCare(nil))
		return v, nil
	}
	v.Stage, v.Name = "trial", with.Name
	v.Findings = calc.Margin(calc.AdjustCare(with))
	if slices.ContainsFunc(with.Composition, func(c calc.Share) bool { return c.INCI == "Aqua" }) {
		v.Strength = "100" // it comes dissolved
	}
	all, samples := m.inPot()
	if sample, e := calc.ReadGrams(a.Sample); e == nil {
		samples += int64(sample)
	}
	step := m.b.body.Plan.Step
	if all > samples {
		v.Pot, v.PotSum = plain(all-samples, 3), grams(all, step)+" weighed in, less "+grams(samples, step)+" of samples"
	}
	if a.Strength == "" {
		a.Strength = v.Strength
	}
	if a.Pot == "" {
		a.Pot = v.Pot
	}
	if a.Low == "" {
		a.Low = v.Low
	}
	if a.High == "" {
		a.High = v.High
	}
	n, no := s.trial(m, a)
	if no != nil {
		// Half typed is no mistake; what was typed and cannot be read is said at once.
		if typed := map[string]string{"strength": a.Strength, "sample": a.Sample, "pot": a.Pot, "low": a.Low, "high": a.High, "added": "x", "ph": "x"}[no.Field]; typed != "" {
			v.Says = told(no)
		}
		return v, nil
	}
	v.Begun, v.Name, v.Points = true, s.solution(n), pointWords(n.Points)
	if len(n.Points) == 0 {
		v.Says = "First the pH of the sample with nothing in it."
		return v, nil
	}
	if len(n.Points) == 1 {
		v.Says = "Weigh a little of it into the sample, stir, wait until the reading stands, and write both down."
		return v, nil
	}
	got, e := s.adjusted(m, n, nil)
	if e != nil {
		v.Says = sentence(e.Says) + " " + sentence(e.Want)
		return v, nil
	}
	v.Ready, v.Says = true, got.Says
	return v, nil
}

// told is what a refusal says, without the words on what was kept: nothing was to be kept yet.
func told(no *Refusal) string {
	return no.Says[:len(no.Says)-len(kept)] + " " + no.Hint
}

// goOn says what comes next of a trial that stands in the record.
func (s *State) goOn(v *Adjust, m *making, now trying, a adjustArgs) {
	step := m.b.body.Plan.Step
	v.Name, v.Points, v.Wanted = s.solution(now.of), pointWords(now.of.Points), milliPH(now.of.Low)+" to "+milliPH(now.of.High)
	var then *calc.TrialPoint
	if now.ph > 0 {
		then = &calc.TrialPoint{Added: calc.Mass(now.went), PH: int(now.ph / 10)}
	}
	got, e := s.adjusted(m, now.of, then)
	if e != nil {
		v.Stage, v.Says = "done", sentence(e.Says)+" "+sentence(e.Want)
		return
	}
	v.Says = got.Says
	next := got.First
	switch {
	case then != nil:
		next = got.Rest
	case now.went > 0:
		v.Stage = "measure"
		v.Says = grams(now.went, step) + " of it went in. Stir well, measure as in the trial, and write the pH down: then the rest is worked out."
		return
	}
	v.Stage = "done"
	if next > 0 {
		v.Stage, v.Add = "add", onGrid(int64(next), step)
	}
	if next > 0 && then == nil {
		v.Says = "About " + grams(int64(got.All), step) + " in all bring it to pH " + milliPH(int64(got.Aim)*10) + ". Add 80 % of that first, stir, measure, then the rest."
	}
	care := calc.AdjustCare(s.ingredient(now.of.Ingredient))[:1]
	care[0].Do = "goggles and gloves on; no children and no pets near" // it is in its water by now
	if mass, e := calc.ReadGrams(a.Grams); e == nil && v.Add != "" && mass > next {
		care = append([]calc.Finding{{Rule: "adjust-ph", Level: calc.Care, Says: a.Grams + " g is more than the trial says for now", Figure: a.Grams + " g", Limit: v.Add + " g", Source: "this book's own rule",
			Do: "what is too much cannot be taken out again: add less, measure, then the rest"}}, care...)
	}
	v.Findings = calc.Margin(append(care, got.Findings...))
	if reads, strip := m.readsPH(); strip && reads == 0 {
		v.Findings = append(v.Findings, calc.Margin([]calc.Finding{{Rule: "adjust-strip", Level: calc.Unchecked, Says: "not checked: how exactly the strip reads; its step is missing", Source: "this book's own rule", Do: "say the step beside the next reading"}})...)
	}
}

// movers are what may bring the pH to where it is wanted: what the shelf has first.
func (s *State) movers(ctx Context, m *making, low, high int, known bool) []Choice {
	way, last := "", m.lastPH()
	switch {
	case !known || last == 0:
	case last > int64(high)*10:
		way = "down"
	case last < int64(low)*10:
		way = "up"
	}
	have := s.usable(dayOf(ctx.Now, ctx.Zone))
	here, away := []Choice{}, []Choice{}
	matter := s.matter().Ingredients
	for _, key := range slices.SortedFunc(maps.Keys(matter), func(a, b string) int { return strings.Compare(matter[a].Name, matter[b].Name) }) {
		i := matter[key]
		if brings := calc.Brings(i); brings == "" || way != "" && brings != way {
			continue
		}
		if have[i.Key] > 0 {
			here = append(here, Choice{i.Key, i.Name})
		} else {
			away = append(away, Choice{i.Key, i.Name})
		}
	}
	all := append(here, away...)
	return all[:min(len(all), 6)]
}

// lastPH is the last pH that was read of a batch, in thousandths, 0 for none.
func (m *making) lastPH() int64 {
	var last int64
	m.b.stands(func(_ *row, body visitable) {
		if r, ok := body.(*BatchRead); ok && r.What == "ph" {
			last = r.Value
		}
	})
	return last
}

// phSays tells that the last pH stands outside the window that is known of the formula, or what a trial in the record asks
// for next; "" when there is nothing to do about it.
func (m *making) phSays() string {
	last := m.lastPH()
	low, high, ok := m.wantedPH()
	if last == 0 || !ok || int64(low)*10 <= last && last <= int64(high)*10 {
		return ""
	}
	return "pH " + milliPH(last) + " stands outside " + milliPH(int64(low)*10) + " to " + milliPH(int64(high)*10)
}
