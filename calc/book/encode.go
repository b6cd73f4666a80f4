package book

import (
	"encoding/binary"
	"unicode/utf8"
)

// encoder writes a body: fields in order, whole numbers as zigzag varints, texts and items behind their length.
// Zero fields at the end of a body or an item are left out, which is what lets later versions append fields.
type encoder struct {
	out  []byte
	keep int // length up to and with the last field that is not zero
	open []frame
	now  uint32 // version that the field being written came with
	v    uint32 // the lowest version that has all fields that are not zero
	err  error
}

// frame remembers where an item began, and of which version its list is, while it is being written.
type frame struct {
	start, keep int
	now         uint32
}

func encode(b visitable) ([]byte, error) {
	body, _, err := encodeV(b)
	return body, err
}

// encodeV writes a body and says the lowest version of its kind that has all it says: written as that one, it is read by
// every program that could have said the same.
func encodeV(b visitable) ([]byte, uint32, error) {
	e := encoder{out: make([]byte, 0, 48), now: 1, v: 1}
	b.visit(&e)
	if e.err != nil {
		return nil, 0, e.err
	}
	return e.out[:e.keep:e.keep], e.v, nil
}

func (e *encoder) wrote(zero bool) {
	if !zero {
		e.keep, e.v = len(e.out), max(e.v, e.now)
	}
}

func (e *encoder) since(v uint32) { e.now = max(e.now, v) }

func (e *encoder) text(_ string, p *string, max int) {
	if len(*p) > max {
		e.err = errBounds
	} else if !utf8.ValidString(*p) {
		e.err = errText
	}
	e.out = binary.AppendUvarint(e.out, uint64(len(*p)))
	e.out = append(e.out, *p...)
	e.wrote(*p == "")
}

func (e *encoder) whole(_ string, p *int64, lo, hi int64) {
	if *p < lo || *p > hi {
		e.err = errBounds
	}
	e.out = binary.AppendVarint(e.out, *p)
	e.wrote(*p == 0)
}

func (e *encoder) flag(_ string, p *bool) {
	b := byte(0)
	if *p {
		b = 1
	}
	e.out = append(e.out, b)
	e.wrote(!*p)
}

func (e *encoder) ref(_ string, p *Ref) {
	e.out = binary.AppendUvarint(e.out, p.Seq)
	if p.Seq != 0 {
		if p.Seq > maxWhole {
			e.err = errBounds
		}
		e.out = append(e.out, p.Device[:]...)
	} else if p.Device != (Ref{}).Device {
		e.err = errBounds
	}
	e.wrote(p.Seq == 0)
}

func (e *encoder) list(_ string, n, max int) int {
	if n > max {
		e.err = errBounds
	}
	e.out = binary.AppendUvarint(e.out, uint64(n))
	e.wrote(n == 0)
	return n
}

func (e *encoder) item(int) {
	e.open = append(e.open, frame{len(e.out), e.keep, e.now})
	e.keep = len(e.out)
}

func (e *encoder) itemEnd() {
	f := e.open[len(e.open)-1]
	e.open, e.now = e.open[:len(e.open)-1], f.now
	// The length stands before the item and is known only now; items are short, so moving them costs little.
	n := e.keep - f.start
	var head [binary.MaxVarintLen64]byte
	h := binary.PutUvarint(head[:], uint64(n))
	e.out = append(e.out[:e.keep], head[:h]...)
	copy(e.out[f.start+h:], e.out[f.start:f.start+n])
	copy(e.out[f.start:], head[:h])
	e.keep = len(e.out)
}

func (e *encoder) listEnd() {}

func (e *encoder) nested(_ string, _, _ int64, p *[]byte) {
	if len(*p) > maxBody {
		e.err = errBounds
	}
	e.out = binary.AppendUvarint(e.out, uint64(len(*p)))
	e.out = append(e.out, *p...)
	e.wrote(len(*p) == 0)
}
