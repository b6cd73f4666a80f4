package book

import (
	"encoding/json"
	"slices"
	"strings"

	"stillroom/calc"
)

type classArgs struct {
	Learners string `json:"learners"`
	Mass     string `json:"mass"`
	Spare    string `json:"spare"`
	Step     string `json:"step"`
}

// viewClass is a class of a formula: one page for who teaches, and one page that is printed for each learner.
func (s *State) viewClass(args []byte) (any, *Refusal) {
	var a classArgs
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	w, _, b, no := s.toShare(args)
	if no != nil {
		return nil, no
	}
	wrong := func(e *calc.FieldError, field string) *Refusal { return unseen("misread", field, e.Says, e.Want) }
	learners, e := calc.ReadCount(strings.TrimSpace(a.Learners))
	if e != nil {
		return nil, unseen("misread", "learners", "“"+strings.TrimSpace(a.Learners)+"” is not a number of learners", "write a whole number, such as 9")
	}
	each, e := calc.ReadGrams(a.Mass)
	if e != nil {
		return nil, wrong(e, "mass")
	}
	spare, step := calc.Percent(0), calc.Mass(s.habits().ScaleStep)
	if strings.TrimSpace(a.Spare) != "" {
		if spare, e = calc.ReadPercent(a.Spare); e != nil {
			return nil, wrong(e, "spare")
		}
	}
	if strings.TrimSpace(a.Step) != "" {
		if step, e = calc.ReadStep(a.Step); e != nil {
			return nil, wrong(e, "step")
		}
	}
	k, f := s.known(b.Lines), b.calc()
	c, e := calc.ClassSheetOf(f, k, learners, each, spare, step)
	if e != nil {
		return nil, wrong(e, e.Field)
	}
	v := ClassView{Name: w.name(c.Name), Credit: w.credit(b), Learners: c.Learners, Each: c.Each.On(step) + " g", All: plain(int64(c.All), 3) + " g", Phases: []ClassPhase{}, Shopping: []ClassBuy{}, Wear: []Note{},
		Ask:      "Ask everyone before the tubs are opened: any allergies, any asthma? Learners are under your eye for as long as tubs, hot pots or a mixer are in use.",
		Contains: []string{}, Cautions: []string{}, Findings: []Note{}, Unchecked: []string{}, Foot: NoPromise}
	for _, p := range b.Phases {
		phase := ClassPhase{Letter: p.Letter, Treatment: w.name(p.words(k.Bench)), Lines: []ClassLine{}}
		for _, l := range c.Lines {
			if l.Phase == p.Letter {
				phase.Lines = append(phase.Lines, ClassLine{p.Letter, w.name(l.Name), l.Grams.On(l.Step) + " g", w.note(l.Why, "why "+l.Name+" is here")})
			}
		}
		v.Phases = append(v.Phases, phase)
	}
	for _, x := range c.Shopping {
		v.Shopping = append(v.Shopping, ClassBuy{w.name(x.Name), plain(int64(x.Buy), 3) + " g", x.Sum})
	}
	for _, x := range calc.Margin(c.Wear) {
		if n := w.finding(x); !saidBefore(v.Wear, n) {
			v.Wear = append(v.Wear, n)
		}
	}
	for _, x := range calc.Margin(c.Findings) {
		v.Findings = append(v.Findings, w.finding(x))
	}
	for _, x := range c.Contains {
		v.Contains = append(v.Contains, w.finding(Note{Says: x}).Says)
	}
	for _, x := range c.Unchecked {
		v.Unchecked = append(v.Unchecked, w.finding(Note{Says: x}).Says)
	}
	v.Counts = countsOf(map[calc.Level]int{calc.Stop: len(v.Findings), calc.Wear: len(v.Wear), calc.Unchecked: len(v.Unchecked)})
	card := CardView{}
	w.judged(&card, s, f, k, nil)
	v.Cautions = card.Cautions
	slices.Sort(w.leftOut)
	v.Code = w.code(f, k)
	v.LeftOut = slices.Compact(w.leftOut)
	if v.LeftOut == nil {
		v.LeftOut = []string{}
	}
	return v, nil
}
