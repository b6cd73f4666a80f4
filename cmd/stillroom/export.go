package main

import (
	"bufio"
	"context"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"strconv"

	"stillroom/calc/book"
	"stillroom/server/folder"
)

// line is one entry in its exact JSON form. What cannot be read by this version is written as its bytes.
type line struct {
	Stream string          `json:"stream"`
	Seq    uint64          `json:"seq"`
	Device string          `json:"device"`
	Held   bool            `json:"held,omitempty"`
	Demo   bool            `json:"demo,omitempty"`
	At     int64           `json:"at"`
	Offset int64           `json:"offset"`
	Own    uint64          `json:"own"`
	Seen   *seen           `json:"seen,omitempty"`
	Wrote  int64           `json:"wrote"`
	Number uint32          `json:"number"`
	Kind   string          `json:"kind"`
	V      uint32          `json:"v"`
	Body   json.RawMessage `json:"body,omitempty"`
	Bytes  string          `json:"bytes,omitempty"`
}

// note is the last line of an export that does not hold every entry of the book.
type note struct {
	Note    string `json:"note"`
	LeftOut int    `json:"leftOut"`
}

type seen struct {
	Epoch string `json:"epoch"`
	Seq   uint64 `json:"seq"`
}

// export writes the book as JSON Lines: seq, device, held, at and offset are the store's, own, seen, wrote, kind, v and
// body the device's; times are Unix milliseconds. What belongs to the demo's invented workshop is nobody's own: it is left
// out, which the last line says, or written with -demo and marked. With -photos the photos become files as well.
func export(ctx context.Context, c console, args []string) error {
	invented, photos := false, ""
	dir, _, err := bookFlags("export", args, 0, func(set *flag.FlagSet) {
		set.BoolVar(&invented, "demo", false, "")
		set.StringVar(&photos, "photos", "", "")
	})
	if err != nil {
		return err
	}
	return reading(ctx, dir, func(f *folder.Folder) error { return writeLines(ctx, c, f, invented, photos) })
}

func writeLines(ctx context.Context, c console, f *folder.Folder, invented bool, photos string) error {
	state, err := fold(ctx, f)
	if err != nil {
		return err
	}
	out, left := bufio.NewWriter(c.out), 0
	encode := json.NewEncoder(out)
	encode.SetEscapeHTML(false)
	for _, stream := range f.Store.Streams() {
		err := each(ctx, f, stream, func(k kept) error {
			l := lineOf(k)
			l.Demo = state.Invented(stream, k.envelope.Device, k.entry)
			if l.Demo && !invented {
				left++
				return nil
			}
			return encode.Encode(l)
		})
		if err != nil {
			return errors.Join(err, out.Flush())
		}
	}
	if left > 0 {
		says := strconv.Itoa(left) + " entries of the demo's invented workshop are left out; export with -demo writes them, each marked"
		if err := encode.Encode(note{says, left}); err != nil {
			return errors.Join(err, out.Flush())
		}
		fmt.Fprintln(c.err, says)
	}
	fmt.Fprintln(c.err, book.NoPromise)
	if err := out.Flush(); err != nil || photos == "" {
		return err
	}
	return exportPhotos(c, f, state, photos)
}

func lineOf(k kept) line {
	v, e := k.envelope, k.entry
	l := line{Stream: k.stream, Seq: v.Seq, Device: v.Device.String(), Held: v.Held, At: v.At, Offset: v.Offset,
		Own: e.Seq, Wrote: e.At, Number: e.Kind, V: e.V}
	if !e.Seen.Epoch.IsZero() {
		l.Seen = &seen{hex.EncodeToString(e.Seen.Epoch[:]), e.Seen.Seq}
	}
	if kind, ok := book.KindOf(e.Kind); ok {
		l.Kind = kind.Name
	}
	body, err := book.Describe(e.Kind, e.V, e.Body)
	if err != nil {
		l.Bytes = hex.EncodeToString(e.Body)
		return l
	}
	l.Body = body
	return l
}
