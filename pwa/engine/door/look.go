package door

import (
	"encoding/hex"
	"encoding/json"
	"errors"

	"stillroom/calc"
	"stillroom/calc/book"
)

func (d *Door) view(r request) (any, []byte, *book.Refusal) {
	var q named
	if no := readHead(r, &q); no != nil {
		return nil, nil, no
	}
	v, no := d.shown().View(d.context(r), q.Name, q.Args)
	return v, nil, no
}

// calc needs no book: the calculator answers before anything is opened.
func (d *Door) calc(r request) (any, []byte, *book.Refusal) {
	var q named
	if no := readHead(r, &q); no != nil {
		return nil, nil, no
	}
	out, err := calc.Do(q.Name, r.raw)
	if err != nil {
		no := &book.Refusal{Code: "calc", Says: err.Error()}
		if field, ok := errors.AsType[*calc.FieldError](err); ok {
			no = &book.Refusal{Code: "field", Says: field.Says, Hint: field.Want, Field: field.Field}
		}
		return nil, nil, no
	}
	return json.RawMessage(out), nil, nil
}

// stateHead is what two devices compare: equal digests are equal books.
type stateHead struct {
	Digest  string            `json:"digest"`
	Heads   map[string]uint64 `json:"heads"`
	Unsent  int               `json:"unsent"`
	Unknown int               `json:"unknown"`
}

func (d *Door) state() (any, []byte, *book.Refusal) {
	digest := d.shown().Digest()
	heads := map[string]uint64{}
	for _, stream := range d.replica.Streams() {
		heads[stream] = d.replica.Part(stream).Down.Seq
	}
	return stateHead{Digest: hex.EncodeToString(digest[:]), Heads: heads, Unsent: d.replica.Unsent(), Unknown: d.shown().UpdateNeeded()}, nil, nil
}
