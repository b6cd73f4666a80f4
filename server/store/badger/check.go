package badger

import (
	"bytes"
	"errors"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/server/store/witness"
	"stillroom/sync"
)

// found is what the whole journal was read to.
type found struct {
	ledger *store.Ledger
	epoch  sync.Epoch
	key    []byte
	// bare: not one key is there, as in a folder that was just begun.
	bare bool
	// damage is the first of each stream, sorted by stream; the ledger ends before it.
	damage []*store.Damaged
}

// readAll reads every envelope and compares it with the hashes and heads that were written with it and with the
// witness, if there is one. Each stream's ledger ends before its first bad number. An error is a journal that cannot be
// read at all or was written by a newer program.
func readAll(db *engine.DB, seen *witness.Marks) (found, error) {
	f := found{ledger: store.NewLedger()}
	err := db.View(func(txn *engine.Txn) error {
		if err := f.readMeta(txn); err != nil {
			return err
		}
		if f.key == nil {
			return nil
		}
		return f.readLogs(txn, seen)
	})
	if err != nil {
		return found{}, err
	}
	switch {
	case seen == nil:
	case f.key == nil && seen.Entries() > 0:
		f.lostAll(seen, store.Missing)
	case f.key != nil && seen.Epoch != f.epoch:
		f.damage = append(f.damage, &store.Damaged{How: "is of another epoch than the witness beside it: one of the two comes from another folder or copy"})
	}
	if f.key == nil && !f.bare && f.damage == nil {
		f.damage = []*store.Damaged{{How: "has lost its epoch and key"}}
	}
	return f, nil
}

// lostAll names everything that the witness speaks of.
func (f *found) lostAll(seen *witness.Marks, how string) {
	for _, stream := range sorted(seen.Heads) {
		if last := seen.Heads[stream].Seq; last > 0 {
			f.damage = append(f.damage, &store.Damaged{Stream: stream, First: 1, Last: last, How: how})
		}
	}
}

func (f *found) readMeta(txn *engine.Txn) error {
	version, err := value(txn, keyFormat)
	if errors.Is(err, engine.ErrKeyNotFound) {
		it := txn.NewIterator(engine.IteratorOptions{})
		defer it.Close()
		it.Rewind()
		f.bare = !it.Valid()
		return nil
	}
	if err != nil {
		return err
	}
	if len(version) != 1 || version[0] != format {
		return &store.Newer{What: "the journal"}
	}
	epoch, err := value(txn, keyEpoch)
	if err != nil || len(epoch) != len(f.epoch) {
		return nil // named by readAll, since there is no key
	}
	key, err := value(txn, keyMAC)
	if err != nil {
		return nil
	}
	f.epoch, f.key = sync.Epoch(epoch), key
	return nil
}

func (f *found) readLogs(txn *engine.Txn, seen *witness.Marks) error {
	heads, err := readHeads(txn)
	if err != nil {
		return err
	}
	kept, err := readKept(txn)
	if err != nil {
		return err
	}
	lines := map[string]*reading{}
	line := func(stream string) *reading {
		if lines[stream] == nil {
			lines[stream] = &reading{stream: stream, ledger: f.ledger, head: heads[stream], kept: kept, hash: sync.RunningSeed(stream)}
			if seen != nil {
				lines[stream].seen = seen.Heads[stream]
			}
		}
		return lines[stream]
	}
	it := txn.NewIterator(engine.IteratorOptions{Prefix: []byte{tagLog}})
	defer it.Close()
	for it.Rewind(); it.Valid(); it.Next() {
		stream, seq, err := parseLineKey(it.Item().Key())
		if err != nil {
			return err
		}
		l := line(stream)
		if l.bad != nil {
			continue
		}
		if err := it.Item().Value(func(envelope []byte) error { l.take(seq, envelope); return nil }); err != nil {
			l.end(&store.Damaged{Stream: stream, First: seq, Last: seq, How: store.NotRead})
		}
	}
	for stream := range heads {
		line(stream)
	}
	if seen != nil {
		for stream := range seen.Heads {
			line(stream)
		}
	}
	for _, stream := range sorted(lines) {
		if l := lines[stream]; l.finish() != nil {
			f.damage = append(f.damage, l.bad)
		}
	}
	return nil
}

type waiting struct {
	envelope sync.Envelope
	hash     sync.Hash
}

// reading is one stream's log as it is read. Envelopes wait until a hash that was written with them confirms them.
type reading struct {
	stream     string
	ledger     *store.Ledger
	head, seen store.Head
	kept       map[mark]sync.Hash

	seq     uint64
	hash    sync.Hash
	waiting []waiting
	bad     *store.Damaged
}

func (l *reading) take(seq uint64, envelope []byte) {
	switch {
	case seq != l.seq+1:
		l.end(&store.Damaged{Stream: l.stream, First: l.seq + 1, Last: seq - 1, How: store.Missing})
		return
	case seq > l.head.Seq:
		l.end(&store.Damaged{Stream: l.stream, First: seq, Last: seq, How: store.Surplus})
		return
	}
	v, err := sync.ParseEnvelope(bytes.Clone(envelope))
	if err != nil || v.Seq != seq {
		l.end(&store.Damaged{Stream: l.stream, First: seq, Last: seq, How: store.NotRead})
		return
	}
	l.seq, l.hash = seq, l.hash.Next(envelope)
	l.waiting = append(l.waiting, waiting{v, l.hash})
	if seq == l.seen.Seq && l.hash != l.seen.Hash {
		l.alter(store.Replaced)
		return
	}
	if seq%store.Step == 0 {
		if want, ok := l.kept[mark{l.stream, seq}]; !ok || want != l.hash {
			l.alter(store.Altered)
			return
		}
		l.load()
	}
}

// alter ends the log before everything that waits: one of them was altered and nobody can tell which.
func (l *reading) alter(how string) {
	first := min(l.seq-uint64(len(l.waiting))+1, l.seq)
	l.waiting = nil
	l.bad = &store.Damaged{Stream: l.stream, First: first, Last: l.seq, How: how}
}

// end ends the log after what waits, which is dense and readable.
func (l *reading) end(why *store.Damaged) {
	l.load()
	if l.bad == nil {
		l.bad = why
	}
}

func (l *reading) load() {
	for _, w := range l.waiting {
		if l.ledger.Load(l.stream, w.envelope, w.hash) != nil {
			seq := l.ledger.Head(l.stream).Seq + 1
			l.bad = &store.Damaged{Stream: l.stream, First: seq, Last: seq, How: store.NotRead}
			break
		}
	}
	l.waiting = l.waiting[:0]
}

// finish compares the end of the log with the head that was written with it and with the witness.
func (l *reading) finish() *store.Damaged {
	last := max(l.head.Seq, l.seen.Seq)
	switch {
	case l.bad != nil:
	case l.seq < last:
		l.end(&store.Damaged{Stream: l.stream, First: l.seq + 1, Last: last, How: store.Missing})
	case l.seq > 0 && l.head.Hash != l.hash:
		l.alter(store.Altered)
	default:
		l.load()
	}
	return l.bad
}
