package door

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"stillroom/calc/book"
	"stillroom/sync"
)

// A snapshot of the book on this phone is a cache beside its entries: a start goes on from it where it agrees with them,
// and folds all of them where it does not. It has what the home store's order adds up to and what reading every envelope
// gathers of a stream, so that the line greets, acknowledges and heals as after a whole reading. What is pending stands in
// none.
//
// A start from a snapshot hashes the envelopes behind it alone: that they end in the hash that was kept beside them shows
// that the snapshot is of this log. Older envelopes are hashed when they are next read: when the book is folded from its
// entries, when a restored home store wants them back (sync compares them with the head that was named), and by the home
// store when it takes in a saved file.

// pieceSize is about how many bytes of a snapshot are written in one call, so that no tap waits long.
const pieceSize = 192 << 10

type snapshotHead struct {
	Device  string        `json:"device"`
	Streams []snapshotLog `json:"streams"`
	// Size and End are how many bytes of a book belong to this head, and the last of them, which are a sum over all.
	Size int    `json:"size"`
	End  string `json:"end"`
}

// snapshotLog is sync's Part without what lies beside it on the disk; hashes are hex.
type snapshotLog struct {
	Stream string     `json:"stream"`
	Epoch  string     `json:"epoch"`
	Down   jsonHead   `json:"down"`
	MAC    string     `json:"mac"`
	Steps  []jsonHead `json:"steps"`
	Own    jsonHead   `json:"own"`
}

type jsonHead struct {
	Seq  uint64 `json:"seq"`
	Hash string `json:"hash"`
}

type saving struct {
	book *book.Saving
	size int
	head snapshotHead
}

type snapshotAsk struct {
	// Go on with the one that was begun.
	On bool `json:"on"`
}

type snapshotAnswer struct {
	More bool `json:"more"`
	// With the last piece: the head as it is to be given back, its sum, and how far each stream is folded in it.
	Head  string            `json:"head,omitempty"`
	Sum   string            `json:"sum,omitempty"`
	Heads map[string]uint64 `json:"heads,omitempty"`
}

func headJSON(h sync.Head) jsonHead { return jsonHead{h.Seq, hex.EncodeToString(h.Hash[:])} }

func (h jsonHead) read() (sync.Head, error) {
	out := sync.Head{Seq: h.Seq}
	return out, unhex(out.Hash[:], h.Hash)
}

func unhex(into []byte, text string) error {
	b, err := hex.DecodeString(text)
	if err != nil || len(b) != len(into) {
		return fmt.Errorf("%q is not %d bytes in hexadecimal digits", text, len(into))
	}
	copy(into, b)
	return nil
}

// snapshot gives the next piece of a snapshot. One that was begun comes to nothing when the base moves meanwhile.
func (d *Door) snapshot(r request) (any, []byte, *book.Refusal) {
	var ask snapshotAsk
	if no := readHead(r, &ask); no != nil {
		return nil, nil, no
	}
	none := &book.Refusal{Code: "order", Says: "There is no snapshot to be made now.", Hint: "Nothing was changed."}
	if !ask.On {
		d.saving = nil
		if d.shut != nil || d.mend != nil {
			return nil, nil, none
		}
		d.saving = &saving{book: d.base.Save(), head: snapshotHead{Device: d.device.String(), Streams: []snapshotLog{}}}
		for _, stream := range d.replica.Streams() {
			p := d.replica.Part(stream)
			log := snapshotLog{Stream: stream, Epoch: hex.EncodeToString(p.Epoch[:]), Down: headJSON(p.Down), MAC: hex.EncodeToString(p.MAC[:]), Own: headJSON(p.Own), Steps: []jsonHead{}}
			for _, step := range p.Steps {
				log.Steps = append(log.Steps, headJSON(step))
			}
			d.saving.head.Streams = append(d.saving.head.Streams, log)
		}
	}
	s := d.saving
	if s == nil {
		return nil, nil, none
	}
	piece, more := s.book.Piece(pieceSize)
	s.size += len(piece)
	if more {
		return snapshotAnswer{More: true}, piece, nil
	}
	d.saving = nil
	s.head.Size, s.head.End = s.size, lastOf(piece)
	text, err := json.Marshal(s.head)
	if err != nil {
		return nil, nil, none
	}
	out := snapshotAnswer{Head: string(text), Sum: textSum(string(text)), Heads: map[string]uint64{}}
	for _, log := range s.head.Streams {
		out.Heads[log.Stream] = log.Down.Seq
	}
	return out, piece, nil
}

// lastOf is where the book has its own sum.
func lastOf(b []byte) string { return hex.EncodeToString(b[max(0, len(b)-4):]) }

func textSum(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// fromSnapshot lets the book begin from a snapshot, before anything else of it is read, or says why not; then everything
// is to be read from its entries. Nothing is told to anybody: it is a cache.
func (d *Door) fromSnapshot(h loadHead, raw []byte) error {
	var head snapshotHead
	switch {
	case len(d.loading.begun) > 0:
		return errors.New("the copy of the log is being mended")
	case textSum(h.Head) != h.Hash:
		return errors.New("its head does not match its sum")
	}
	if err := json.Unmarshal([]byte(h.Head), &head); err != nil {
		return err
	}
	switch {
	case head.Device != d.device.String():
		return errors.New("it is another device's")
	case head.Size != len(raw) || head.End != lastOf(raw):
		return errors.New("its head and its book do not belong together")
	}
	reads := book.Reads(d.role)
	if len(head.Streams) != len(reads) {
		return errors.New("it has other streams")
	}
	parts := map[string]*sync.Part{}
	for _, log := range head.Streams {
		if !slices.Contains(reads, log.Stream) || parts[log.Stream] != nil {
			return errors.New("it has other streams")
		}
		p, err := log.part()
		if err != nil {
			return err
		}
		was := d.loading.part(log.Stream, d.device)
		if p.Down.Seq == 0 {
			p.Epoch = was.Epoch // it has nothing of that life
		}
		if p.Epoch != was.Epoch && !was.Epoch.IsZero() {
			return errors.New("it is of another life of the home store")
		}
		if was.Down.Seq > 0 {
			return errors.New("the log is being read already")
		}
		p.Acked = was.Acked
		parts[log.Stream] = &p
	}
	base, err := book.Restore(raw)
	if err != nil {
		return err
	}
	d.base, d.loading.parts, d.loading.quick, d.loading.unmet = base, parts, true, map[string]snapshotLog{}
	for _, log := range head.Streams {
		if log.Down.Seq > 0 {
			d.loading.unmet[log.Stream] = log
		}
	}
	return nil
}

func (log snapshotLog) part() (sync.Part, error) {
	p := sync.Part{Stream: log.Stream}
	var err error
	if p.Epoch, err = readEpoch(log.Epoch); err != nil {
		return p, err
	}
	if p.Down, err = log.Down.read(); err != nil {
		return p, err
	}
	if p.Own, err = log.Own.read(); err != nil {
		return p, err
	}
	for _, s := range log.Steps {
		step, err := s.read()
		if err != nil {
			return p, err
		}
		p.Steps = append(p.Steps, step)
	}
	return p, unhex(p.MAC[:], log.MAC)
}

// meets notes that a chunk which follows holds the number at which the snapshot of its stream ends.
func (l *loading) meets(h loadHead) {
	if log, ok := l.unmet[h.Stream]; ok && h.From <= log.Down.Seq && log.Down.Seq <= h.To && h.Epoch == log.Epoch {
		delete(l.unmet, h.Stream)
	}
}

// notFromSnapshot makes the shell read everything from its entries.
func notFromSnapshot(why error) *book.Refusal {
	return &book.Refusal{Code: "snapshot", Says: "The book on this phone does not begin from its snapshot: " + why.Error() + ".", Hint: "Nothing was changed: it is read from its entries."}
}
