package badger

import (
	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
)

// engineOptions is the one place where Badger is told how to behave. Its defaults acknowledge before the disk has
// anything and use a few hundred megabytes.
func engineOptions(dir string) engine.Options {
	return engine.DefaultOptions(dir).
		// Acknowledged means on disk: every commit is followed by msync. Off by default; a killed process would not show it.
		WithSyncWrites(true).
		// A home computer: 8 MB of entries in memory before a table is written. It also bounds one commit to 1.2 MB.
		WithMemTableSize(8 << 20).
		// Two are enough for one writer that waits for its own syncs.
		WithNumMemtables(2).
		// Values above 1 MB would go there and no entry is that large; the file is mapped at twice this size.
		WithValueLogFileSize(64 << 20).
		// Envelopes stay in the tables, where they are compressed and covered by checksums.
		WithValueThreshold(1 << 20).
		// A flipped bit in a table is found when the table is opened and again when a block is read.
		WithChecksumVerificationMode(options.OnTableAndBlockRead).
		// The same for anything that did reach the value log.
		WithVerifyValueChecksum(true).
		// Reading goes in order from where a phone stands; a large cache would only hold memory.
		WithBlockCacheSize(8 << 20).
		// Zero keeps the tables' indices in memory: a few hundred kilobytes for ten years.
		WithIndexCacheSize(0).
		// Two is the smallest number that Badger takes; the machine has other work.
		WithNumCompactors(2).
		// One goroutine writes and never reads within its transaction, so there are no conflicts to find.
		WithDetectConflicts(false).
		// Nothing is ever written twice under one key except heads; their old versions are of no use.
		WithNumVersionsToKeep(1).
		// Nobody reads Badger's counters.
		WithMetricsEnabled(false).
		// Badger logs to standard error in its own words; what a person must know is said by this package.
		WithLogger(nil)
}
