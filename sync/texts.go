package sync

import (
	"errors"
	"fmt"
	"math"
	"unicode/utf8"
)

// ErrMalformed is wrapped by the error of every message that is not what PROTOCOL.md describes. Nothing of such a
// message was taken in.
var ErrMalformed = errors.New("malformed")

// ErrLater is wrapped for a message whose number is reserved for a later protocol.
var ErrLater = errors.New("belongs to a later protocol")

func malformed(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrMalformed, fmt.Sprintf(format, args...))
}

// bytes takes a length and as many bytes, at most limit; the result shares memory with the message.
func (r *reader) bytes(limit int) []byte {
	n := r.uvarint()
	if n > uint64(limit) {
		r.fail(fmt.Errorf("a field of %d bytes is above its limit of %d", n, limit))
		return nil
	}
	return r.take(int(n))
}

func (r *reader) text(limit int) string {
	b := r.bytes(limit)
	if !utf8.Valid(b) {
		r.fail(errors.New("a text is not UTF-8"))
		return ""
	}
	return string(b)
}

func (r *reader) name() string {
	s := r.text(MaxName)
	if s == "" {
		r.fail(errors.New("a stream has no name"))
	}
	return s
}

func (r *reader) log() Log {
	l := Log(r.byte())
	if r.err == nil && l != Up && l != Down && l != Back {
		r.fail(fmt.Errorf("log %d is neither up (1), down (2) nor back (3)", l))
	}
	return l
}

func (r *reader) fixed(dst []byte) { copy(dst, r.take(len(dst))) }

func (r *reader) head() Head {
	h := Head{Seq: r.uvarint()}
	r.fixed(h.Hash[:])
	return h
}

// clock is bounded as in an entry, so that it fits a signed number of milliseconds with room to subtract.
func (r *reader) clock() int64 {
	n := r.uvarint()
	if n > 1<<62 {
		r.fail(errors.New("a clock is out of range"))
		return 0
	}
	return int64(n)
}

// asClock brings a clock that stands before 1970 or beyond any year into what an entry can carry. A wrong clock is
// never a reason to refuse work.
func asClock(ms int64) int64 { return min(max(ms, 0), math.MaxInt64>>1) }
