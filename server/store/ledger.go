package store

import (
	"bytes"
	"fmt"
	"slices"
	"sort"
	gosync "sync"

	"stillroom/sync"
)

// Step is the distance between the hashes that a Ledger keeps. A hash in between is worked out from the items after the
// last kept one, so that a book of a million entries needs half a megabyte for them.
const Step = 64

// A line is a dense log under a hash: kept[i] is the hash after number i*Step.
type line struct {
	head Head
	kept []sync.Hash
}

func newLine(seed sync.Hash) line { return line{head: Head{Hash: seed}, kept: []sync.Hash{seed}} }

func (l *line) add(h sync.Hash) {
	l.head = Head{Seq: l.head.Seq + 1, Hash: h}
	if l.head.Seq%Step == 0 {
		l.kept = append(l.kept, h)
	}
}

// own is one device's own line, with the number in the stream's log of each of its entries.
type own struct {
	line
	numbers []uint64
}

type stream struct {
	log     line
	devices map[sync.DeviceID]*own
}

// Ledger is what a store knows of its log without reading it: heads, chains, and where each device's entries stand. It
// is rebuilt from the log at opening and shared by every implementation, so that they agree on what is a gap, a fork
// or a duplicate. It may be read from many goroutines; one at a time may Load or Take.
type Ledger struct {
	mu      gosync.RWMutex
	streams map[string]*stream

	// Opening, when not nil, is what a store that was restored writes itself into a stream before the first entry that
	// comes to it otherwise than with its old end.
	Opening *Opening
}

// Opening is the store's own first entry of a new life, and under which name it writes, another in every epoch.
type Opening struct {
	Device sync.DeviceID
	// Entry gives it for a stream that ends at head, nil when the stream needs none. at is the store's clock in ms.
	Entry func(stream string, head uint64, at int64) []byte
}

// NewLedger is the ledger of an empty book.
func NewLedger() *Ledger { return &Ledger{streams: map[string]*stream{}} }

func (l *Ledger) stream(name string) *stream {
	s := l.streams[name]
	if s == nil {
		s = &stream{log: newLine(sync.RunningSeed(name)), devices: map[sync.DeviceID]*own{}}
		l.streams[name] = s
	}
	return s
}

func (s *stream) device(name string, d sync.DeviceID) *own {
	o := s.devices[d]
	if o == nil {
		o = &own{line: newLine(sync.ChainSeed(name, d))}
		s.devices[d] = o
	}
	return o
}

// Load adds the next envelope of a log that is being read at opening, with the running hash after it. The error says in
// words what does not fit.
func (l *Ledger) Load(name string, v sync.Envelope, running sync.Hash) error {
	e, err := sync.ParseEntry(v.Entry)
	if err != nil {
		return err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	s := l.stream(name)
	if v.Seq != s.log.head.Seq+1 {
		return fmt.Errorf("number %d stands where %d belongs", v.Seq, s.log.head.Seq+1)
	}
	o := s.device(name, v.Device)
	if e.Seq != o.head.Seq+1 {
		return fmt.Errorf("device %s has number %d where %d belongs", v.Device, e.Seq, o.head.Seq+1)
	}
	s.log.add(running)
	o.add(o.head.Hash.Next(v.Entry))
	o.numbers = append(o.numbers, v.Seq)
	return nil
}

// Head is the end of the stream's log.
func (l *Ledger) Head(name string) Head {
	l.mu.RLock()
	defer l.mu.RUnlock()
	if s := l.streams[name]; s != nil {
		return s.log.head
	}
	return Head{Hash: sync.RunningSeed(name)}
}

// DeviceHead is the end of a device's own line.
func (l *Ledger) DeviceHead(name string, d sync.DeviceID) Head {
	l.mu.RLock()
	defer l.mu.RUnlock()
	if o := l.own(name, d); o != nil {
		return o.head
	}
	return Head{Hash: sync.ChainSeed(name, d)}
}

func (l *Ledger) own(name string, d sync.DeviceID) *own {
	if s := l.streams[name]; s != nil {
		return s.devices[d]
	}
	return nil
}

// Kept gives the kept hashes of the stream's log next to number seq, at or before it and behind it (its head when none
// is); false beyond the head.
func (l *Ledger) Kept(name string, seq uint64) (from, to Head, ok bool) {
	l.mu.RLock()
	defer l.mu.RUnlock()
	s := l.streams[name]
	if s == nil {
		return Head{Hash: sync.RunningSeed(name)}, Head{}, seq == 0
	}
	return s.log.around(seq)
}

// DeviceKept is Kept for a device's own line.
func (l *Ledger) DeviceKept(name string, d sync.DeviceID, seq uint64) (from, to Head, ok bool) {
	l.mu.RLock()
	defer l.mu.RUnlock()
	o := l.own(name, d)
	if o == nil {
		return Head{Hash: sync.ChainSeed(name, d)}, Head{}, seq == 0
	}
	return o.around(seq)
}

func (l *line) around(seq uint64) (from, to Head, ok bool) {
	switch i := seq / Step; {
	case seq > l.head.Seq:
		return Head{}, Head{}, false
	case seq == l.head.Seq:
		return l.head, l.head, true
	case i+1 < uint64(len(l.kept)):
		return Head{Seq: i * Step, Hash: l.kept[i]}, Head{Seq: (i + 1) * Step, Hash: l.kept[i+1]}, true
	default:
		return Head{Seq: i * Step, Hash: l.kept[i]}, l.head, true
	}
}

// Numbers gives the numbers in the stream's log of a device's entries after its own number after, at most max of them.
func (l *Ledger) Numbers(name string, d sync.DeviceID, after uint64, max int) []uint64 {
	l.mu.RLock()
	defer l.mu.RUnlock()
	o := l.own(name, d)
	if o == nil || after >= o.head.Seq {
		return nil
	}
	rest := o.numbers[after:]
	if max > 0 && len(rest) > max {
		rest = rest[:max]
	}
	return slices.Clone(rest)
}

// Streams names the streams that hold something, sorted.
func (l *Ledger) Streams() []string {
	l.mu.RLock()
	defer l.mu.RUnlock()
	var names []string
	for name, s := range l.streams {
		if s.log.head.Seq > 0 {
			names = append(names, name)
		}
	}
	sort.Strings(names)
	return names
}

// Devices names the devices that wrote in a stream, sorted.
func (l *Ledger) Devices(name string) []sync.DeviceID {
	l.mu.RLock()
	defer l.mu.RUnlock()
	s := l.streams[name]
	if s == nil {
		return nil
	}
	var ids []sync.DeviceID
	for d, o := range s.devices {
		if o.head.Seq > 0 {
			ids = append(ids, d)
		}
	}
	slices.SortFunc(ids, func(a, b sync.DeviceID) int { return bytes.Compare(a[:], b[:]) })
	return ids
}
