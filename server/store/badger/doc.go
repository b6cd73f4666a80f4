// Package badger keeps a book in one folder with Badger. It answers the contract of package store.
//
// What is in the folder, all by key; numbers are big endian so that keys sort as numbers do, and name stands for one
// byte of length and the stream's name:
//
//	m format            1 byte: 1
//	m epoch             8 bytes: the store's epoch, drawn once
//	m key               32 bytes: the key of HeadMAC, drawn once
//	l name number(8)    the canonical bytes of the envelope with that number
//	c name number(8)    32 bytes: the running hash after that number, for every multiple of store.Step
//	h name              number(8) and 32 bytes: head and running hash, written with the envelopes that moved it
//
// The log is the truth. Heads and hashes are there to notice when it was altered: Badger ends a scan early without an
// error when a table or its write-ahead log is damaged, and cuts off or removes what it cannot read when it opens. So the
// whole log is read at every opening, in a copy first, and compared with its hashes and with a witness that lies outside.
// What each device wrote is worked out from the log then and kept in memory (8 bytes an entry).
package badger
