package book

import (
	"strings"

	"stillroom/calc"
)

type rescueArgs struct {
	Batch   string `json:"batch"`
	Stirred string `json:"stirred"` // yes, no, or "" for what the record says
	Way     string `json:"way"`
	Room    string `json:"room"` // mL that the vessel may be filled with, "" when not said
}

// RescueView is the view rescue: what is too much, and the ways out in the order in which they should be thought of.
type RescueView struct {
	Says     string      `json:"says"`
	Room     string      `json:"room"` // what the vessel holds, in words
	Do       string      `json:"do"`
	Stirred  bool        `json:"stirred"`
	Findings []Note      `json:"findings"`
	Ways     []RescueWay `json:"ways"`
}

// RescueWay is one way out.
type RescueWay struct {
	Way      string       `json:"way"`
	Name     string       `json:"name"`
	Open     bool         `json:"open"`
	Says     string       `json:"says"`
	Why      string       `json:"why"`
	Lines    []RescueLine `json:"lines"`
	Findings []Note       `json:"findings"`
}

// RescueLine is what a way out does with one line.
type RescueLine struct {
	Line    string `json:"line"`
	Name    string `json:"name"`
	In      string `json:"in"`
	Add     string `json:"add"`
	Percent Figure `json:"percent"`
}

var wayNames = map[string]string{wayTakeBack: "Take it back out", wayAccept: "Accept it", wayScaleUp: "Scale all up", wayDiscard: "Discard the batch"}

var wayTitles = map[string]string{wayAccept: "Too much went in, accepted", wayScaleUp: "Too much went in, all scaled up", wayWords: "Printed all the same"}

func (s *State) viewRescue(args []byte) (any, *Refusal) {
	a, no := arguments[rescueArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	m := s.making(a.Batch)
	if m == nil {
		return nil, unseenBatch("batch")
	}
	v := RescueView{Findings: []Note{}, Ways: []RescueWay{}}
	room, says := s.room(m, a.Room)
	got, stirred := s.rescued(m, a.Stirred, room)
	if got == nil {
		return v, nil
	}
	v.Room = says
	v.Stirred, v.Findings = stirred, calc.Margin(got.Findings)
	v.Says, v.Do = overSays(got), got.Findings[0].Do
	step := m.b.body.Plan.Step
	for _, w := range got.Ways {
		x := RescueWay{Way: w.Way, Name: wayNames[w.Way], Open: w.Open, Says: w.Says, Why: w.Why, Lines: []RescueLine{}, Findings: []Note{}}
		if len(w.Findings) > 0 {
			x.Findings = calc.Margin(w.Findings)
		}
		var whole int64
		for _, l := range w.Lines {
			whole += int64(l.InPot + l.Add)
		}
		for _, l := range w.Lines {
			r := RescueLine{Line: l.ID, Name: l.Name, In: grams(int64(l.InPot), step), Add: outOrIn(int64(l.Add), step)}
			if l.True > 0 {
				r.Percent = Figure{Text: hundredths(int64(l.True)), Sum: onGrid(int64(l.InPot+l.Add), step) + " ÷ " + onGrid(whole, step) + " × 100 = " + hundredths(int64(l.True)) + "; the formula says " + l.Planned.String() + " %"}
			}
			x.Lines = append(x.Lines, r)
		}
		v.Ways = append(v.Ways, x)
	}
	return v, nil
}

// outOrIn writes what goes in or comes out, "" for neither.
func outOrIn(mg, step int64) string {
	switch {
	case mg < 0:
		return "−" + grams(-mg, step)
	case mg > 0:
		return "+" + grams(mg, step)
	}
	return ""
}

func overSays(r *calc.Rescued) string {
	var says []string
	for _, f := range r.Findings {
		if f.Rule == "rescue" {
			says = append(says, f.Says)
		}
	}
	return strings.Join(says, "; ")
}

// rescue takes a way out. Accepting and scaling up are a note with its figures, discarding is a state; what is taken
// back out is weighed as any other thing that comes out.
func (s *State) rescue(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[rescueArgs](args)
	if no != nil {
		return nil, nil, no
	}
	m, no := s.atBench(a.Batch)
	if no != nil {
		return nil, nil, no
	}
	room, _ := s.room(m, a.Room)
	got, _ := s.rescued(m, a.Stirred, room)
	if got == nil {
		return nil, nil, refuse("nothing over", "batch", "nothing in batch "+m.b.body.Code+" is over its plan, or it was accepted already", "go on at the bench")
	}
	for _, w := range got.Ways {
		switch {
		case w.Way != a.Way:
		case !w.Open:
			return nil, nil, refuse("way closed", "way", strings.ToLower(wayNames[w.Way])+" is closed: "+w.Why, "take another way out")
		case w.Way == wayTakeBack:
			return nil, nil, refuse("weigh it", "way", "what comes out was not weighed", "weigh the cup with what came out, and write that")
		case w.Way == wayDiscard:
			return s.setState(&BatchState{Batch: a.Batch, State: Discarded, Reason: overSays(got), By: ctx.Who})
		default:
			b := &BatchNoted{Batch: a.Batch, Text: join(overSays(got), w.Says), Way: w.Way}
			for _, l := range w.Lines {
				b.Targets = append(b.Targets, Target{l.ID, int64(l.InPot + l.Add)})
			}
			if w.Way == wayAccept {
				b.Targets = nil
				for _, l := range got.Over {
					b.Targets = append(b.Targets, Target{l.ID, int64(l.InPot)})
				}
			}
			return s.one(ctx, KindBatchNoted, b)
		}
	}
	return nil, nil, refuse("way unknown", "way", "“"+a.Way+"” is no way out that is offered", "choose one of those on the screen")
}
