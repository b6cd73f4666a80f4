package sync

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
)

// Hash is SHA-256 over a log so far.
type Hash [32]byte

// ChainSeed is where a device's own chain in a stream begins. It binds both names into every later hash.
func ChainSeed(stream string, d DeviceID) Hash {
	b := appendString([]byte("stillroom chain 1"), stream)
	return sha256.Sum256(append(b, d[:]...))
}

// RunningSeed is where the store's running hash of a stream begins. No epoch is in it: after a restore, entries that come
// back keep their numbers and their hashes.
func RunningSeed(stream string) Hash {
	return sha256.Sum256(appendString([]byte("stillroom running 1"), stream))
}

// Next is the hash after one more item: SHA-256 of the hash so far and the item's bytes.
func (h Hash) Next(item []byte) Hash {
	var room [256]byte // most items fit, so that nothing is allocated
	b := append(append(room[:0], h[:]...), item...)
	return sha256.Sum256(b)
}

// HeadMAC is the store's own mark on a head that it issued, by which a restored store knows its old tail again:
// HMAC-SHA256 with the key that stands in every backup.
func HeadMAC(key []byte, epoch Epoch, stream string, seq uint64, running Hash) [32]byte {
	m := hmac.New(sha256.New, key)
	b := append([]byte("stillroom head 1"), epoch[:]...)
	b = appendString(b, stream)
	b = binary.AppendUvarint(b, seq)
	m.Write(append(b, running[:]...))
	var out [32]byte
	m.Sum(out[:0])
	return out
}

// Head is how far a log goes: its last number, 0 when it is empty, and the hash after that item, or the log's seed.
type Head struct {
	Seq  uint64
	Hash Hash
}

func appendString(dst []byte, s string) []byte {
	dst = binary.AppendUvarint(dst, uint64(len(s)))
	return append(dst, s...)
}

// RowSum is what a phone keeps beside an own entry that did not come back, since no chain covers its bytes on the disk
// until then: the first 8 bytes of their SHA-256, in hexadecimal.
func RowSum(entry []byte) string {
	sum := sha256.Sum256(entry)
	return hex.EncodeToString(sum[:8])
}
