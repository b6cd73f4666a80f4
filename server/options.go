// Package server is the home store as a program: it keeps the book of one folder, speaks sync with phones over
// WebSocket, serves the app, prints labels and shows the public card behind a jar's link.
//
// It listens on this computer only for now; pairing phones and certificates come later.
package server

import (
	"crypto/rand"
	"fmt"
	"io"
	"log/slog"
	"net"
	"strings"
	"time"

	"stillroom/server/store/badger"
)

// DefaultAddr is where the home store listens when nothing else is said.
const DefaultAddr = "127.0.0.1:8417"

// Options say how the home store runs.
type Options struct {
	// Dir is the folder of the book; it is begun there when the folder is empty or missing.
	Dir string
	// Addr is host and port on this computer; "" is DefaultAddr, port 0 any free one.
	Addr string
	// Demo writes the invented workshop into a book that is still empty.
	Demo bool
	// Backups say where the book is backed up to; nowhere when To is "".
	Backups Backups
	// Now is the clock; nil is the system's.
	Now func() time.Time
	// Rand gives identities, tokens and keys; nil is crypto/rand.
	Rand io.Reader
	// Check reads a copy of the journal before it is opened; nil does so in this process, which a crash of the journal's
	// engine would end.
	Check badger.Check
	// Ballast keeps a file in the book's folder that a person can delete when the disk is full.
	Ballast bool
	// Log takes what an operator may want to read; nil drops it. It never holds a token or an entry's content.
	Log *slog.Logger
}

func (o Options) filled() Options {
	if o.Addr == "" {
		o.Addr = DefaultAddr
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Rand == nil {
		o.Rand = rand.Reader
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return o
}

// NotHere: an address that other machines could reach.
type NotHere struct{ Addr string }

func (e *NotHere) Error() string {
	return fmt.Sprintf("%s is not an address of this computer alone", e.Addr)
}

// Hint is the next step.
func (e *NotHere) Hint() string {
	return "for now the home store listens on this computer only: use 127.0.0.1:8417 or leave -addr out"
}

// InUse: something else listens at the address.
type InUse struct {
	Addr string
	Err  error
}

func (e *InUse) Error() string { return fmt.Sprintf("nothing can listen at %s: %v", e.Addr, e.Err) }

// Hint is the next step.
func (e *InUse) Hint() string {
	return "another program listens there; stop it or choose another port with -addr 127.0.0.1:PORT"
}

// loopback refuses every address that is not this computer's own.
func loopback(addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return &NotHere{Addr: addr}
	}
	if strings.EqualFold(host, "localhost") {
		return nil
	}
	if ip := net.ParseIP(host); ip == nil || !ip.IsLoopback() {
		return &NotHere{Addr: addr}
	}
	return nil
}
