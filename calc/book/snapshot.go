package book

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"maps"
	"slices"

	"stillroom/sync"
)

// Fold is the version of what entries add up to and of how a snapshot has it. It is raised by one with every change
// after which the same entries give another book: a rule of Apply, a field or a table of State, a keep method. A snapshot
// of another fold is not read; the book is then folded from its entries, which are the truth.
const Fold = 1

// ErrOtherFold is the error of Restore for a snapshot that another fold made, of an older or a newer program: it is
// sound, and of no use here.
var ErrOtherFold = errors.New("the snapshot is of another program's fold")

var errDamaged = errors.New("the snapshot is not as it was written")

const snapshotMark = "stillroom book\n"

// foldName says which fold made a snapshot: its version, the kinds that it knew, and a sum over the keys of the given
// list, since an entry about an ingredient may fit for the reason that the list has it.
func (s *State) foldName() string {
	sum := crc32.NewIEEE()
	for _, key := range slices.Sorted(maps.Keys(s.given.Ingredients)) {
		sum.Write(append([]byte(key), 0))
	}
	return fmt.Sprintf("%s%d %d %08x\n", snapshotMark, Fold, Schema(), sum.Sum32())
}

// Saving is a snapshot that is being made, piece by piece, so that whoever waits is not kept waiting by a large book.
type Saving struct {
	k      keeper
	tables []tableKeeper
	table  int // which one is being written, and from which place
	at     int
	begun  bool
	past   int // bytes of pieces before this one
	sum    uint32
}

// Save begins a snapshot. That of an overlay is its base's: what is pending stands in none. Until it is done nothing may
// be applied to the base.
func (s *State) Save() *Saving {
	for s.base != nil {
		s = s.base
	}
	w := &Saving{tables: s.tables()}
	w.k.buf = []byte(s.foldName())
	return w
}

// Piece gives the next piece, of about as many bytes as are asked for, and whether more follows. All pieces in a row are
// the snapshot.
func (w *Saving) Piece(size int) ([]byte, bool) {
	k := &w.k
	for w.table < len(w.tables) && len(k.buf) < size {
		t := w.tables[w.table]
		if !w.begun {
			t.begin(k)
			w.begun, w.at = true, 0
		}
		var more bool
		if w.at, more = t.write(k, w.at, size); !more {
			w.table, w.begun = w.table+1, false
		}
	}
	more := w.table < len(w.tables)
	if !more {
		w.end()
	}
	out := k.buf
	w.sum, w.past = crc32.Update(w.sum, crc32.IEEETable, out), w.past+len(out)
	if !more {
		out = binary.BigEndian.AppendUint32(out, w.sum)
	}
	k.buf = nil
	return out, more
}

// end writes what the tables refer to by number, and where it begins.
func (w *Saving) end() {
	k := &w.k
	at := w.past + len(k.buf)
	k.count(len(k.devices.all))
	for _, d := range k.devices.all {
		k.buf = append(k.buf, d[:]...)
	}
	k.count(len(k.epochs.all))
	for _, e := range k.epochs.all {
		k.buf = append(k.buf, e[:]...)
	}
	k.buf = binary.BigEndian.AppendUint32(k.buf, uint32(at))
}

// Snapshot is the book as bytes, from which Restore makes it again. The same entries of each stream in the same order
// give the same bytes, on every machine, however the streams came beside each other and whichever snapshots the fold
// began from.
func (s *State) Snapshot() []byte {
	w := s.Save()
	var out []byte
	for more := true; more; {
		var piece []byte
		piece, more = w.Piece(1 << 20)
		out = append(out, piece...)
	}
	return out
}

// Restore makes a book of a snapshot. Bytes that are damaged, cut, of another fold, or that no entries can have made are
// refused whole. The book that it gives holds on to the bytes: they must not be changed.
func Restore(b []byte) (*State, error) {
	s := New()
	name := s.foldName()
	if !bytes.HasPrefix(b, []byte(name)) {
		if bytes.HasPrefix(b, []byte(snapshotMark)) {
			return nil, ErrOtherFold
		}
		return nil, errDamaged
	}
	if len(b) < len(name)+8 || crc32.ChecksumIEEE(b[:len(b)-4]) != binary.BigEndian.Uint32(b[len(b)-4:]) {
		return nil, errDamaged
	}
	b = b[:len(b)-4]
	ends := len(b) - 4
	at := binary.BigEndian.Uint32(b[ends:])
	if at < uint32(len(name)) || at > uint32(ends) {
		return nil, errDamaged
	}
	k := &keeper{reading: true, buf: b[:ends], at: int(at)}
	k.devices.all = readList[sync.DeviceID](k)
	k.epochs.all = readList[sync.Epoch](k)
	if k.err == nil && k.at != len(k.buf) {
		return nil, errSpare
	}
	k.buf, k.at = b[:at:at], len(name)
	for _, t := range s.tables() {
		if k.err == nil {
			t.read(k)
		}
	}
	switch {
	case k.err != nil:
		return nil, k.err
	case k.at != len(k.buf):
		return nil, errSpare
	case k.devices.n != uint64(len(k.devices.all)) || k.epochs.n != uint64(len(k.epochs.all)):
		return nil, errForm
	}
	s.unindexed = true
	return s, nil
}

// readList reads the list of names of eight bytes that stands behind the tables.
func readList[T ~[8]byte](k *keeper) []T {
	n := k.count(0)
	if n > (len(k.buf)-k.at)/8 {
		k.fail(errCut)
		return nil
	}
	out := make([]T, n)
	seen := make(map[T]bool, n)
	for i := range out {
		out[i] = T(k.buf[k.at : k.at+8])
		k.at += 8
		if seen[out[i]] {
			k.fail(errForm)
			return nil
		}
		seen[out[i]] = true
	}
	return out
}

// rowIn answers the batch in whose record an entry stands, nil when it stands in none. A restored book finds out where
// its rows stand when that is first asked.
func (s *State) rowIn(ref Ref) *text {
	for l := s; l != nil; l = l.base {
		if l.unindexed {
			l.unindexed = false
			l.batches.each(func(key string, b *batch) bool {
				for i := range b.rows {
					l.rowAt.edit(b.rows[i].from.ref).s = key
				}
				return true
			})
		}
	}
	return s.rowAt.get(ref)
}
