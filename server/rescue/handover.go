package rescue

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

// From says who hands over. The device of the connection is By, whatever the file says; Was is the one that the connection
// proved to have been, zero when it proved none.
type From struct {
	By  folder.Device
	Was sync.DeviceID
}

// Refused: nothing of what was handed over was taken in, and the phone keeps all of it.
type Refused struct {
	Says, Next string
	// Revoked tells that the device in the file was taken off the list.
	Revoked bool
}

func (e *Refused) Error() string { return e.Says }

// Hint is the next step.
func (e *Refused) Hint() string { return e.Next }

// HandOver takes in what a phone brings that goes on as a new device: its copy of the log as far as the store's own mark
// proves it, and the rows that it had not sent, under the name that they were written by. Rows of a device that the store
// does not know are held until the owner accepts them; rows of one that it knows are taken only from that device. The same
// may be handed over again. Errors are *Bad and *Refused, before any row is taken, or the disk's; what is in Done.Has is on
// disk.
func HandOver(ctx context.Context, s store.Store, devices *folder.Devices, who From, in io.Reader, now int64) (Done, error) {
	from, err := read(in)
	if err != nil {
		return Done{}, err
	}
	role := ""
	if known, ok := listed(devices, from.device); ok {
		switch {
		case known.Revoked != "":
			return Done{}, &Refused{"This phone was taken off the list of the home store, so nothing was taken from it. It keeps all that it holds.",
				"Save what it holds as a file and ask the owner of the book.", true}
		case who.Was != from.device:
			return Done{}, &Refused{Says: "What was brought is of a device that the home store knows, and it was not that device that brought it. Nothing was taken.",
				Next: "Save what this phone holds as a file, and take it in at the home store."}
		}
		role = known.Role
	}
	d := Done{Device: from.name, Has: map[string][]uint64{}}
	reads := book.Reads(who.By.Role)
	for _, stream := range reads {
		if err := from.meets(ctx, s, stream); err != nil {
			return d, err
		}
	}
	for _, stream := range reads {
		if !devices.Listed(who.By.ID) {
			return d, &Refused{Says: "This device was taken off the list of the home store.", Next: "Ask the owner of the book.", Revoked: true}
		}
		log, proved, epoch := from.log(stream, s.Key())
		if err := d.proved(ctx, s, stream, log[:proved], epoch); errors.As(err, new(*store.Fork)) {
			return d, otherHistory(stream)
		} else if err != nil {
			return d, err
		}
		if err := d.sent(ctx, s, stream, &from, role, now); err != nil {
			return d, err
		}
	}
	for stream, rows := range from.pending {
		if !slices.Contains(reads, stream) {
			d.Left = append(d.Left, fmt.Sprintf("%d entries of %s, which this device's role does not hold.", len(rows), stream))
		}
	}
	return d, nil
}

func otherHistory(stream string) error {
	return &Refused{Says: fmt.Sprintf("This phone's copy of %s and the home store's are two histories: the home store is another one, or a copy of its own folder. Both are kept as they are.", stream),
		Next: "Look which home store is the right one before anything else; save what this phone holds as a file."}
}

// meets tells whether the phone's copy is of this book: what the store's mark does not prove stands in the log byte for
// byte. As a new device the phone could not go on from it otherwise.
func (f *file) meets(ctx context.Context, s store.Store, stream string) error {
	all, proved, _ := f.log(stream, s.Key())
	if proved == len(all) {
		return nil
	}
	here, err := s.Read(ctx, stream, uint64(proved), len(all)-proved, 0)
	if err != nil {
		return err
	}
	if !slices.EqualFunc(here, all[proved:], bytes.Equal) {
		return otherHistory(stream)
	}
	return nil
}
