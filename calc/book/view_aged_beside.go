package book

import (
	"encoding/json"
	"slices"
	"strconv"

	"stillroom/calc"
)

// AgedBeside is the view agedbeside: two batches of one family, compared only where they are of like age, condition and method.
type AgedBeside struct {
	One   string `json:"one"`
	Other string `json:"other"`
	// Says is what differs between the two formulas.
	Says string       `json:"says"`
	Rows []BesideAged `json:"rows"`
	// Unlike says what has no like on the other side, "" when all has.
	Unlike   string `json:"unlike"`
	Findings []Note `json:"findings"`
}

// BesideAged is one thing of both samples.
type BesideAged struct {
	What   string `json:"what"`
	When   string `json:"when"`
	One    string `json:"one"`
	Other  string `json:"other"`
	Differ Figure `json:"differ"`
}

// mostOthers is how many batches are offered to compare with: the newest ones.
const mostOthers = 8

// agedOthers are the batches of the same family of formulas whose samples were read too, the newest first.
func (s *State) agedOthers(ctx Context, m *making) []BatchRow {
	out, l := []BatchRow{}, s.listing()
	family := s.family(m.b.body.Formula)
	var keys []string
	s.batches.each(func(k string, b *batch) bool {
		if k != m.b.body.Key && slices.Contains(family, b.body.Formula) && b.fill.Seq != 0 && b.state != Discarded {
			keys = append(keys, k)
		}
		return true
	})
	for _, k := range slices.Backward(keys) {
		if len(out) == mostOthers {
			break
		}
		if b := s.batches.get(k); len((&making{b: b}).compareAged(ctx.Zone)) > 0 {
			out = append(out, s.batchRow(ctx, b, l))
		}
	}
	return out
}

// toldAged is one thing that was measured or said of a sample.
type toldAged struct {
	what, condition, method, text string
	day                           int
	value                         int64 // thousandths; measured alone
	measured                      bool
}

// compareAged is all that two samples can be compared by.
func (m *making) compareAged(zone int) []toldAged {
	var out []toldAged
	figures, _ := m.agedOf(zone)
	for _, a := range figures {
		if a.what != "mass" { // two samples weigh what they were filled with
			out = append(out, toldAged{a.what, a.condition, a.method, fixed(a.value, 3, 1), a.day, a.value, true})
		}
	}
	m.b.stands(func(_ *row, body visitable) {
		switch b := body.(type) {
		case *BatchAged:
			for _, w := range b.Words {
				out = append(out, toldAged{what: w.Of, condition: b.Condition, text: w.Word, day: m.age(b.Day)})
			}
		case *BatchLooked:
			for _, w := range []AgedWord{{"firmness", b.Firm}, {"colour", b.Colour}, {"scent", b.Smell}, {"surface", b.Level}, {"fluff", b.Fluff}, {"grit", b.Grit}} {
				if w.Word != "" {
					out = append(out, toldAged{what: w.Of, condition: "room", text: w.Word, day: m.age(b.Day)})
				}
			}
		}
	})
	return out
}

func (s *State) viewAgedBeside(ctx Context, args []byte) (any, *Refusal) {
	var a struct{ Key, Other string }
	if json.Unmarshal(args, &a) != nil {
		return nil, unreadable()
	}
	one, other := s.making(a.Key), s.making(a.Other)
	if one == nil || other == nil || !slices.Contains(s.family(one.b.body.Formula), other.b.body.Formula) {
		return nil, unseen("batch unknown", "other", "this batch is not in this book, or of quite another formula", "choose one of those that the screen offers")
	}
	v := AgedBeside{One: s.besideName(one), Other: s.besideName(other), Rows: []BesideAged{}, Findings: []Note{}}
	v.Says = "Both were made by the same revision: what differs lies in the making."
	if one.b.body.Revision != other.b.body.Revision {
		v.Says = "One of the two formulas is not in this book, so what differs between them is not known."
		if from, to := s.comparedOf(other), s.comparedOf(one); from.b != nil && to.b != nil {
			v.Says = sentence("between their formulas " + s.compare(from, to).Says)
		}
	}
	theirs := other.compareAged(ctx.Zone)
	unlike := 0
	for _, x := range one.compareAged(ctx.Zone) {
		i := slices.IndexFunc(theirs, func(y toldAged) bool {
			return x.what == y.what && x.condition == y.condition && x.method == y.method && calc.SameAge(x.day, y.day)
		})
		if i < 0 {
			unlike++
			continue
		}
		y := theirs[i]
		theirs = slices.Delete(theirs, i, i+1)
		r := BesideAged{What: x.what, One: x.text, Other: y.text, When: "day " + strconv.Itoa(x.day)}
		if y.day != x.day {
			r.When += " and " + strconv.Itoa(y.day)
		}
		r.When += ", " + conditionName(x.condition, one.known.Bench)
		if x.measured {
			r.When += ", " + x.method
			d := signedFixed(x.value-y.value, 1)
			r.Differ = Figure{Text: d, Sum: x.text + " − " + y.text + " = " + d}
		} else if x.text != y.text {
			r.Differ.Text = "differs"
		}
		v.Rows = append(v.Rows, r)
	}
	unlike += len(theirs)
	switch {
	case len(v.Rows) == 0:
		v.Unlike = "Nothing of the two was read at a like age, in one condition and by one method, so nothing is compared. Read both on the same day."
	case unlike > 0:
		v.Unlike = "Left out, since the other was not read alike: " + counted(unlike, "reading", "readings") + "."
	}
	return v, nil
}

func (s *State) besideName(m *making) string {
	if r := s.formulas.get(m.b.body.Formula).find(m.b.body.Revision); r != nil {
		return m.b.body.Code + ", revision " + strconv.Itoa(r.number)
	}
	return m.b.body.Code
}

func (s *State) comparedOf(m *making) compared {
	return compared{m.b.body.Formula, s.formulas.get(m.b.body.Formula).find(m.b.body.Revision), m.rev}
}

// signedFixed writes thousandths with their sign: "+0.1", "−0.12", "0.0".
func signedFixed(v int64, keep int) string {
	switch {
	case v > 0:
		return "+" + fixed(v, 3, keep)
	case v < 0:
		return "−" + fixed(-v, 3, keep)
	}
	return fixed(0, 3, keep)
}
