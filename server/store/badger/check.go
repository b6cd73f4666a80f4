package badger

import (
	"errors"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/sync"
)

// readLog reads every envelope into the ledger and compares it with the heads and hashes that were written with them.
// Anything missing or altered is *store.Damaged, with the first and last number that cannot be trusted.
func readLog(txn *engine.Txn, ledger *store.Ledger) error {
	heads, err := readHeads(txn)
	if err != nil {
		return err
	}
	kept, err := readKept(txn)
	if err != nil {
		return err
	}
	it := txn.NewIterator(engine.IteratorOptions{Prefix: []byte{tagLog}})
	defer it.Close()
	for it.Rewind(); it.Valid(); it.Next() {
		stream, seq, err := parseLineKey(it.Item().Key())
		if err != nil {
			return err
		}
		at := ledger.Head(stream).Seq
		if seq != at+1 {
			return &store.Damaged{Stream: stream, First: at + 1, Last: seq - 1, How: "are missing"}
		}
		if seq > heads[stream].Seq {
			return &store.Damaged{Stream: stream, First: seq, Last: seq, How: "stand after the end that was written with them"}
		}
		err = it.Item().Value(func(envelope []byte) error { return ledger.Load(stream, envelope) })
		if err != nil {
			return &store.Damaged{Stream: stream, First: seq, Last: seq, How: "cannot be read: " + err.Error()}
		}
		if seq%store.Step == 0 {
			if want, ok := kept[mark{stream, seq}]; !ok || want != ledger.Head(stream).Hash {
				return &store.Damaged{Stream: stream, First: seq - store.Step + 1, Last: seq, How: "do not match their hash"}
			}
		}
	}
	for stream, head := range heads {
		got := ledger.Head(stream)
		if got.Seq < head.Seq {
			return &store.Damaged{Stream: stream, First: got.Seq + 1, Last: head.Seq, How: "are missing"}
		}
		if got.Hash != head.Hash {
			return &store.Damaged{Stream: stream, First: head.Seq/store.Step*store.Step + 1, Last: head.Seq, How: "do not match their hash"}
		}
	}
	return nil
}

type mark struct {
	stream string
	seq    uint64
}

func readHeads(txn *engine.Txn) (map[string]store.Head, error) {
	heads := map[string]store.Head{}
	err := scan(txn, tagHead, func(key, value []byte) error {
		if len(key) < 2 || len(key) != 2+int(key[1]) {
			return errors.New("the key of a head has the wrong length")
		}
		head, err := parseHead(value)
		heads[string(key[2:])] = head
		return err
	})
	return heads, err
}

func readKept(txn *engine.Txn) (map[mark]sync.Hash, error) {
	kept := map[mark]sync.Hash{}
	err := scan(txn, tagKept, func(key, value []byte) error {
		stream, seq, err := parseLineKey(key)
		if err != nil {
			return err
		}
		if len(value) != len(sync.Hash{}) {
			return errors.New("a kept hash has the wrong length")
		}
		kept[mark{stream, seq}] = sync.Hash(value)
		return nil
	})
	return kept, err
}

func scan(txn *engine.Txn, tag byte, each func(key, value []byte) error) error {
	it := txn.NewIterator(engine.IteratorOptions{Prefix: []byte{tag}})
	defer it.Close()
	for it.Rewind(); it.Valid(); it.Next() {
		item := it.Item()
		if err := item.Value(func(value []byte) error { return each(item.Key(), value) }); err != nil {
			return err
		}
	}
	return nil
}
