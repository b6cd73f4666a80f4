package sync

import (
	"errors"
	"fmt"
)

// Codes of refuse and Stop. A later protocol may send others: a receiver shows their sentence and may connect again.
const (
	CodeMalformed = "malformed" // bytes that PROTOCOL.md does not describe
	CodeLater     = "later"     // a message type that is reserved for a later protocol
	CodeOrder     = "order"     // a message that does not belong here or now
	CodeSilent    = "silent"    // nothing heard for DeadAfter; never sent
	CodeStorage   = "storage"   // a disk refused
	CodeFull      = "full"      // the store's disk is nearly full
	CodeClosing   = "closing"   // the store ends
	CodeSlow      = "slow"      // the receiver does not keep up
	CodeProtocol  = "protocol"  // no protocol that both speak
	CodeToken     = "token"     // the token does not prove the device
	CodeRevoked   = "revoked"   // the device was taken off the store's list
	CodeEpoch     = "epoch"     // the store was made anew or restored
	CodeDamaged   = "damaged"   // a log fails its own hash, or is shorter than what it acknowledged
	CodeFork      = "fork"      // two valid logs under one address
	CodeBehind    = "behind"    // the device has less of its own entries than the store has
	CodeHealed    = "healed"    // phone and store have one log again; never sent
)

// fatal are the codes after which connecting again is of no use until a person has acted.
func fatal(code string) bool {
	switch code {
	case CodeProtocol, CodeToken, CodeRevoked, CodeEpoch, CodeDamaged, CodeFork, CodeBehind:
		return true
	}
	return false
}

const kept = "Nothing was deleted on either side."

func stopMalformed(err error) Stop {
	code := CodeMalformed
	if errors.Is(err, ErrLater) {
		code = CodeLater
	}
	return Stop{Code: code, Says: fmt.Sprintf("A message could not be read (%v) and nothing of it was taken in. %s", err, kept),
		Hint: "Connect again. If it stays so, bring phone and home store to the same version, and look whether something else answers at this address."}
}

func stopOrder(what string) Stop {
	return Stop{Code: CodeOrder, Says: "A message came that does not belong here: " + what + ". It was not taken in. " + kept, Hint: "Connect again."}
}

func stopSilent() Stop {
	return Stop{Code: CodeSilent, Says: "Nothing was heard from the other side for 25 seconds. What is not sent yet is kept.", Hint: "It goes on by itself when the other side is reached again."}
}

func stopProtocol(lo, hi, ours uint32) Stop {
	return Stop{Code: CodeProtocol, Says: fmt.Sprintf("One side speaks protocols %d to %d and the other %d. %s", lo, hi, ours, kept), Hint: "Update the older of the two, then connect again."}
}

func stopHealed(given int) Stop {
	return Stop{Code: CodeHealed, Says: fmt.Sprintf("The home store was brought back from a backup, and this phone had %d entries of its old end. Both have one log again.", given),
		Hint: "Nothing has to be done."}
}

func stopNotTakenBack(stream string, seq uint64) Stop {
	return Stop{Code: CodeDamaged, Says: fmt.Sprintf("The home store was given back its old end of %s and its new one lacks what was number %d. This phone keeps its own. %s", stream, seq, kept),
		Hint: "Keep this phone as it is, run verify on the home store, and save what this phone holds as a file (Settings, this phone)."}
}

func stopEpoch(stream string) Stop {
	return Stop{Code: CodeEpoch, Says: fmt.Sprintf("The home store was restored or made anew since this phone last had %s from it, so their numbers do not mean the same. %s", stream, kept),
		Hint: "Keep this phone as it is: it may hold what the home store lost. Save what it holds as a file (Settings, this phone) before anything else."}
}

func stopShort(stream string, store, phone uint64) Stop {
	return Stop{Code: CodeDamaged, Says: fmt.Sprintf("The home store has %s up to number %d, and this phone was given it up to %d: the home store has lost its end. %s", stream, store, phone, kept),
		Hint: "Stop the home store, copy its folder before anything else, and keep this phone as it is: it holds what is missing."}
}

func stopUnacked(stream string, store, phone uint64) Stop {
	return Stop{Code: CodeDamaged, Says: fmt.Sprintf("The home store has this phone's entries in %s up to %d and had acknowledged them up to %d: it has lost some. %s", stream, store, phone, kept),
		Hint: "Stop the home store, copy its folder before anything else, and keep this phone as it is: it holds what is missing."}
}

func stopHash(stream string, log Log, after uint64) Stop {
	return Stop{Code: CodeDamaged, Says: fmt.Sprintf("What came after number %d of %s (%s) does not add up to the hash that came with it, and was not taken in. %s", after, stream, log, kept),
		Hint: "Run verify on the home store. Keep this phone as it is."}
}

func stopUnreadable(stream string, log Log, seq uint64) Stop {
	return Stop{Code: CodeDamaged, Says: fmt.Sprintf("Number %d of %s (%s) cannot be read on the side that ought to have it, or does not match its hash. %s", seq, stream, log, kept),
		Hint: "Run verify on the home store. Keep this phone as it is."}
}

func stopFork(stream string, log Log, seq uint64) Stop {
	return Stop{Code: CodeFork, Says: fmt.Sprintf("Phone and home store have different things as number %d of %s (%s), and both are kept.", seq, stream, log),
		Hint: "This phone looks like a copy of another, or the home store like a copy of its own folder. Let it go on as a new device: the note at the head of the screen leads there. Its file (Settings, this phone) is for the safe side."}
}

func stopBehind(stream string, phone, store uint64) Stop {
	return Stop{Code: CodeBehind, Says: fmt.Sprintf("This phone knows its own entries in %s up to %d, and the home store has them up to %d: the phone was brought back from an older copy of itself. %s", stream, phone, store, kept),
		Hint: "Let it go on as a new device: the note at the head of the screen leads there. The home store has the rest."}
}
