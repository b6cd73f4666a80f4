package book

import (
	"encoding/json"
	"slices"

	"stillroom/calc"
)

// readWhole reads a draft of which a computation needs all lines, full to 100 %. A name is not among what it needs.
func (s *State) readWhole(d calc.Draft) (calc.Formula, calc.Known, *Refusal) {
	k := s.known(basesOf(d))
	if d.Name == "" {
		d.Name = "a formula without a name yet"
	}
	f, e := calc.ReadDraft(d, k)
	if e != nil {
		return f, k, unseen("formula not whole", e.Field, "this needs the whole formula: "+e.Says, e.Want)
	}
	return f, k, nil
}

// notReckoned turns what calc says of a question into a refusal of a view.
func notReckoned(e *calc.FieldError) *Refusal {
	hint := e.Want
	if hint == "" {
		hint = "change it and try again"
	}
	return unseen("misread", e.Field, e.Says, hint)
}

// viewSwap sets a draft beside itself with one ingredient exchanged, what matters held equal.
func (s *State) viewSwap(args []byte) (any, *Refusal) {
	var a struct {
		Draft          calc.Draft
		Line, By, Hold string
	}
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	f, k, no := s.readWhole(a.Draft)
	if no != nil {
		return nil, no
	}
	holds := calc.Holds(f, k, a.Line, a.By)
	if a.Hold == "" && len(holds) > 0 {
		a.Hold = holds[0]
	}
	x, e := calc.Swap(f, k, a.Line, a.By, a.Hold)
	if e != nil {
		return nil, notReckoned(e)
	}
	v := SwapView{From: s.lineOf(x.Before, a.Line), To: s.lineOf(x.After, a.Line), Hold: x.Hold, Holds: []Choice{},
		Lines: calc.LinesBeside(x.Before, x.After, k), Figures: calc.FiguresBeside(x.Before, x.After, k), Take: taken(a.Draft, x.Before, x.After)}
	for _, h := range holds {
		v.Holds = append(v.Holds, Choice{h, holdWord(h)})
	}
	v.Held = Figure{Text: x.HeldBefore.StringFixed(2) + " %", Sum: "before: " + percentOf(x.Before, a.Line) + " of " + v.From + " brings " + x.HeldBefore.String() + " %; after: " +
		percentOf(x.After, a.Line) + " of " + v.To + " brings " + x.HeldAfter.String() + " %"}
	if x.WaterLine != "" {
		v.Water = s.lineOf(x.After, x.WaterLine) + " takes the difference: " + percentOf(x.Before, x.WaterLine) + " becomes " + percentOf(x.After, x.WaterLine)
	}
	v.Come, v.Gone = besides(x.Before, x.After, k)
	v.Notes = calc.Margin(slices.DeleteFunc(x.Findings, func(n calc.Finding) bool { return n.Rule != "swap" || n.Figure != "" }))
	return v, nil
}

func holdWord(hold string) string {
	switch hold {
	case "mass", "active matter", "oil":
		return hold
	}
	return "what is " + hold
}

// besides are the findings that come and go between two formulas.
func besides(before, after calc.Formula, k calc.Known) (come, gone []Note) {
	c, g := calc.FindingsBeside(calc.Findings(before, k, 0), calc.Findings(after, k, 0))
	return calc.Margin(c), calc.Margin(g)
}

// taken are a draft's lines with what changed put in; what did not change stays as it was typed.
func taken(d calc.Draft, before, after calc.Formula) []calc.DraftLine {
	out := append([]calc.DraftLine{}, d.Lines...)
	for i := range out {
		b, a := before.Lines[i], after.Lines[i]
		if a.Ingredient != b.Ingredient {
			out[i].Ingredient, out[i].Compatible = a.Ingredient, false
		}
		if a.Percent != b.Percent && !a.QS {
			out[i].Percent = plain(int64(a.Percent), 4)
		}
	}
	return out
}

func (s *State) lineOf(f calc.Formula, id string) string {
	for _, l := range f.Lines {
		if l.ID == id {
			return s.lineName(l.Ingredient, l.Base)
		}
	}
	return ""
}

func percentOf(f calc.Formula, id string) string {
	for _, l := range f.Lines {
		if l.ID == id {
			return l.Percent.String() + " %"
		}
	}
	return ""
}
