package store

import (
	"fmt"
	"strconv"
	"strings"

	"stillroom/sync"
)

// Gap: the entries do not follow what the store holds of this device. Nothing was kept; send from Have on.
type Gap struct {
	Stream string
	Device sync.DeviceID
	After  uint64
	Have   Head
}

func (e *Gap) Error() string {
	return fmt.Sprintf("the entries sent follow number %d, and the book holds this device up to %d", e.After, e.Have.Seq)
}

// Hint is the next step.
func (e *Gap) Hint() string { return fmt.Sprintf("send again from number %d", e.Have.Seq+1) }

// Fork: one device wrote two different things under one number, as a copied phone would. The first is kept.
type Fork struct {
	Stream string
	Device sync.DeviceID
	Seq    uint64
}

func (e *Fork) Error() string {
	return fmt.Sprintf("device %s wrote two different entries as number %d of %s; the first one stays in the book", e.Device, e.Seq, e.Stream)
}

// Hint is the next step.
func (e *Fork) Hint() string {
	return "this phone looks like a copy of another; keep both, and let this one go on as a new device"
}

// Epoch: the device knows this store by another epoch, so one of them was restored.
type Epoch struct{ Have, Given sync.Epoch }

func (e *Epoch) Error() string {
	return "the home store was restored or made anew since this device last spoke with it"
}

// Hint is the next step.
func (e *Epoch) Hint() string { return "nothing was deleted on either side; connect again" }

// Full: too little free space to take more. Free and Need are bytes.
type Full struct {
	Free, Need uint64
	// Ballast tells that there is a file to delete.
	Ballast bool
}

func (e *Full) Error() string {
	return fmt.Sprintf("the disk of the home store is nearly full: %d MB are free and %d MB are needed; nothing was taken, and phones keep what they have", e.Free>>20, e.Need>>20)
}

// Hint is the next step.
func (e *Full) Hint() string {
	if e.Ballast {
		return "at the home store delete the file ballast in the folder of the book: it is there for this, and it goes on at once. Then make more room"
	}
	return "make some room on the disk of the home store; phones send what they have by themselves then"
}

// Damaged: the log ends early, has a hole, or was altered. First and Last are the first and last numbers of the stream
// that are missing or do not match their hash; both are 0 when the journal as a whole is meant.
type Damaged struct {
	Stream      string
	First, Last uint64
	// How is what is wrong with them: Missing, Altered and the like, or words of one's own.
	How string
}

// What is wrong with a range of entries, as it is said of several.
const (
	Missing  = "are missing"
	Altered  = "do not match their hash"
	Surplus  = "stand after the end that was written with them"
	NotRead  = "cannot be read"
	Replaced = "do not match what the witness says of them"
)

func (e *Damaged) Error() string {
	of := "the journal"
	if e.Stream != "" {
		of = "the " + e.Stream + "'s book"
	}
	switch {
	case e.Last == 0:
		return of + " " + e.How
	case e.First == e.Last:
		return fmt.Sprintf("entry %s of %s %s", thousands(e.First), of, ofOne.Replace(e.How))
	}
	return fmt.Sprintf("entries %s to %s of %s %s", thousands(e.First), thousands(e.Last), of, e.How)
}

var ofOne = strings.NewReplacer("are missing", "is missing", "do not match their", "does not match its", "stand after", "stands after", "with them", "with it",
	"do not match what", "does not match what", "of them", "of it")

func thousands(n uint64) string {
	s := strconv.FormatUint(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// Hint is the next step.
func (e *Damaged) Hint() string {
	return "the book takes nothing more, and nothing was changed; phones keep what they have. Stop Stillroom, copy the whole folder before anything else, then make a new book with stillroom restore, of the last backup or, while its key can be read, of what this folder still holds: phones bring back the rest"
}

// Busy: another process has this book open.
type Busy struct{ Dir string }

func (e *Busy) Error() string {
	return fmt.Sprintf("the book in %s is in use by another process", e.Dir)
}

// Hint is the next step.
func (e *Busy) Hint() string { return "stop the other one first, or choose another folder with -book" }

// ReadOnly: the folder or the store cannot be written.
type ReadOnly struct{ Dir string }

func (e *ReadOnly) Error() string { return fmt.Sprintf("the book in %s can only be read", e.Dir) }

// Hint is the next step.
func (e *ReadOnly) Hint() string {
	return "give yourself the right to write there, or choose another folder"
}

// Malformed: an entry that is none. Seq is the number that its place asks for.
type Malformed struct {
	Seq uint64
	Why string
}

func (e *Malformed) Error() string {
	return fmt.Sprintf("entry %d cannot be read: %s; nothing was kept of what was sent", e.Seq, e.Why)
}

// Hint is the next step.
func (e *Malformed) Hint() string {
	return "the phone still has it; bring both sides to the same version"
}

// Newer: what a later program wrote, in a layout that this one cannot read.
type Newer struct{ What string }

func (e *Newer) Error() string {
	return e.What + " has a layout that this program cannot read; a newer Stillroom wrote it"
}

// Hint is the next step.
func (e *Newer) Hint() string {
	return "nothing was changed; update Stillroom on this computer. If it is up to date, the layout's number was altered: copy the whole folder, then make a new book with stillroom restore, of the last backup or of what that folder still holds"
}

// Failed: the disk refused a write. What it holds is unknown until the store is opened again.
type Failed struct{ Err error }

func (e *Failed) Error() string { return "the book could not be written: " + e.Err.Error() }

// Unwrap is the disk's own error.
func (e *Failed) Unwrap() error { return e.Err }

// Hint is the next step.
func (e *Failed) Hint() string {
	return "look after the disk, then start Stillroom again; phones keep their entries"
}

// Closed: the store was closed.
type Closed struct{}

func (e *Closed) Error() string { return "the book is closed" }

// Hint is the next step.
func (e *Closed) Hint() string { return "start Stillroom again" }
