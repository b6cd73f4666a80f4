package badger

import (
	"errors"
	"maps"
	"slices"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store"
	"stillroom/sync"
)

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

// scan reads everything under a tag. Values stand in the tables beside their keys, so fetching them ahead on goroutines
// of their own, as Badger would, takes twice as long.
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

func sorted[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
