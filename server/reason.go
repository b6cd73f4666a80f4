package server

import (
	"errors"

	"stillroom/server/store"
	"stillroom/sync"
)

// reason is why a connection ends: a code of package sync and two sentences.
type reason struct{ code, says, hint string }

var (
	revoked = reason{sync.CodeRevoked, "This device was taken off the list of the home store. What it has not sent is kept on it.",
		"Save what it holds as a file (Settings, this phone), then ask the owner of the book."}
	unknownToken = reason{sync.CodeToken, "The home store does not know this device. Nothing was deleted on either side.",
		"Let it go on as a new device: the note at the head of the screen leads there."}
)

// reasonFor turns what a store says of an Append into the words of the wire. What it does not know is a disk that
// refused; its own words stay in the log and are not sent.
func reasonFor(err error) reason {
	codes := []struct {
		is   func(error) bool
		code string
	}{
		{is[*store.Fork], sync.CodeFork},
		{is[*store.Epoch], sync.CodeEpoch},
		{is[*store.Full], sync.CodeFull},
		{is[*store.Malformed], sync.CodeMalformed},
		{is[*store.Damaged], sync.CodeDamaged},
		{is[*store.Closed], sync.CodeClosing},
		// Two connections of one device push at once; the one that lost greets anew and goes on.
		{is[*store.Gap], sync.CodeOrder},
	}
	for _, c := range codes {
		if c.is(err) {
			hint := ""
			var hinted interface{ Hint() string }
			if errors.As(err, &hinted) {
				hint = sentence(hinted.Hint())
			}
			return reason{c.code, sentence(err.Error()), hint}
		}
	}
	return reason{sync.CodeStorage, "The home store could not write to its disk. Nothing was taken, and this device keeps what it has.",
		"Look after the disk of the home store, then start it again."}
}

func is[E error](err error) bool {
	var e E
	return errors.As(err, &e)
}
