package book

import (
	"encoding/json"
	"slices"

	"stillroom/calc"
)

// onTheRuler is how many batches show their pH on the ruler of their formula.
const onTheRuler = 3

// viewRuler draws up the pH ruler of a draft, with the last readings of the batches made of its formula; or that of a
// batch, by what went in once all of it did, with its own readings.
func (s *State) viewRuler(args []byte) (any, *Refusal) {
	var a struct {
		Draft calc.Draft
		Batch string
	}
	if json.Unmarshal(args, &a) != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app; what was typed is kept on this phone")
	}
	var f calc.Formula
	var k calc.Known
	var readings []calc.PHReading
	if a.Batch == "" {
		k = s.known(basesOf(a.Draft))
		f, readings = calc.FormulaOf(a.Draft, k), s.readingsOf(a.Draft.Key)
	} else {
		m := s.making(a.Batch)
		if m == nil {
			return nil, unseenBatch("batch")
		}
		f, k, readings = m.f, m.known, m.readings()
		if made, total := m.wentIn(); total > 0 && len(s.unweighed(m)) == 0 {
			f = made
		}
	}
	r := calc.PHRulerOf(f, k, 0, readings)
	v := RulerView{Bars: r.Bars, Phases: []string{}, Overlap: r.Overlap, Notches: r.Notches, Ticks: r.Ticks, Stops: r.Stops, Notes: calc.Margin(r.Findings)}
	for _, b := range r.Bars {
		at := slices.IndexFunc(f.Lines, func(l calc.Line) bool { return l.ID == b.Line })
		if at < 0 {
			v.Phases = append(v.Phases, "")
		} else {
			v.Phases = append(v.Phases, f.Lines[at].Phase)
		}
	}
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

// readings are the last pH values of one batch, the newest last.
func (m *making) readings() []calc.PHReading {
	var out []calc.PHReading
	m.b.stands(func(_ *row, body visitable) {
		if r, ok := body.(*BatchRead); ok && r.What == "ph" {
			out = append(out, calc.PHReading{PH: int(r.Value / 10), Method: phMethod(r)})
		}
	})
	return out[max(0, len(out)-onTheRuler):]
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
