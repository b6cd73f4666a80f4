package backup

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"time"

	"stillroom/server/store"
	"stillroom/sync"
)

const (
	magic = "stillroom backup 1\n"
	// magicAdded begins a file that holds what came after another one.
	magicAdded = "stillroom added 1\n"
)

// later is how a backup of another layout begins.
var later = regexp.MustCompile(`^stillroom [a-z]+ [0-9]+$`)

const newer = "a newer Stillroom wrote it, in a layout that this program cannot read"

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
	// Base is the full backup that a file with what came since stands on, and After is where that one ends: its streams. A
	// full one has neither.
	Base  *Base  `json:"base,omitempty"`
	After []Line `json:"after,omitempty"`
}

// Base is a full backup that another file stands on: its name is for people, and its sum is what proves it.
type Base struct {
	Name string `json:"name"`
	Sum  []byte `json:"sum"`
}

// from is where the entries of a stream in this file begin: behind its base, or at the first.
func (a about) from(stream string) store.Head {
	for _, l := range a.After {
		if l.Name == stream {
			return store.Head{Seq: l.Seq, Hash: sync.Hash(l.Hash)}
		}
	}
	return store.Head{Hash: sync.RunningSeed(stream)}
}

// Info says what a backup holds.
type Info struct {
	Path    string
	Made    time.Time
	Streams []Line
	Bytes   int64
	// Base names the file that it stands on; "" for a full one. Added counts the entries that it holds itself.
	Base  string
	Added uint64
	// LeftOut counts photos beside the backup that were altered or could not be read.
	LeftOut int
	// Unread says what could not be read of the damaged book's folder that the book was made of.
	Unread []string
	// Missing counts photos that a restored book's entries name and that are not there.
	Missing int
	// NoPhotos says why a folder of photos beside the backup could not be looked through.
	NoPhotos error
	// NoList says why a book that was made of a damaged one lists no device; nil where the list came with it.
	NoList error
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

// Bad: a file that is no backup, one that was cut off or altered, or one whose base is not there. Next is what can be done
// instead.
type Bad struct{ Path, Why, Next string }

func (e *Bad) Error() string { return fmt.Sprintf("%s cannot be used as a backup: %s", e.Path, e.Why) }

// Hint is the next step.
func (e *Bad) Hint() string {
	return "nothing was changed; " + cmp.Or(e.Next, "take another backup, an older one if need be")
}

// content is what a file holds: the entries of each stream after from.
type content struct {
	about
	logs map[string][][]byte
	sum  [sha256.Size]byte // of the file that it was read from
}

func (c content) bytes() ([]byte, error) {
	head, err := json.Marshal(c.about)
	if err != nil {
		return nil, err
	}
	begins := magic
	if c.Base != nil {
		begins = magicAdded
	}
	out := append(binary.AppendUvarint([]byte(begins), uint64(len(head))), head...)
	for _, l := range c.Streams {
		for _, raw := range c.logs[l.Name] {
			out = append(binary.AppendUvarint(out, uint64(len(raw))), raw...)
		}
	}
	sum := sha256.Sum256(out)
	return append(out, sum[:]...), nil
}

// summed compares a file with the sum at its end, and gives what lies between how a backup begins and that.
func summed(data []byte) (body []byte, added bool, sum [sha256.Size]byte, why string) {
	begins := magic
	if added = bytes.HasPrefix(data, []byte(magicAdded)); added {
		begins = magicAdded
	} else if !bytes.HasPrefix(data, []byte(magic)) {
		if line, _, _ := bytes.Cut(data[:min(len(data), 40)], []byte("\n")); later.Match(line) {
			return nil, false, sum, newer
		}
		return nil, false, sum, "it does not begin as one"
	}
	end := len(data) - sha256.Size
	if end < len(begins) {
		return nil, added, sum, "it was cut off"
	}
	if sum = sha256.Sum256(data[:end]); !bytes.Equal(sum[:], data[end:]) {
		return nil, added, sum, "it was cut off or altered"
	}
	return data[len(begins):end], added, sum, ""
}

// next takes one item after its length.
func next(r *[]byte) ([]byte, bool) {
	n, size := binary.Uvarint(*r)
	if size <= 0 || n > uint64(len(*r)-size) {
		return nil, false
	}
	item := (*r)[size : size+int(n) : size+int(n)]
	*r = (*r)[size+int(n):]
	return item, true
}

// parse reads one file from end to end: its sum, every number, and each stream's running hash.
func parse(path string, data []byte) (c content, err error) {
	bad := func(format string, args ...any) (content, error) {
		return content{}, &Bad{Path: path, Why: fmt.Sprintf(format, args...)}
	}
	r, added, sum, why := summed(data)
	if why == newer {
		return content{}, &Bad{Path: path, Why: why, Next: "update Stillroom on this computer, then ask again"}
	} else if why != "" {
		return bad("%s", why)
	}
	head, ok := next(&r)
	if !ok {
		return bad("what it says of itself is missing")
	}
	if err := json.Unmarshal(head, &c.about); err != nil || !c.about.fits(added) {
		return bad("what it says of itself cannot be read")
	}
	c.logs, c.sum = map[string][][]byte{}, sum
	for _, l := range c.Streams {
		at := c.from(l.Name)
		for at.Seq < l.Seq {
			raw, ok := next(&r)
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
		if at.Seq != l.Seq || !bytes.Equal(at.Hash[:], l.Hash) {
			return bad("the entries of %s do not match their hash", l.Name)
		}
	}
	if len(r) > 0 {
		return bad("there is more in it than it says")
	}
	return c, nil
}

// fits tells whether what a file says of itself can be so.
func (a about) fits(added bool) bool {
	for _, l := range slices.Concat(a.Streams, a.After) {
		if len(l.Hash) != len(sync.Hash{}) {
			return false
		}
	}
	return len(a.Key) > 0 && len(a.Epoch) == len(sync.Epoch{}) && (a.Base != nil) == added && (added || a.After == nil)
}

func (c content) info(path string, size int) Info {
	made, _ := time.Parse(time.RFC3339, c.Made)
	i := Info{Path: path, Made: made, Streams: c.Streams, Bytes: int64(size)}
	if c.Base != nil {
		i.Base = c.Base.Name
	}
	for _, l := range c.Streams {
		i.Added += l.Seq - c.from(l.Name).Seq
	}
	return i
}
