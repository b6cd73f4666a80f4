package sync

// Sizes of protocol version 1, in bytes and items. Both sides enforce them, and so must a stranger's client.
const (
	// MaxEntryBytes bounds one entry's canonical bytes, body included.
	MaxEntryBytes = 32 << 10
	// MaxBodyBytes is what an entry's body may always have: the fields before it never take more than the rest.
	MaxBodyBytes = MaxEntryBytes - 64
	// MaxEnvelopeBytes bounds an envelope: an entry and the store's own fields.
	MaxEnvelopeBytes = MaxEntryBytes + 64
	// MaxBatchBytes bounds the sum of the items' bytes in one batch.
	MaxBatchBytes = 64 << 10
	// MaxBatchEntries bounds the number of items in one batch.
	MaxBatchEntries = 500
	// MaxMessageBytes bounds a whole message: a full batch with its address, lengths and hashes, rounded up.
	MaxMessageBytes = 72 << 10
	// Window is how many batches of one log may be under way and not yet acknowledged.
	Window = 8
	// MaxStreams bounds the streams of one hello or welcome.
	MaxStreams = 32
	// MaxName bounds a stream's name, MaxText every other text in a message.
	MaxName = 64
	MaxText = 1024
)

// Times in milliseconds. Nothing here reads a clock: the caller passes the time.
const (
	// BeatEvery is how long a side is silent before it sends a beat.
	BeatEvery = 10_000
	// DeadAfter is how long a side hears nothing before it gives the connection up: sockets go dark without closing.
	DeadAfter = 25_000
	// RetryAfter is how long a sender waits without an acknowledgement before it sends again from the last one. A
	// transport that keeps order never needs it, and after a slow disk it makes harmless duplicates.
	RetryAfter = 6_000
)

// Lowest and Protocol are the versions of the wire that this package speaks; the higher one that both sides know is
// spoken. Version 2 adds healing: what a phone holds of an earlier life of the store is handed back and not refused.
const (
	Lowest   = 1
	Protocol = 2
	// healing is the first version in which a store's lost end is handed back.
	healing = 2
)

const (
	// StepEvery is the distance of the checkpoints by which two logs are compared.
	StepEvery = 1024
	// MaxSteps bounds the checkpoints of one message; a longer log is compared at a multiple of StepEvery.
	MaxSteps = 512
	// MaxReturnBytes bounds what one connection hands back of one stream, since it is held in memory until it is proved.
	MaxReturnBytes = 128 << 20
)
