package book

import "errors"

// visitor walks the fields of a body in their order. Encoder, decoder, JSON printer and JSON reader are all
// visitors, so a body has one description and the four can never drift apart.
type visitor interface {
	text(name string, p *string, max int)
	whole(name string, p *int64, lo, hi int64)
	flag(name string, p *bool)
	ref(name string, p *Ref)
	// list opens a list of n items and answers how many there are to visit.
	list(name string, n, max int) int
	item(i int)
	itemEnd()
	listEnd()
	// nested is the body of another kind, whole: what a correction puts in the place of what was said.
	nested(name string, kind, v int64, p *[]byte)
	// since says that the fields after it, to the end of the body or of the item, came with version v of the kind.
	since(v uint32)
}

// visitable is a body or an item of a list in one.
type visitable interface{ visit(v visitor) }

// The widest whole number of a body: beyond 2^53 a JSON reader elsewhere would round it silently.
const maxWhole = 1<<53 - 1

// Lengths of texts, in bytes.
const (
	maxKey  = 32
	maxName = 200
	maxText = 4000
	maxBody = 16 << 10
)

var (
	errShort     = errors.New("the body ends inside a field")
	errLong      = errors.New("bytes are left over behind the last field")
	errBounds    = errors.New("a value is outside the bounds of its field")
	errCanonical = errors.New("the body is not written in its shortest form")
	errText      = errors.New("a text is not UTF-8")
	errKind      = errors.New("this kind or version is not known here")
)

// list visits each item of a list with the visitor, making room first when the visitor brings more than there are.
func list[T any, P interface {
	*T
	visitable
}](v visitor, name string, items *[]T, max int) {
	n := v.list(name, len(*items), max)
	if n != len(*items) {
		*items = make([]T, n)
	}
	for i := range *items {
		v.item(i)
		P(&(*items)[i]).visit(v)
		v.itemEnd()
	}
	v.listEnd()
}
