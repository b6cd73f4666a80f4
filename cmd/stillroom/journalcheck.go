package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"syscall"

	"stillroom/server/store"
	"stillroom/server/store/badger"
)

// checkJournal is the name of the command by which the program starts itself again to read a copy of a journal. It is no
// command for a person.
const checkJournal = "check-journal"

// inCheck is set for that process: whatever it turns out to be, it starts no other.
const inCheck = "STILLROOM_CHECKS_JOURNAL"

// damaged is the exit code for a journal that can be read and is not whole.
const damaged = 3

// newer is the exit code for one that a later program wrote.
const newer = 4

// checkInChild is badger.Examine in a process of its own, so that a crash there becomes a sentence here: a mapped page
// without a place on the disk and a panic on one of Badger's own goroutines end a process without asking it.
func checkInChild(ctx context.Context) badger.Check {
	return func(copied, witness, rebuilt string) (whole bool, err error) {
		self, err := os.Executable()
		if err != nil || os.Getenv(inCheck) != "" {
			return badger.Examine(copied, witness, rebuilt)
		}
		c := exec.CommandContext(ctx, self, checkJournal, copied, witness, rebuilt)
		c.Env = append(os.Environ(), inCheck+"=1")
		// The child ends when this pipe does, so that it does not outlive a parent that was killed.
		lifeline, err := c.StdinPipe()
		if err != nil {
			return false, err
		}
		defer lifeline.Close()
		var said bytes.Buffer
		c.Stderr = &said
		err = c.Run()
		var exit *exec.ExitError
		switch {
		case err == nil:
			return true, nil
		case ctx.Err() != nil:
			return false, ctx.Err()
		case errors.As(err, &exit) && exit.ExitCode() == newer:
			return false, &store.Newer{What: "the journal"}
		case errors.As(err, &exit) && exit.ExitCode() == damaged:
			return false, nil
		case errors.As(err, &exit) && stopped(exit):
			return false, fmt.Errorf("%w (%v)", badger.ErrStopped, exit)
		case errors.As(err, &exit):
			return false, errors.New(lastWords(exit, said.String()))
		}
		return false, err
	}
}

// stopped tells that a process was ended by somebody, and not by what it read.
func stopped(exit *exec.ExitError) bool {
	status, ok := exit.Sys().(syscall.WaitStatus)
	if !ok || !status.Signaled() {
		return false
	}
	switch status.Signal() {
	case syscall.SIGINT, syscall.SIGTERM, syscall.SIGKILL, syscall.SIGHUP:
		return true
	}
	return false
}

// lastWords is the line in which a process that ended says why: its own error, or what Go prints of a crash.
func lastWords(exit *exec.ExitError, said string) string {
	for line := range strings.Lines(said) {
		line = strings.TrimSpace(line)
		if own, ok := strings.CutPrefix(line, "error: "); ok {
			return own
		}
		for _, mark := range []string{"panic: ", "fatal error: ", "unexpected fault address", "Assert failed"} {
			if _, after, ok := strings.Cut(line, mark); ok {
				return fmt.Sprintf("its engine stopped with %q", strings.TrimSuffix(mark+after, " [recovered]"))
			}
		}
	}
	return "its engine stopped with " + exit.String()
}

// isCheck tells that the program was started by itself, to read a journal.
func isCheck(args []string) bool { return len(args) == 4 && args[0] == checkJournal }

func check(c console, copied, witness, rebuilt string) int {
	go func() {
		// Only the end of the parent ends this.
		io.Copy(io.Discard, c.in)
		os.Exit(exitFailed)
	}()
	whole, err := badger.Examine(copied, witness, rebuilt)
	switch {
	case errors.As(err, new(*store.Newer)):
		return newer
	case err != nil:
		fmt.Fprintln(c.err, "error:", strings.ReplaceAll(err.Error(), "\n", " "))
		return exitFailed
	case !whole:
		return damaged
	}
	return exitOK
}
