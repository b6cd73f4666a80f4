// Package store says what it means to keep a book: an append-only journal of entries in a few named streams, the same
// contract for a folder on a home computer and for any database that may stand behind it later. No engine's type
// appears here.
//
// Words: an entry is what a device wrote; an envelope is the entry with the store's own number, time and verdict around
// it (see package sync). A stream's log is the dense line of its envelopes from 1; its running hash covers every byte
// of them. A device's own line within a stream is the dense line of that device's entries from 1; its chain covers
// every byte of those.
//
// Every implementation runs the suite in storetest.
package store

import (
	"context"

	"stillroom/sync"
)

// Head is the last number of a line and the hash over everything up to it. An empty line has number 0 and the hash
// that sync.RunningSeed or sync.ChainSeed gives.
type Head = sync.Head

// Meta is what the store itself adds to the entries of one Append.
type Meta struct {
	// At is the store's own clock, Unix milliseconds.
	At int64
	// Offset is the device's clock minus the store's, milliseconds, as first measured for its connection; 0 when unknown.
	Offset int64
	// Held tells, entry by entry, whether the writer's role does not allow this kind, so that it is kept but not applied
	// until the owner accepts it. Nil holds nothing.
	Held func(sync.Entry) bool
	// Last, when not zero, is the device's chain after the last entry as the device knows it. Another value is a fork.
	Last sync.Hash
	// Epoch, when not zero, is the store's epoch as the device knows it. Another value is refused with Epoch.
	Epoch sync.Epoch
}

// Ack says what is on disk when Append returns.
type Ack struct {
	// Device is the device's own line: everything up to Device.Seq is durable.
	Device Head
	// First and Last are the numbers newly given in the stream's log; both 0 when everything was there already.
	First, Last uint64
}

// Store keeps one book. All methods may be called from many goroutines at once.
type Store interface {
	// Epoch is random, drawn once when the store was made, and the same at every opening.
	Epoch() sync.Epoch

	// Damage is what was found damaged at opening, the first in each stream. A store with damage is for reading: what
	// stands before the first bad number can be read, Head is the last of it, and nothing is taken.
	Damage() []*Damaged

	// Key is the secret that authenticates heads (sync.HeadMAC), drawn with the epoch. It never leaves the store's process.
	// It is nil when it is lost with what is damaged: such a store vouches for nothing, and no book goes on from it.
	Key() []byte

	// Append adds a device's entries that follow its own number after: entries[i] must be the canonical bytes of the
	// entry numbered after+1+i. It is atomic (all of them or none), durable (when it returns without an error, they
	// survive the loss of power), and idempotent: entries that are there already with the same bytes are skipped, so the
	// same call may be made again after any failure. New entries get the next numbers of the stream's log in order.
	//
	// Errors, each leaving the store as it was:
	//   *Malformed  an entry does not parse, is too large, or does not carry the number that its place asks for; more than
	//               sync.MaxBatchEntries or sync.MaxBatchBytes at once
	//   *Gap        after is beyond the device's line; it names what is held
	//   *Fork       the same device and number is there with other bytes, or Meta.Last differs
	//   *Epoch      Meta.Epoch is another than this store's
	//   *Full       not enough free space; nothing was written
	//   *ReadOnly   the store was opened for reading
	//   *Damaged    something was found damaged at opening
	//   *Failed     the disk refused; what is on disk is unknown until the store is opened again, and every later Append
	//               says the same
	//   *Closed     after Close
	// or the context's error when it ended before the entries were handed on. An Append that has been handed on runs to
	// its end.
	Append(ctx context.Context, stream string, device sync.DeviceID, after uint64, entries [][]byte, meta Meta) (Ack, error)

	// TakeBack takes in at most sync.MaxBatchEntries envelopes and sync.MaxBatchBytes of the end of a log that this store
	// gave out in another life, proved by the caller. It is atomic, durable and idempotent as Append is. An entry that is
	// there already stays where it is; what follows the log's end in common keeps its number and its bytes; the rest comes
	// behind, in order, with new numbers. Errors are Append's, and *Fork for another entry under the same address or,
	// within one life, for a log that went on otherwise. The function TakeBack takes a whole end.
	TakeBack(ctx context.Context, t Tail) (Back, error)

	// Read gives the canonical bytes of the envelopes that follow number after, in order, without skipping any: the first
	// is after+1. It stops before maxItems or maxBytes would be passed but gives at least one when there is one; 0 means
	// no limit. Nothing is given that is not durable. An envelope that ought to be there and cannot be read is *Damaged.
	Read(ctx context.Context, stream string, after uint64, maxItems, maxBytes int) ([][]byte, error)

	// ReadDevice is Read for one device's own line: the canonical bytes of its entries.
	ReadDevice(ctx context.Context, stream string, device sync.DeviceID, after uint64, maxItems, maxBytes int) ([][]byte, error)

	// Head is the end of the stream's log. A stream that holds nothing has an empty head; there are no unknown streams.
	Head(stream string) Head

	// HashAt is the running hash after number seq; false when seq is beyond the head or the log cannot be read there.
	HashAt(stream string, seq uint64) (sync.Hash, bool)

	// DeviceHead is the end of a device's own line; empty for a device never seen.
	DeviceHead(stream string, device sync.DeviceID) Head

	// DeviceHashAt is the device's chain after its number seq; false when seq is beyond its head.
	DeviceHashAt(stream string, device sync.DeviceID, seq uint64) (sync.Hash, bool)

	// Streams names the streams that hold something, sorted.
	Streams() []string

	// Devices names the devices that wrote in a stream, sorted.
	Devices(stream string) []sync.DeviceID

	// Watch gives a channel that receives after the stream's log grew durably. Signals are merged: a receiver reads from
	// where it stands to the head. It receives once at the start. stop ends it.
	Watch(stream string) (grew <-chan struct{}, stop func())

	// Close waits for Appends that were handed on and ends. A second Close does nothing.
	Close() error
}
