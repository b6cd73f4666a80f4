package book

import (
	"slices"
	"strings"

	"stillroom/calc"
)

type correctArgs struct {
	Entry  string `json:"entry"`
	Value  string `json:"value"`
	Unit   string `json:"unit"`
	Lot    string `json:"lot"`
	Reason string `json:"reason"`
	// Stream "shelf" says that the entry is a sale, a movement or a count: numbers of entries repeat between streams.
	Stream string    `json:"stream"`
	Place  string    `json:"place"` // where moved jars did go
	Price  string    `json:"price"` // of one piece of a sale
	Look   *lookArgs `json:"look"`
	Aged   *agedArgs `json:"aged"`
	// How a pH was read; "" leaves it as it was, dilution "neat" says that it was not diluted after all.
	Method   string `json:"method"`
	Dilution string `json:"dilution"`
}

// correct writes a row that takes the place of another. What was said stays in the record, struck, with the reason.
func (s *State) correct(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[correctArgs](args)
	if no != nil {
		return nil, nil, no
	}
	if a.Stream == Shelf {
		return s.correctShelfRow(ctx, a)
	}
	ref, err := ParseRef(a.Entry)
	at := s.rowIn(ref)
	if err != nil || ref.Seq == 0 || at == nil {
		return nil, nil, refuse("row unknown", "entry", "the row to correct is not in this book", "open the batch again and choose the row there")
	}
	m := s.making(at.s)
	r := &m.b.rows[slices.IndexFunc(m.b.rows, func(x row) bool { return x.from.ref == ref })]
	switch {
	case r.struck:
		return nil, nil, refuse("corrected already", "entry", "this row was already corrected: "+r.reason, "correct the row that took its place")
	case r.clash != "":
		return nil, nil, refuse("clash", "entry", "this row does not count, since "+r.clash, "leave it as it is, or write a note")
	case strings.TrimSpace(a.Reason) == "":
		return nil, nil, refuse("reason missing", "reason", "a correction needs a reason, and none was given", "write in a few words what went wrong")
	}
	body, no := s.correctedBody(ctx, m, r, a)
	if no != nil {
		return nil, nil, no
	}
	bytes, v, err := encodeV(body)
	if err != nil {
		return nil, nil, refuse("too long", "value", "what was typed is longer than its place in the book", "shorten it")
	}
	if string(bytes) == string(r.body) {
		return nil, nil, refuse("same", "value", "the correction says the same as the row", "type what it should say")
	}
	out, value, no := s.one(ctx, KindCorrected, &Corrected{Of: ref, Reason: strings.TrimSpace(a.Reason), Kind: int64(r.kind), V: int64(v), Body: bytes})
	if no != nil {
		return nil, nil, no
	}
	again, no := s.shelfAgain(ctx, m, out[0])
	return append(out, again...), value, no
}

// correctedBody is the body of a row with what was typed in its place; what was left empty stays.
func (s *State) correctedBody(ctx Context, m *making, r *row, a correctArgs) (visitable, *Refusal) {
	body, err := open(r.kind, r.v, r.body)
	if err != nil {
		return nil, refuse("unreadable", "entry", "this row cannot be read by this program", "update the app")
	}
	typed := strings.TrimSpace(a.Value)
	switch b := body.(type) {
	case *BatchWeighed:
		return s.correctedWeighing(m, b, a)
	case *BatchRead:
		if b.What == "ph" {
			return correctedPH(b, a)
		}
		if typed == "" {
			return nil, refuse("value missing", "value", "nothing was typed in its place", "type the value as it was measured")
		}
		b.Text = typed
		if b.What == "net" {
			mass, no := readWeighing(typed, 0, "value")
			if no != nil {
				return nil, no
			}
			b.Value, b.Full, b.Empty = mass, 0, 0
			return b, nil
		}
		if b.What == "density" {
			v, e := calc.ReadDensity(typed)
			if e != nil {
				return nil, misread(e, "value")
			}
			b.Value, b.Full, b.Empty, b.Volume, b.Method = v, 0, 0, 0, ""
			return b, nil
		}
		unit := a.Unit
		if unit == "" {
			unit = b.Unit
		}
		d, e := calc.ReadDegrees(typed, unit)
		if e != nil {
			return nil, misread(e, "value")
		}
		b.Value, b.Unit, b.Text = d.MilliC, d.Unit, d.Text
		return b, nil
	case *BatchNoted:
		if b.Way == wayTrial {
			return nil, refuse("not corrected", "entry", "a trial stands as it was measured", "do a new trial on a weighed sample: the last one counts")
		}
		if typed == "" {
			return nil, refuse("value missing", "value", "nothing was typed in its place", "write what the note should say")
		}
		b.Text = typed
		return b, nil
	case *BatchTreated:
		b.Says = typed
		return b, nil
	case *BatchFilled:
		return s.correctedFilling(ctx, m, b, typed)
	case *BatchLooked:
		return correctedLook(b, a.Look)
	case *BatchAged:
		return s.correctedAged(ctx, m, b, a.Aged)
	}
	return nil, refuse("not corrected", "entry", "a row of this kind is not corrected", "write a note that says what was meant")
}

// correctedPH puts right the value of a pH, how it was read, or both: a paste that was read neat and a tenth of it in water
// are different numbers, and a slip in that is as wrong as one in the digits.
func correctedPH(b *BatchRead, a correctArgs) (visitable, *Refusal) {
	typed, method, dilution := strings.TrimSpace(a.Value), strings.TrimSpace(a.Method), strings.TrimSpace(a.Dilution)
	if typed+method+dilution == "" {
		return nil, refuse("value missing", "value", "nothing was typed in its place", "type the pH as it was measured, or choose how it was read")
	}
	if typed != "" {
		v, e := calc.ReadPH(typed)
		if e != nil {
			return nil, misread(e, "value")
		}
		b.Value, b.Text = int64(v)*10, typed
	}
	if method != "" && method != b.Method {
		// The smallest step and the calibration were those of the other one.
		b.Method, b.Step, b.Calibrated = method, 0, 0
	}
	switch dilution {
	case "":
	case "neat":
		b.Dilution = 0
	default:
		p, e := calc.ReadPercent(dilution)
		if e != nil {
			return nil, misread(e, "dilution")
		}
		b.Dilution = int64(p)
	}
	return b, nil
}

func (s *State) correctedWeighing(m *making, b *BatchWeighed, a correctArgs) (visitable, *Refusal) {
	if typed := strings.TrimSpace(a.Value); typed != "" {
		target, _ := m.target(b.Line)
		text := typed
		if last := typed[len(typed)-1]; a.Unit != "" && last >= '0' && last <= '9' {
			text += " " + a.Unit
		}
		mg, no := readWeighing(text, target, "value")
		if no != nil {
			return nil, no
		}
		if b.Mass < 0 { // what was taken out stays taken out
			mg = -mg
		}
		if mg != b.Mass { // the same mass in other digits is no correction
			b.Mass, b.Text, b.AsPlanned, b.Solution = mg, typed, false, 0
		}
	}
	if a.Lot != "" && a.Lot != b.Lot {
		line := m.line(b.Line)
		if line == nil {
			line = &Line{Ingredient: b.Ingredient}
		}
		if no := s.lotFits(a.Lot, line, s.lineName(line.Ingredient, line.Base)); no != nil {
			if no.Code != "lot held" { // a held lot that did go in must be said: that is what the trace is for
				return nil, no
			}
		}
		b.Lot = a.Lot
	}
	return b, nil
}
