package door

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
)

// Op is what is asked of the engine.
type Op byte

// The numbers are spoken by pwa/shell/engine.ts as well.
const (
	OpStart     Op = 1  // a fresh book for a device: head startHead
	OpLoad      Op = 2  // kept bytes, in order: head loadHead, raw items
	OpLoaded    Op = 3  // everything kept has been given
	OpCommand   Op = 4  // head {name, args}: entries to keep, as items, beside the value
	OpCommitted Op = 5  // the entries of the last command are on disk
	OpAborted   Op = 6  // they are not, and will not be
	OpConnect   Op = 7  // the line is open
	OpReceive   Op = 8  // raw: one message
	OpStored    Op = 9  // head {stream, seq}: what was to be persisted is on disk
	OpTick      Op = 10 // time passed
	OpClosed    Op = 11 // the line is gone
	OpView      Op = 12 // head {name, args}
	OpCalc      Op = 13 // head {name}, raw: the request's JSON
	OpState     Op = 14 // digest and heads, for tests and for the settings page
	OpFetched   Op = 15 // head {stream, after}, raw: the envelopes that "fetch" asked for, as items
	OpSnapshot  Op = 16 // head {on}: the next piece of a snapshot, or the first
)

// A request is
//
//	op      1 byte
//	now     8 bytes, little end first: ms since 1970, this device's clock
//	zone    2 bytes, little end first, signed: minutes east of UTC
//	random 32 bytes, fresh with every call
//	length  4 bytes, little end first: of head
//	head    JSON
//	raw     the rest
//
// and an answer is
//
//	ok      1 byte: 1, or 0 for a refusal in head
//	length  4 bytes, little end first: of head
//	head    JSON
//	raw     the rest
//
// Where raw holds several byte strings, each stands after its length as 4 bytes, little end first ("items").
const requestHead = 1 + 8 + 2 + 32 + 4

type request struct {
	op   Op
	now  int64
	zone int
	rand [32]byte
	head []byte
	raw  []byte
}

var errFrame = errors.New("the request is shorter than it says")

func parseRequest(b []byte) (request, error) {
	var r request
	if len(b) < requestHead {
		return r, errFrame
	}
	r.op = Op(b[0])
	r.now = int64(binary.LittleEndian.Uint64(b[1:]))
	r.zone = int(int16(binary.LittleEndian.Uint16(b[9:])))
	copy(r.rand[:], b[11:43])
	n := binary.LittleEndian.Uint32(b[43:])
	rest := b[requestHead:]
	if uint64(n) > uint64(len(rest)) {
		return r, errFrame
	}
	r.head, r.raw = rest[:n], rest[n:]
	return r, nil
}

// Request frames a call as the shell does.
func Request(op Op, now int64, zone int, rand [32]byte, head any, raw []byte) ([]byte, error) {
	h, err := json.Marshal(head)
	if err != nil {
		return nil, fmt.Errorf("head of the request: %w", err)
	}
	b := make([]byte, 0, requestHead+len(h)+len(raw))
	b = append(b, byte(op))
	b = binary.LittleEndian.AppendUint64(b, uint64(now))
	b = binary.LittleEndian.AppendUint16(b, uint16(int16(zone)))
	b = append(b, rand[:]...)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(h)))
	b = append(b, h...)
	return append(b, raw...), nil
}

// ParseAnswer takes an answer apart: whether it is one or a refusal, its head and its raw bytes.
func ParseAnswer(b []byte) (ok bool, head, raw []byte, err error) {
	if len(b) < 5 {
		return false, nil, nil, errFrame
	}
	n := binary.LittleEndian.Uint32(b[1:])
	rest := b[5:]
	if uint64(n) > uint64(len(rest)) {
		return false, nil, nil, errFrame
	}
	return b[0] == 1, rest[:n], rest[n:], nil
}

func answer(ok bool, head, raw []byte) []byte {
	b := make([]byte, 0, 5+len(head)+len(raw))
	if ok {
		b = append(b, 1)
	} else {
		b = append(b, 0)
	}
	b = binary.LittleEndian.AppendUint32(b, uint32(len(head)))
	b = append(b, head...)
	return append(b, raw...)
}

// Join puts byte strings behind one another as items.
func Join(items [][]byte) []byte {
	n := 0
	for _, it := range items {
		n += 4 + len(it)
	}
	b := make([]byte, 0, n)
	for _, it := range items {
		b = binary.LittleEndian.AppendUint32(b, uint32(len(it)))
		b = append(b, it...)
	}
	return b
}

// Split takes items apart. The parts share b's memory.
func Split(b []byte) ([][]byte, error) {
	var items [][]byte
	for len(b) > 0 {
		if len(b) < 4 {
			return nil, errFrame
		}
		n := binary.LittleEndian.Uint32(b)
		if uint64(n) > uint64(len(b)-4) {
			return nil, errFrame
		}
		items = append(items, b[4:4+n:4+n])
		b = b[4+n:]
	}
	return items, nil
}
