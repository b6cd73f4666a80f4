package badger

import (
	"encoding/binary"
	"errors"

	"stillroom/server/store"
	"stillroom/sync"
)

const (
	tagMeta = 'm'
	tagLog  = 'l'
	tagKept = 'c'
	tagHead = 'h'

	// format is the version of the layout in doc.go.
	format = 1
)

var (
	keyFormat = []byte("mformat")
	keyEpoch  = []byte("mepoch")
	keyMAC    = []byte("mkey")
)

func lineKey(tag byte, stream string, seq uint64) []byte {
	key := make([]byte, 0, 10+len(stream))
	key = append(key, tag, byte(len(stream)))
	key = append(key, stream...)
	return binary.BigEndian.AppendUint64(key, seq)
}

func linePrefix(tag byte, stream string) []byte {
	key := make([]byte, 0, 2+len(stream))
	key = append(key, tag, byte(len(stream)))
	return append(key, stream...)
}

func parseLineKey(key []byte) (stream string, seq uint64, err error) {
	if len(key) < 10 || len(key) != 10+int(key[1]) {
		return "", 0, errors.New("a key of the log has the wrong length")
	}
	n := int(key[1])
	return string(key[2 : 2+n]), binary.BigEndian.Uint64(key[2+n:]), nil
}

func headKey(stream string) []byte { return linePrefix(tagHead, stream) }

func headValue(h store.Head) []byte {
	return append(binary.BigEndian.AppendUint64(make([]byte, 0, 40), h.Seq), h.Hash[:]...)
}

func parseHead(value []byte) (store.Head, error) {
	if len(value) != 40 {
		return store.Head{}, errors.New("a head has the wrong length")
	}
	return store.Head{Seq: binary.BigEndian.Uint64(value), Hash: sync.Hash(value[8:])}, nil
}
