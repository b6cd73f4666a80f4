package book

import (
	"encoding/binary"
	"unicode/utf8"
)

// decoder reads what encoder wrote and nothing else: a longer way of writing the same value is refused, so that
// what decodes always encodes to the same bytes.
type decoder struct {
	in   []byte
	at   int
	end  int // end of the body or of the item being read
	zero bool
	v    uint32 // version of the body
	past bool   // whether the fields that follow came with a later version
	open []span
	err  error
}

// span remembers where the body or item around the item being read ends.
type span struct{ end int }

// newest reads a body that was read in its own version before, when it was applied: every later one reads it alike.
const newest = 1<<32 - 1

// decode reads a body of a version. What came with a later one is not in it: bytes that stand there are refused, as by a
// program that knows no later one.
func decode(v uint32, body []byte, into visitable) error {
	d := decoder{in: body, end: len(body), v: v}
	into.visit(&d)
	d.finish()
	return d.err
}

func (d *decoder) fail(err error) {
	if d.err == nil {
		d.err = err
	}
	d.at = d.end
}

// finish closes a body or an item: nothing left over, and its last field is not a zero that should be absent.
func (d *decoder) finish() {
	if d.err == nil && d.at != d.end {
		d.fail(errLong)
	}
	if d.err == nil && d.zero {
		d.fail(errCanonical)
	}
}

// done is true when the fields that follow are absent.
func (d *decoder) done() bool { return d.err != nil || d.past || d.at >= d.end }

func (d *decoder) since(v uint32) { d.past = d.past || v > d.v }

func (d *decoder) uvarint() uint64 {
	u, n := binary.Uvarint(d.in[d.at:d.end])
	if n <= 0 {
		d.fail(errShort)
		return 0
	}
	if n > 1 && d.in[d.at+n-1] == 0 {
		d.fail(errCanonical)
		return 0
	}
	d.at += n
	return u
}

func (d *decoder) take(n uint64) []byte {
	if n > uint64(d.end-d.at) {
		d.fail(errShort)
		return nil
	}
	b := d.in[d.at : d.at+int(n)]
	d.at += int(n)
	return b
}

func (d *decoder) text(_ string, p *string, max int) {
	*p = ""
	if d.done() {
		return
	}
	n := d.uvarint()
	if n > uint64(max) {
		d.fail(errBounds)
		return
	}
	b := d.take(n)
	if !utf8.Valid(b) {
		d.fail(errText)
		return
	}
	*p = string(b)
	d.zero = n == 0
}

func (d *decoder) whole(_ string, p *int64, lo, hi int64) {
	*p = 0
	if d.done() {
		return
	}
	u := d.uvarint()
	x := int64(u>>1) ^ -int64(u&1)
	if d.err == nil && (x < lo || x > hi) {
		d.fail(errBounds)
		return
	}
	*p, d.zero = x, x == 0
}

func (d *decoder) flag(_ string, p *bool) {
	*p = false
	if d.done() {
		return
	}
	b := d.in[d.at]
	d.at++
	if b > 1 {
		d.fail(errCanonical)
		return
	}
	*p, d.zero = b == 1, b == 0
}

func (d *decoder) ref(_ string, p *Ref) {
	*p = Ref{}
	if d.done() {
		return
	}
	seq := d.uvarint()
	if seq > maxWhole {
		d.fail(errBounds)
		return
	}
	d.zero = seq == 0
	if seq == 0 {
		return
	}
	p.Seq = seq
	copy(p.Device[:], d.take(8))
}

func (d *decoder) list(_ string, _, max int) int {
	if d.done() {
		return 0
	}
	n := d.uvarint()
	// Every item is at least its length byte: a count that cannot fit is refused before room is made for it.
	if n > uint64(max) || n > uint64(d.end-d.at) {
		d.fail(errBounds)
		return 0
	}
	d.zero = n == 0
	return int(n)
}

func (d *decoder) item(int) {
	d.open = append(d.open, span{end: d.end})
	if d.err != nil {
		return
	}
	n := d.uvarint()
	if n > uint64(d.end-d.at) {
		d.fail(errShort)
		return
	}
	if d.err == nil {
		d.end, d.zero = d.at+int(n), false
	}
}

func (d *decoder) itemEnd() {
	d.finish()
	d.end = d.open[len(d.open)-1].end
	d.open = d.open[:len(d.open)-1]
	d.zero, d.past = false, false // the list around it was read, so it is not past
}

func (d *decoder) listEnd() {}

func (d *decoder) nested(_ string, _, _ int64, p *[]byte) {
	*p = nil
	if d.done() {
		return
	}
	n := d.uvarint()
	if n > maxBody {
		d.fail(errBounds)
		return
	}
	if b := d.take(n); len(b) > 0 {
		*p = append([]byte(nil), b...)
	}
	d.zero = n == 0
}
