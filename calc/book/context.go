package book

import (
	"fmt"

	"stillroom/sync"
)

// Context is all that the book may know of the world around it when it decides or shows.
type Context struct {
	Device sync.DeviceID
	Letter string // of this device, "" before the store gave one
	Role   string
	Who    string // name of the person, "" when not said
	Now    int64  // ms since 1970, this device's clock
	Zone   int    // minutes east of UTC
	Rand   [32]byte
}

// Draft is an entry that is decided and not yet numbered. The drafts of one command get the device's next numbers of
// their streams, in their order.
type Draft struct {
	Stream  string
	Kind, V uint32
	Body    []byte
}

// draft encodes a body, in the lowest version that has all it says. It refuses what does not fit its field.
func draft(kind uint32, b visitable) (Draft, *Refusal) {
	body, v, err := encodeV(b)
	if err != nil {
		return Draft{}, refuse("too long", "", "something typed is longer than its place in the book, or out of bounds", "shorten it")
	}
	if len(body) > sync.MaxBodyBytes {
		return Draft{}, refuse("too long", "", fmt.Sprintf("all this together takes %d kB, and one entry of the book holds %d", (len(body)+1023)>>10, sync.MaxBodyBytes>>10), "shorten the longest notes, and put the rest into notes of their own")
	}
	k := kindTable[kind]
	return Draft{k.Stream, kind, v, body}, nil
}

// next is the number that the n-th draft of a command (from 0) for a stream will get.
func (s *State) next(ctx Context, stream string, n int) Ref {
	return Ref{ctx.Device, s.Head(stream, ctx.Device) + 1 + uint64(n)}
}
