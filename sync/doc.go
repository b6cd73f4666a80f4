// Package sync carries entries between devices and a store. It is a state
// machine without input or output: no clock, no files, no network, no
// goroutines. It runs the same on a phone (in WebAssembly) and in the store.
//
// # Vocabulary
//
// An Entry is one fact that a device wrote, numbered by that device without
// gaps in each stream. A stream is a named set of entries that is kept whole.
// The store takes each entry into an Envelope, numbered across devices, and
// never changes it.
//
// Two logs of each stream travel, dense and under a running hash: Up, a
// device's own entries, from it to the store; Down, the store's envelopes,
// from the store to every device that holds the stream. A Head is a log's
// last number and hash. A Seen is how far down a device had folded when it
// wrote. An Epoch is one life of a store, and changes when it is restored.
//
// A Link is one end of one connection. Its inputs are methods, its outputs
// are a list of Action that the caller carries out in order. A Replica is a
// phone's memory of its streams above the Link: what it holds of the store's
// log, and its own entries until they come back in an envelope.
//
// Healing brings two logs together that no longer meet: a store that was
// restored, or lost its end, takes back from phones what its own mark (a MAC
// over epoch, stream, number and running hash) proves, and a phone swaps the
// end of its log only for one that holds every entry of it.
//
// Stored means on disk. A side acknowledges only what it was told is Stored;
// a store offers others only what is. Nothing in this package deletes.
//
// # Promise
//
// The layouts of PROTOCOL.md with the vectors in testdata/vectors/sync (at the root) never
// change for protocol 1: entry, envelope, hashes and MAC are for ever, since
// they are at rest in people's books. A later protocol adds message types and
// fields after the known ones of hello, welcome and refuse. Kinds of entry
// are not this package's business: unknown ones are stored and passed on.
package sync
