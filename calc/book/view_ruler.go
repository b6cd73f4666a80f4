package book

import (
	"encoding/json"

	"stillroom/calc"
)

// onTheRuler is how many batches show their pH on the ruler of their formula.
const onTheRuler = 3

// viewRuler draws up the pH ruler of a draft, with the last readings of the batches made of its formula.
func (s *State) viewRuler(args []byte) (any, *Refusal) {
	var a struct{ Draft calc.Draft }
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	k := s.known(basesOf(a.Draft))
	r := calc.PHRulerOf(calc.FormulaOf(a.Draft, k), k, 0, s.readingsOf(a.Draft.Key))
	v := RulerView{Bars: r.Bars, Overlap: r.Overlap, Notches: r.Notches, Ticks: r.Ticks, Stops: r.Stops, Notes: calc.Margin(r.Findings)}
	if len(r.Missing) > 0 {
		v.Missing = "Not on the ruler, since nobody said at which pH it keeps: " + listed(r.Missing)
	}
	for i, p := range r.Stops {
		if p.At <= r.Cursor.At {
			v.Start = i
		}
	}
	return v, nil
}

// readingsOf are the latest pH of each of a formula's last batches, the newest last.
func (s *State) readingsOf(formula string) []calc.PHReading {
	var out []calc.PHReading
	s.batches.each(func(_ string, b *batch) bool {
		if formula == "" || b.body.Formula != formula {
			return true
		}
		last := calc.PHReading{}
		b.stands(func(_ *row, body visitable) {
			if r, ok := body.(*BatchRead); ok && r.What == "ph" {
				last = calc.PHReading{PH: int(r.Value / 10), Method: join(b.body.Code, phMethod(r))}
			}
		})
		if last.PH > 0 {
			out = append(out, last)
		}
		return true
	})
	return out[max(0, len(out)-onTheRuler):]
}
