package backup

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"time"

	"stillroom/server/store"
	"stillroom/sync"
)

const magic = "stillroom backup 1\n"

// Line is one stream of a backup.
type Line struct {
	Name string `json:"name"`
	Seq  uint64 `json:"seq"`
	Hash []byte `json:"hash"`
}

type about struct {
	Made    string `json:"made"`
	Epoch   []byte `json:"epoch"`
	Key     []byte `json:"key"`
	Devices []byte `json:"devices"`
	Streams []Line `json:"streams"`
}

// Info says what a backup holds.
type Info struct {
	Path    string
	Made    time.Time
	Streams []Line
	Bytes   int64
	// LeftOut counts photos beside the backup that were altered or could not be read.
	LeftOut int
	// Missing counts photos that a restored book's entries name and that are not there.
	Missing int
	// Photos tells how the photos fared when the backup was made.
	Photos Photos
}

// Entries counts those of all streams.
func (i Info) Entries() (n uint64) {
	for _, l := range i.Streams {
		n += l.Seq
	}
	return n
}

// Bad: a file that is no backup, or one that was cut off or altered.
type Bad struct{ Path, Why string }

func (e *Bad) Error() string { return fmt.Sprintf("%s cannot be used as a backup: %s", e.Path, e.Why) }

// Hint is the next step.
func (e *Bad) Hint() string {
	return "nothing was changed; take another backup, an older one if need be"
}

type content struct {
	about
	logs map[string][][]byte
}

func (c content) bytes() ([]byte, error) {
	head, err := json.Marshal(c.about)
	if err != nil {
		return nil, err
	}
	out := append(binary.AppendUvarint([]byte(magic), uint64(len(head))), head...)
	for _, l := range c.Streams {
		for _, raw := range c.logs[l.Name] {
			out = append(binary.AppendUvarint(out, uint64(len(raw))), raw...)
		}
	}
	sum := sha256.Sum256(out)
	return append(out, sum[:]...), nil
}

// parse reads a backup from end to end: its sum, every number, and each stream's running hash.
func parse(path string, data []byte) (c content, err error) {
	bad := func(format string, args ...any) (content, error) {
		return content{}, &Bad{path, fmt.Sprintf(format, args...)}
	}
	if !bytes.HasPrefix(data, []byte(magic)) {
		return bad("it does not begin as one")
	}
	body, sum := data[:max(len(data)-sha256.Size, 0)], data[max(len(data)-sha256.Size, 0):]
	if got := sha256.Sum256(body); len(body) < len(magic) || !bytes.Equal(got[:], sum) {
		return bad("it was cut off or altered")
	}
	r := body[len(magic):]
	next := func() ([]byte, bool) {
		n, size := binary.Uvarint(r)
		if size <= 0 || n > uint64(len(r)-size) {
			return nil, false
		}
		item := r[size : size+int(n) : size+int(n)]
		r = r[size+int(n):]
		return item, true
	}
	head, ok := next()
	if !ok {
		return bad("what it says of itself is missing")
	}
	if err := json.Unmarshal(head, &c.about); err != nil || len(c.Key) == 0 || len(c.Epoch) != len(sync.Epoch{}) {
		return bad("what it says of itself cannot be read")
	}
	c.logs = map[string][][]byte{}
	for _, l := range c.Streams {
		at := store.Head{Hash: sync.RunningSeed(l.Name)}
		for at.Seq < l.Seq {
			raw, ok := next()
			if !ok {
				return bad("entry %d of %s is missing", at.Seq+1, l.Name)
			}
			v, err := sync.ParseEnvelope(raw)
			if err != nil || v.Seq != at.Seq+1 {
				return bad("entry %d of %s cannot be read", at.Seq+1, l.Name)
			}
			at = store.Head{Seq: v.Seq, Hash: at.Hash.Next(raw)}
			c.logs[l.Name] = append(c.logs[l.Name], raw)
		}
		if !bytes.Equal(at.Hash[:], l.Hash) {
			return bad("the entries of %s do not match their hash", l.Name)
		}
	}
	if len(r) > 0 {
		return bad("there is more in it than it says")
	}
	return c, nil
}

func (c content) info(path string, size int) Info {
	made, _ := time.Parse(time.RFC3339, c.Made)
	return Info{Path: path, Made: made, Streams: c.Streams, Bytes: int64(size)}
}
