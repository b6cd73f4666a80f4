package book

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strconv"
)

// reader fills a body from the JSON that Describe wrote. Unknown names are refused, so nothing is lost unseen.
type reader struct {
	at    []map[string]json.RawMessage
	lists [][]json.RawMessage
	err   error
}

// Read turns the JSON form of a body back into its bytes: the inverse of Describe.
func Read(kind, v uint32, form []byte) ([]byte, error) {
	b := blank(kind, v)
	if b == nil {
		return nil, errKind
	}
	r := reader{}
	r.push(form)
	b.visit(&r)
	r.pop()
	if r.err != nil {
		return nil, r.err
	}
	body, lowest, err := encodeV(b)
	if err == nil && lowest > v {
		return nil, fmt.Errorf("a field of the JSON came with version %d of this kind, and this is version %d", lowest, v)
	}
	return body, err
}

func (r *reader) fail(err error) {
	if r.err == nil {
		r.err = err
	}
}

func (r *reader) push(form []byte) {
	m := map[string]json.RawMessage{}
	if err := json.Unmarshal(form, &m); err != nil {
		r.fail(fmt.Errorf("the JSON of a body does not parse: %w", err))
	}
	r.at = append(r.at, m)
}

func (r *reader) pop() {
	if left := r.at[len(r.at)-1]; len(left) > 0 && r.err == nil {
		r.fail(fmt.Errorf("%d fields of the JSON have no place in this kind", len(left)))
	}
	r.at = r.at[:len(r.at)-1]
}

func (r *reader) take(name string) json.RawMessage {
	m := r.at[len(r.at)-1]
	raw := m[name]
	delete(m, name)
	return raw
}

func (r *reader) value(name string, into any) {
	if raw := r.take(name); raw != nil {
		if err := json.Unmarshal(raw, into); err != nil {
			r.fail(fmt.Errorf("%s does not read: %w", name, err))
		}
	}
}

func (r *reader) text(name string, p *string, _ int) { *p = ""; r.value(name, p) }
func (r *reader) flag(name string, p *bool)          { *p = false; r.value(name, p) }

func (r *reader) whole(name string, p *int64, _, _ int64) {
	*p = 0
	raw := r.take(name)
	if raw == nil {
		return
	}
	x, err := strconv.ParseInt(string(bytes.TrimSpace(raw)), 10, 64)
	if err != nil {
		r.fail(fmt.Errorf("%s is not a whole number", name))
	}
	*p = x
}

func (r *reader) ref(name string, p *Ref) {
	*p = Ref{}
	s := ""
	r.value(name, &s)
	if s == "" {
		return
	}
	ref, err := ParseRef(s)
	if err != nil {
		r.fail(fmt.Errorf("%s: %w", name, err))
	}
	*p = ref
}

func (r *reader) list(name string, _, max int) int {
	var items []json.RawMessage
	r.value(name, &items)
	if len(items) > max {
		r.fail(errBounds)
		items = nil
	}
	r.lists = append(r.lists, items)
	return len(items)
}

func (r *reader) item(i int)   { r.push(r.lists[len(r.lists)-1][i]) }
func (r *reader) itemEnd()     { r.pop() }
func (r *reader) since(uint32) {}
func (r *reader) listEnd()     { r.lists = r.lists[:len(r.lists)-1] }

func (r *reader) nested(name string, kind, v int64, p *[]byte) {
	*p = nil
	raw := bytes.TrimSpace(r.take(name))
	if len(raw) == 0 {
		return
	}
	var err error
	if raw[0] == '"' {
		s := ""
		if err = json.Unmarshal(raw, &s); err == nil {
			*p, err = hex.DecodeString(s)
		}
	} else {
		*p, err = Read(uint32(kind), uint32(v), raw)
	}
	if err != nil {
		r.fail(fmt.Errorf("%s: %w", name, err))
	}
}
