package sync

// Limits of protocol version 1. Times are in milliseconds.
const (
	MaxEntryBytes   = 32 << 10
	MaxBatchBytes   = 64 << 10
	MaxBatchEntries = 500
	Window          = 8 // batches sent and not yet acknowledged
	BeatEvery       = 10_000
	DeadAfter       = 25_000
)
