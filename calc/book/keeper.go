package book

import (
	"encoding/binary"
	"errors"
	"math"
	"unicode/utf8"

	"stillroom/sync"
)

var (
	errCut     = errors.New("the snapshot ends inside a value")
	errSpare   = errors.New("bytes are left over behind the last value of the snapshot")
	errForm    = errors.New("the snapshot is not written as a snapshot is")
	errDouble  = errors.New("a key stands twice in a table of the snapshot")
	errNoValue = errors.New("a value of the snapshot is none that entries can make")
)

// keeper takes values to bytes and back. A value has one keep method that does both, so that what is written and what is
// read cannot drift apart; reading says which of the two it does. What is read and written again gives the same bytes.
//
// Whole numbers are varints in their shortest form. Keys and names that come again and again are written once, and then
// as their number; devices and epochs stand in lists of their own behind the tables. Bytes of entries' bodies are not
// copied when they are read: a book that was read holds on to the snapshot's bytes.
type keeper struct {
	reading bool
	buf     []byte // written, or to be read
	at      int
	err     error

	words   met[string]
	devices met[sync.DeviceID]
	epochs  met[sync.Epoch]
	last    origin // the one before in the same value: origins are written as what they differ by
}

// met are values in the order in which they first came, and their numbers while writing.
type met[T comparable] struct {
	all []T
	no  map[T]uint64
	n   uint64 // while reading a list that is known: as many as have come
}

func (m *met[T]) number(x T) (uint64, bool) {
	n, known := m.no[x]
	if !known {
		if m.no == nil {
			m.no = map[T]uint64{}
		}
		n = uint64(len(m.all))
		m.no[x] = n
		m.all = append(m.all, x)
	}
	return n, known
}

func (k *keeper) fail(err error) {
	if k.err == nil {
		k.err = err
	}
	k.at = len(k.buf)
}

// must refuses what no entries can have made.
func (k *keeper) must(sound bool) {
	if !sound {
		k.fail(errNoValue)
	}
}

func (k *keeper) uint(p *uint64) {
	if !k.reading {
		k.buf = binary.AppendUvarint(k.buf, *p)
		return
	}
	if k.at < len(k.buf) && k.buf[k.at] < 0x80 { // most are one byte
		*p = uint64(k.buf[k.at])
		k.at++
		return
	}
	u, n := binary.Uvarint(k.buf[k.at:])
	switch {
	case n <= 0:
		k.fail(errCut)
		u = 0
	case k.buf[k.at+n-1] == 0:
		k.fail(errForm)
		u = 0
	default:
		k.at += n
	}
	*p = u
}

func (k *keeper) int(p *int64) {
	u := uint64(*p)<<1 ^ uint64(*p>>63)
	k.uint(&u)
	*p = int64(u>>1) ^ -int64(u&1)
}

func (k *keeper) uint32(p *uint32) {
	u := uint64(*p)
	k.uint(&u)
	if u > 1<<32-1 {
		k.fail(errNoValue)
	}
	*p = uint32(u)
}

func (k *keeper) small(p *int) {
	i := int64(*p)
	k.int(&i)
	if i != int64(int32(i)) {
		k.fail(errNoValue)
	}
	*p = int(i)
}

func (k *keeper) flag(p *bool) {
	u := uint64(0)
	if *p {
		u = 1
	}
	k.uint(&u)
	if u > 1 {
		k.fail(errForm)
	}
	*p = u == 1
}

// some writes or reads whether something follows that most values do not have.
func (k *keeper) some(there bool) bool {
	k.flag(&there)
	return there
}

// count is how many items follow. Every item takes a byte at least: a number that cannot be is refused before room is
// made for it.
func (k *keeper) count(n int) int {
	u := uint64(n)
	k.uint(&u)
	if k.reading && u > uint64(len(k.buf)-k.at) {
		k.fail(errCut)
		return 0
	}
	return int(u)
}

func (k *keeper) bytes(p *[]byte) {
	n := k.count(len(*p))
	if !k.reading {
		k.buf = append(k.buf, *p...)
		return
	}
	*p = k.buf[k.at : k.at+n : k.at+n]
	k.at += n
}

func (k *keeper) text(p *string) {
	n := k.count(len(*p))
	if !k.reading {
		k.buf = append(k.buf, *p...)
		return
	}
	b := k.buf[k.at : k.at+n]
	k.at += n
	if !utf8.Valid(b) {
		k.fail(errText)
	}
	*p = string(b)
}

// word is a text that comes again and again.
func (k *keeper) word(p *string) {
	if *p == "" || k.reading {
		u := uint64(0)
		k.uint(&u)
		switch {
		case !k.reading || k.err != nil:
		case u == 0:
			*p = ""
		case u == 1:
			k.text(p)
			if _, known := k.words.number(*p); known || *p == "" {
				k.fail(errForm)
			}
		case u-2 < uint64(len(k.words.all)):
			*p = k.words.all[u-2]
		default:
			k.fail(errForm)
		}
		return
	}
	n, known := k.words.number(*p)
	if n += 2; !known {
		n = 1
	}
	k.uint(&n)
	if !known {
		k.text(p)
	}
}

// inList is a value by its number in a list that stands elsewhere, which is read before the tables. Numbers come for the
// first time in the order of the list.
func inList[T comparable](k *keeper, m *met[T], p *T) {
	if !k.reading {
		n, _ := m.number(*p)
		k.uint(&n)
		return
	}
	var n uint64
	k.uint(&n)
	if n > m.n || n >= uint64(len(m.all)) {
		k.fail(errForm)
		return
	}
	if n == m.n {
		m.n++
	}
	*p = m.all[n]
}

func (k *keeper) device(p *sync.DeviceID) { inList(k, &k.devices, p) }
func (k *keeper) epoch(p *sync.Epoch)     { inList(k, &k.epochs, p) }

func (k *keeper) ref(p *Ref) {
	k.uint(&p.Seq)
	if p.Seq != 0 {
		k.device(&p.Device)
	}
}

// step is a number that is near another.
func (k *keeper) step(p *uint64, from uint64) {
	i := int64(*p - from)
	k.int(&i)
	*p = from + uint64(i)
}

func (k *keeper) origin(p *origin) {
	k.device(&p.ref.Device)
	k.step(&p.ref.Seq, k.last.ref.Seq)
	at := p.at - k.last.at
	k.int(&at)
	p.at = k.last.at + at
	off := p.time - p.at
	k.int(&off)
	p.time = p.at + off
	k.step(&p.log, k.last.log)
	k.step(&p.seen, k.last.seen)
	k.epoch(&p.epoch)
	k.last = *p
}

// body is the decoded body of an entry, by its own codec.
func (k *keeper) body(b visitable) {
	var raw []byte
	if !k.reading {
		if raw, k.err = encode(b); k.err != nil {
			return
		}
	}
	k.bytes(&raw)
	if k.reading && k.err == nil {
		if err := decode(math.MaxUint32, raw, b); err != nil {
			k.fail(err)
		}
	}
}

// many is a list of values, nil when it is empty.
func many[T any](k *keeper, p *[]T, each func(*T)) {
	n := k.count(len(*p))
	if k.reading {
		*p = nil
		if n > 0 {
			*p = make([]T, 0, min(n, 1<<10)) // a count may lie: room for more is made when there is more
		}
		for i := 0; i < n && k.err == nil; i++ {
			var t T
			*p = append(*p, t)
			each(&(*p)[i])
		}
		return
	}
	for i := range *p {
		each(&(*p)[i])
	}
}
