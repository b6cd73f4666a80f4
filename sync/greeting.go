package sync

import (
	"encoding/binary"
	"fmt"
)

// Hello is a phone's first message. Its layout is the same in every protocol, since it is what the protocol is chosen
// by; later fields follow in Rest.
type Hello struct {
	Lo, Hi  uint32 // protocols that the phone speaks
	Schema  uint32 // newest kinds that the phone's book knows; 0 when it does not say
	Device  DeviceID
	Token   []byte // proves the device; given out at pairing
	Clock   int64  // the phone's clock, ms since 1970 UTC
	Streams []HelloStream
	Rest    []byte
}

// HelloStream is what the phone holds of one stream, on its disk.
type HelloStream struct {
	Name  string
	Epoch Epoch // of the store that Down came from; zero when it never folded anything
	Down  Head  // of the store's log
	Up    Head  // of its own entries
	// MAC is the store's mark on Down as it was given out; zero when there is none. It travels from protocol 2 on.
	MAC [32]byte
}

// Welcome is the store's answer to a hello that it accepts. Its layout grows as Hello's does.
type Welcome struct {
	Protocol uint32 // the chosen one, within the hello's range
	Schema   uint32
	Store    string // the store's name, for people
	Role     string
	Letter   string // the device's letter in batch codes
	Clock    int64  // the store's clock, ms since 1970 UTC
	Streams  []WelcomeStream
	Rest     []byte
}

// WelcomeStream is one stream that the device may hold, and what the store holds of it, on its disk.
type WelcomeStream struct {
	Name  string
	Epoch Epoch
	Down  Head
	MAC   [32]byte // HeadMAC of Down
	Up    Head     // of this device's own entries
}

// Append adds the message's bytes to dst.
func (m Hello) Append(dst []byte) []byte {
	dst = append(dst, typeHello)
	for _, n := range []uint32{m.Lo, m.Hi, m.Schema} {
		dst = binary.AppendUvarint(dst, uint64(n))
	}
	dst = append(dst, m.Device[:]...)
	dst = appendString(dst, string(m.Token))
	dst = binary.AppendUvarint(dst, uint64(m.Clock))
	dst = binary.AppendUvarint(dst, uint64(len(m.Streams)))
	for _, s := range m.Streams {
		dst = append(appendString(dst, s.Name), s.Epoch[:]...)
		dst = s.Up.append(s.Down.append(dst))
	}
	if m.Hi >= healing {
		for _, s := range m.Streams {
			dst = append(dst, s.MAC[:]...)
		}
	}
	return append(dst, m.Rest...)
}

func readHello(r *reader) Hello {
	m := Hello{Lo: r.uvarint32(), Hi: r.uvarint32(), Schema: r.uvarint32()}
	r.fixed(m.Device[:])
	m.Token = r.bytes(MaxText)
	m.Clock = r.clock()
	names := r.streams()
	for range names.n {
		s := HelloStream{Name: names.next(r)}
		r.fixed(s.Epoch[:])
		s.Down, s.Up = r.head(), r.head()
		m.Streams = append(m.Streams, s)
	}
	if m.Hi >= healing {
		for i := range m.Streams {
			r.fixed(m.Streams[i].MAC[:])
		}
	}
	m.Rest = r.rest()
	return m
}

// Append adds the message's bytes to dst.
func (m Welcome) Append(dst []byte) []byte {
	dst = binary.AppendUvarint(append(dst, typeWelcome), uint64(m.Protocol))
	dst = binary.AppendUvarint(dst, uint64(m.Schema))
	for _, s := range []string{m.Store, m.Role, m.Letter} {
		dst = appendString(dst, s)
	}
	dst = binary.AppendUvarint(dst, uint64(m.Clock))
	dst = binary.AppendUvarint(dst, uint64(len(m.Streams)))
	for _, s := range m.Streams {
		dst = append(appendString(dst, s.Name), s.Epoch[:]...)
		dst = append(s.Down.append(dst), s.MAC[:]...)
		dst = s.Up.append(dst)
	}
	return append(dst, m.Rest...)
}

func readWelcome(r *reader) Welcome {
	m := Welcome{Protocol: r.uvarint32(), Schema: r.uvarint32(), Store: r.text(MaxText), Role: r.text(MaxText), Letter: r.text(MaxText), Clock: r.clock()}
	names := r.streams()
	for range names.n {
		s := WelcomeStream{Name: names.next(r)}
		r.fixed(s.Epoch[:])
		s.Down = r.head()
		r.fixed(s.MAC[:])
		s.Up = r.head()
		m.Streams = append(m.Streams, s)
	}
	m.Rest = r.rest()
	return m
}

// ascending reads stream names that must rise in byte order: no stream twice, and one spelling of one message.
type ascending struct {
	n    int
	last string
}

func (r *reader) streams() *ascending {
	n := r.uvarint()
	if n > MaxStreams {
		r.fail(fmt.Errorf("%d streams are above the limit of %d", n, MaxStreams))
	}
	if r.err != nil {
		n = 0
	}
	return &ascending{n: int(n)}
}

func (a *ascending) next(r *reader) string {
	s := r.name()
	if r.err == nil && s <= a.last {
		r.fail(fmt.Errorf("stream %q is out of order", s))
	}
	a.last = s
	return s
}
