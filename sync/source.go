package sync

// Log is one of the two logs of a stream.
type Log byte

const (
	// Up is a device's own entries under ChainSeed, from the device to the store.
	Up Log = 1
	// Down is the store's envelopes under RunningSeed, from the store to devices.
	Down Log = 2
	// Back is the end of the store's log that one side has and the other lost or numbers otherwise: from a phone what it
	// holds of an earlier life, from the store what takes its place. An acknowledgement of it says that it was received
	// and promises nothing about a disk.
	Back Log = 3
)

// String names the log for messages to people who read logs.
func (l Log) String() string {
	switch l {
	case Up:
		return "up"
	case Down:
		return "down"
	case Back:
		return "back"
	}
	return "unknown"
}

// Source is what a Link reads from: memory or a local read. It answers with
// durable things only. On the store's side Up means the log of the device
// that the connection authenticated as; nothing is asked before that.
type Source interface {
	// Head gives the log's last number and hash: 0 and the seed when empty.
	Head(stream string, log Log) (seq uint64, h Hash)
	// HashAt gives the hash after item seq (the seed for 0). It is false for
	// numbers above the head, and on a phone's Up below what was acknowledged.
	HashAt(stream string, log Log, seq uint64) (Hash, bool)
	// Read gives the items after number `after`, in order and without a gap:
	// at most maxItems and at most maxBytes in sum, at least one if there is
	// one. The Link does not change what it is given and keeps it no longer
	// than the call.
	Read(stream string, log Log, after uint64, maxItems, maxBytes int) [][]byte
}
