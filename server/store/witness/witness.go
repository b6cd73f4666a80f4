// Package witness keeps, outside the journal's own files, how far the journal reached: one small file that a lost or
// altered end of the journal cannot take with it.
//
// The file has two places of 64 KiB that are written in turn, each with one line of JSON and a line with its SHA-256.
// A write that is cut off spoils one place and leaves the other, which is one step older. It is made whole by
// durable.Disk.Replace and from then on written in its places, each write followed by a sync: measured on this kind of
// disk that costs a tenth of a rename, and a rename for every batch would be several times slower than the journal.
package witness

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"stillroom/server/store"
	"stillroom/server/store/durable"
	"stillroom/sync"
)

// place is the size of each of the two, in bytes: enough for 400 streams.
const place = 64 << 10

// Marks is what the witness says: the journal's epoch and the head of each stream that holds something.
type Marks struct {
	Epoch sync.Epoch
	Heads map[string]store.Head
}

// Entries is how many entries there are in all streams; none when there is no witness.
func (m *Marks) Entries() (n uint64) {
	if m == nil {
		return 0
	}
	for _, h := range m.Heads {
		n += h.Seq
	}
	return n
}

// Bad: the file is there and neither of its places can be read.
type Bad struct{ Path string }

func (e *Bad) Error() string {
	return fmt.Sprintf("the witness %s was altered or cut off; it cannot say whether the journal lost its end", e.Path)
}

// Hint is the next step.
func (e *Bad) Hint() string {
	return "the journal is checked by its own hashes; stillroom serve sets the bad file aside and writes a new one"
}

type line struct {
	Count   uint64          `json:"count"`
	Epoch   string          `json:"epoch"`
	Streams map[string]head `json:"streams"`
}

type head struct {
	Seq  uint64 `json:"seq"`
	Hash string `json:"hash"`
}

// Read gives what the file says. Errors: fs.ErrNotExist, *Bad, or the disk's own.
func Read(path string) (Marks, error) {
	m, _, err := read(path)
	return m, err
}

func read(path string) (Marks, uint64, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return Marks{}, 0, err
	}
	var best Marks
	var count uint64
	for at := 0; at < 2*place && at < len(data); at += place {
		m, n, err := parse(data[at:min(at+place, len(data))])
		if err == nil && n > count {
			best, count = m, n
		}
	}
	if count == 0 {
		return Marks{}, 0, &Bad{Path: path}
	}
	return best, count, nil
}

var errPlace = errors.New("this place holds nothing that can be trusted")

func parse(data []byte) (Marks, uint64, error) {
	text, rest, ok := bytes.Cut(data, []byte("\n"))
	sum := sha256.Sum256(text)
	if want := hex.EncodeToString(sum[:]) + "\n"; !ok || !bytes.HasPrefix(rest, []byte(want)) {
		return Marks{}, 0, errPlace
	}
	var l line
	if json.Unmarshal(text, &l) != nil {
		return Marks{}, 0, errPlace
	}
	m := Marks{Heads: map[string]store.Head{}}
	if n, err := hex.Decode(m.Epoch[:], []byte(l.Epoch)); err != nil || n != len(m.Epoch) {
		return Marks{}, 0, errPlace
	}
	for name, h := range l.Streams {
		out := store.Head{Seq: h.Seq}
		if n, err := hex.Decode(out.Hash[:], []byte(h.Hash)); err != nil || n != len(out.Hash) {
			return Marks{}, 0, errPlace
		}
		m.Heads[name] = out
	}
	return m, l.Count, nil
}

func (m Marks) text(count uint64) ([]byte, error) {
	l := line{Count: count, Epoch: hex.EncodeToString(m.Epoch[:]), Streams: map[string]head{}}
	for name, h := range m.Heads {
		l.Streams[name] = head{h.Seq, hex.EncodeToString(h.Hash[:])}
	}
	text, err := json.Marshal(l)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(text)
	text = append(text, '\n')
	text = append(hex.AppendEncode(text, sum[:]), '\n')
	if len(text) > place {
		return nil, fmt.Errorf("the witness would need %d bytes for %d streams and has %d", len(text), len(m.Heads), place)
	}
	return text, nil
}

// File is a witness that is open for writing, by one goroutine at a time.
type File struct {
	f     *os.File
	disk  *durable.Disk
	count uint64
}

// Make puts a new witness in the place of whatever is there.
func Make(path string, disk *durable.Disk, m Marks) (*File, error) {
	text, err := m.text(1)
	if err != nil {
		return nil, err
	}
	if err := disk.Replace(path, append(text, make([]byte, 2*place-len(text))...)); err != nil {
		return nil, err
	}
	return Open(path, disk)
}

// Open opens a witness that can be read, to go on with it.
func Open(path string, disk *durable.Disk) (*File, error) {
	_, count, err := read(path)
	if err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return nil, err
	}
	return &File{f: f, disk: disk, count: count}, nil
}

// Write says how far the journal reaches by now; it is on disk when Write returns. The older place stays as it is.
func (w *File) Write(m Marks) error {
	text, err := m.text(w.count + 1)
	if err != nil {
		return err
	}
	if err := w.disk.WriteAt(w.f, text, int64(w.count%2)*place); err != nil {
		return err
	}
	if err := w.disk.Sync(w.f); err != nil {
		return err
	}
	w.count++
	return nil
}

// Close ends it.
func (w *File) Close() error { return w.f.Close() }

// SetAside renames a witness that cannot be read, so that a person may look at it later.
func SetAside(path string) error {
	err := os.Rename(path, path+".bad")
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
