package sync

import (
	"encoding/binary"
	"errors"
	"math"
)

// reader takes fields from bytes and remembers the first fault, so that callers check once.
type reader struct {
	b   []byte
	err error
}

var (
	errShort   = errors.New("ends too early")
	errMinimal = errors.New("a number is longer than it need be, or too large")
)

func (r *reader) fail(err error) {
	if r.err == nil {
		r.err = err
	}
	r.b = nil
}

func (r *reader) take(n int) []byte {
	if r.err != nil || n < 0 || n > len(r.b) {
		r.fail(errShort)
		return nil
	}
	out := r.b[:n:n]
	r.b = r.b[n:]
	return out
}

func (r *reader) byte() byte {
	if b := r.take(1); b != nil {
		return b[0]
	}
	return 0
}

// uvarint refuses a longer form of a number than need be: two spellings of one entry would be two entries to a hash.
func (r *reader) uvarint() uint64 {
	v, n := binary.Uvarint(r.b)
	switch {
	case n == 0:
		r.fail(errShort)
		return 0
	case n < 0 || (n > 1 && r.b[n-1] == 0):
		r.fail(errMinimal)
		return 0
	}
	r.b = r.b[n:]
	return v
}

func (r *reader) uvarint32() uint32 {
	v := r.uvarint()
	if v > math.MaxUint32 {
		r.fail(errMinimal)
		return 0
	}
	return uint32(v)
}

func (r *reader) varint() int64 {
	u := r.uvarint()
	return int64(u>>1) ^ -int64(u&1)
}

func (r *reader) rest() []byte {
	out := r.b
	r.b = nil
	return out
}
