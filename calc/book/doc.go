// Package book is what the entries add up to: commands are decided, entries applied, views read.
//
// Decide may refuse; Apply is total. The package is pure: no clock, no randomness, no files, no network, no
// goroutines; what it needs of those is handed in by Context. The same entries in the same order give the same
// Digest on every machine, since a fold holds integers only and walks its tables in the order of the fold.
//
// Masses are int64 milligrams, shares int64 of 0.0001 %, temperatures int64 thousandths of a degree Celsius, days
// whole numbers such as 20261112. KINDS.md beside this file lays out every body byte by byte.
package book

// The two streams. Each folds alone, so that a stall phone can be given the shelf and nothing else.
const (
	Workshop = "workshop"
	Shelf    = "shelf"
)
