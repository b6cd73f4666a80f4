package book

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"strconv"
)

// printer writes a body as a JSON object in the order of its fields; zero fields are left out, as in the bytes.
type printer struct {
	out   bytes.Buffer
	first []bool
	lists []bool // whether the list just opened is empty and so not written
}

// Describe gives the exact JSON form of a body: Read of it gives the same bytes. It fails for a kind or version that
// is not known here and for a body that does not decode.
func Describe(kind, v uint32, body []byte) (json.RawMessage, error) {
	b, err := open(kind, v, body)
	if err != nil {
		return nil, err
	}
	p := printer{}
	p.begin()
	b.visit(&p)
	p.out.WriteByte('}')
	return p.out.Bytes(), nil
}

func (p *printer) begin() { p.out.WriteByte('{'); p.first = append(p.first, true) }

func (p *printer) name(name string) {
	top := len(p.first) - 1
	if !p.first[top] {
		p.out.WriteByte(',')
	}
	p.first[top] = false
	p.quote(name)
	p.out.WriteByte(':')
}

func (p *printer) quote(s string) {
	b, _ := json.Marshal(s) // a string always marshals
	p.out.Write(b)
}

func (p *printer) text(name string, s *string, _ int) {
	if *s != "" {
		p.name(name)
		p.quote(*s)
	}
}

func (p *printer) whole(name string, x *int64, _, _ int64) {
	if *x != 0 {
		p.name(name)
		p.out.WriteString(strconv.FormatInt(*x, 10))
	}
}

func (p *printer) flag(name string, f *bool) {
	if *f {
		p.name(name)
		p.out.WriteString("true")
	}
}

func (p *printer) ref(name string, r *Ref) {
	if r.Seq != 0 {
		p.name(name)
		p.quote(r.String())
	}
}

func (p *printer) list(name string, n, _ int) int {
	p.lists = append(p.lists, n == 0)
	if n > 0 {
		p.name(name)
		p.out.WriteByte('[')
	}
	return n
}

func (p *printer) item(i int) {
	if i > 0 {
		p.out.WriteByte(',')
	}
	p.begin()
}

func (p *printer) itemEnd() {
	p.out.WriteByte('}')
	p.first = p.first[:len(p.first)-1]
}

func (p *printer) since(uint32) {}

func (p *printer) listEnd() {
	top := len(p.lists) - 1
	if !p.lists[top] {
		p.out.WriteByte(']')
	}
	p.lists = p.lists[:top]
}

// nested is written as its own object where it can be read here, and as its bytes in hexadecimal where it cannot.
func (p *printer) nested(name string, kind, v int64, body *[]byte) {
	if len(*body) == 0 {
		return
	}
	p.name(name)
	if inner, err := Describe(uint32(kind), uint32(v), *body); err == nil {
		p.out.Write(inner)
		return
	}
	p.quote(hex.EncodeToString(*body))
}
