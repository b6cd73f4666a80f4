package sync

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// The first byte of a message. 32 to 34 are kept for snapshots, 17, 19 and 48 to 50 for what was once thought to be
// needed to compare logs; none of these is sent. 16 and 18 are of protocol 2.
const (
	typeHello    = 1
	typeWelcome  = 2
	typeBatch    = 3
	typeAck      = 4
	typeHave     = 5
	typeBeat     = 6
	typeRefuse   = 7
	typeReturn   = 16
	typeRenumber = 18
)

var reservedTypes = map[byte]string{
	17: "returned", 19: "renumbered",
	32: "snapshot wanted", 33: "snapshot", 34: "snapshot end",
	48: "checkpoints wanted", 49: "checkpoints", 50: "repair",
}

// Message is one message of the wire. Append adds its canonical bytes to dst.
type Message interface{ Append(dst []byte) []byte }

// Batch carries items of one log: those after number Prev, in order. Last is the hash after the last of them, which
// covers everything before as well.
type Batch struct {
	Stream string
	Log    Log
	Prev   uint64
	Items  [][]byte
	Last   Hash
	MAC    [32]byte // Down only: HeadMAC of the head after the last item
}

// Ack says that everything up to Seq is on the receiver's disk.
type Ack struct {
	Stream string
	Log    Log
	Seq    uint64
}

// Have answers a batch whose Prev is not the receiver's head, and says what that is. It promises nothing about a disk.
type Have struct {
	Stream string
	Log    Log
	Head   Head
}

// Beat says that its sender is there.
type Beat struct{}

// Refuse is the last message of a side that ends the connection for a reason.
type Refuse struct {
	Code string // for programs: one of the Code constants, or a later one
	Says string // for people: what happened and what was kept
	Hint string // for people: what to do
	Rest []byte // fields of a later protocol, passed over
}

// ParseMessage reads one message, strictly: what it accepts, Append writes again to the same bytes. The result shares
// memory with b. Errors wrap ErrMalformed, or ErrLater for a reserved type.
func ParseMessage(b []byte) (Message, error) {
	if len(b) == 0 {
		return nil, malformed("a message has no bytes")
	}
	if len(b) > MaxMessageBytes {
		return nil, malformed("a message of %d bytes is above the limit of %d", len(b), MaxMessageBytes)
	}
	r := reader{b: b[1:]}
	var m Message
	switch b[0] {
	case typeHello:
		m = readHello(&r)
	case typeWelcome:
		m = readWelcome(&r)
	case typeBatch:
		m = readBatch(&r)
	case typeAck:
		m = Ack{Stream: r.name(), Log: r.log(), Seq: r.uvarint()}
	case typeHave:
		m = Have{Stream: r.name(), Log: r.log(), Head: r.head()}
	case typeBeat:
		m = Beat{}
	case typeReturn:
		m = readReturn(&r)
	case typeRenumber:
		m = readRenumber(&r)
	case typeRefuse:
		m = Refuse{Code: r.text(MaxText), Says: r.text(MaxText), Hint: r.text(MaxText), Rest: r.rest()}
	default:
		if name, ok := reservedTypes[b[0]]; ok {
			return nil, fmt.Errorf("message type %d (%s) %w", b[0], name, ErrLater)
		}
		return nil, malformed("there is no message type %d", b[0])
	}
	if r.err == nil && len(r.b) > 0 {
		r.fail(fmt.Errorf("%d bytes too many at the end", len(r.b)))
	}
	if r.err != nil {
		return nil, malformed("message type %d: %v", b[0], r.err)
	}
	return m, nil
}

// Append adds the message's bytes to dst.
func (m Batch) Append(dst []byte) []byte {
	dst = appendString(append(dst, typeBatch), m.Stream)
	dst = append(dst, byte(m.Log))
	dst = binary.AppendUvarint(dst, m.Prev)
	dst = binary.AppendUvarint(dst, uint64(len(m.Items)))
	for _, item := range m.Items {
		dst = binary.AppendUvarint(dst, uint64(len(item)))
		dst = append(dst, item...)
	}
	dst = append(dst, m.Last[:]...)
	if m.Log == Down {
		dst = append(dst, m.MAC[:]...)
	}
	return dst
}

func readBatch(r *reader) Batch {
	m := Batch{Stream: r.name(), Log: r.log(), Prev: r.uvarint()}
	n := r.uvarint()
	if n == 0 || n > MaxBatchEntries {
		r.fail(fmt.Errorf("a batch of %d items; 1 to %d are allowed", n, MaxBatchEntries))
		return m
	}
	if m.Prev > 1<<62 {
		r.fail(errors.New("a batch's number is out of range"))
		return m
	}
	// An entry has at least 14 bytes, so a short message cannot make this large.
	m.Items = make([][]byte, 0, min(int(n), len(r.b)/14+1))
	sum := 0
	for i := uint64(0); i < n && r.err == nil; i++ {
		item := r.bytes(MaxEnvelopeBytes)
		sum += len(item)
		m.Items = append(m.Items, item)
	}
	if sum > MaxBatchBytes {
		r.fail(fmt.Errorf("a batch of %d bytes is above the limit of %d", sum, MaxBatchBytes))
	}
	r.fixed(m.Last[:])
	if m.Log == Down {
		r.fixed(m.MAC[:])
	}
	return m
}

// Append adds the message's bytes to dst.
func (m Ack) Append(dst []byte) []byte {
	dst = appendString(append(dst, typeAck), m.Stream)
	return binary.AppendUvarint(append(dst, byte(m.Log)), m.Seq)
}

// Append adds the message's bytes to dst.
func (m Have) Append(dst []byte) []byte {
	dst = appendString(append(dst, typeHave), m.Stream)
	return m.Head.append(append(dst, byte(m.Log)))
}

// Append adds the message's bytes to dst.
func (m Beat) Append(dst []byte) []byte { return append(dst, typeBeat) }

// Append adds the message's bytes to dst.
func (m Refuse) Append(dst []byte) []byte {
	dst = appendString(append(dst, typeRefuse), m.Code)
	dst = appendString(appendString(dst, m.Says), m.Hint)
	return append(dst, m.Rest...)
}

func (h Head) append(dst []byte) []byte {
	return append(binary.AppendUvarint(dst, h.Seq), h.Hash[:]...)
}
