package main

import (
	"context"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"io/fs"

	"stillroom/server/backup"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

// verify opens a book to read, which compares its whole log with the hashes written beside it, and then reads it once
// more to work out every hash and every device's chain anew. What the witness says is compared when it is opened; one that
// cannot be read is an error, since it cannot be compared.
func verify(ctx context.Context, c console, args []string) error {
	var dir, file string
	words, err := flags("verify", args, func(set *flag.FlagSet) {
		set.StringVar(&dir, "book", "", "")
		set.StringVar(&file, "backup", "", "")
	})
	switch {
	case err != nil:
		return err
	case len(words) > 0:
		return &misuse{fmt.Sprintf("verify: %q is too much", words[0]), form("verify")}
	case (dir == "") == (file == ""):
		return &misuse{"verify: a book or a backup?", form("verify")}
	case file != "":
		return proveBackup(c, file)
	}
	return reading(ctx, dir, func(f *folder.Folder) error { return prove(ctx, c, f) })
}

// proveBackup reads a backup, and what it stands on, from end to end.
func proveBackup(c console, file string) error {
	info, err := backup.Verify(file)
	if err != nil {
		return err
	}
	for _, l := range info.Streams {
		fmt.Fprintf(c.out, "%s: %d entries, hash %s\n", l.Name, l.Seq, hex.EncodeToString(l.Hash[:8]))
	}
	if info.Base != "" {
		fmt.Fprintf(c.out, "%d entries are in it; the rest is in %s, which is the file that it was written on.\n", info.Added, info.Base)
	}
	fmt.Fprintf(c.out, "The backup of %s is whole: %d entries, every hash as it was written. Photos beside it were not read.\n", info.Made.Local().Format("2 January 2006, 15:04"), info.Entries())
	return nil
}

func prove(ctx context.Context, c console, f *folder.Folder) error {
	letters := map[sync.DeviceID]string{}
	for _, d := range f.Devices.All() {
		letters[d.ID] = " " + d.Letter
	}
	total, held := 0, 0
	devices := map[sync.DeviceID]bool{}
	for _, stream := range f.Store.Streams() {
		h, err := verifyStream(ctx, f, stream)
		if err != nil {
			return err
		}
		held += h
		head := f.Store.Head(stream)
		total += int(head.Seq)
		fmt.Fprintf(c.out, "%s: %d entries, hash %s\n", stream, head.Seq, hex.EncodeToString(head.Hash[:8]))
		for _, d := range f.Store.Devices(stream) {
			own := f.Store.DeviceHead(stream, d)
			devices[d] = true
			fmt.Fprintf(c.out, "  device %s%s: %d entries, chain %s\n", d, letters[d], own.Seq, hex.EncodeToString(own.Hash[:8]))
		}
	}
	seen, err := f.Witness()
	switch {
	case errors.Is(err, fs.ErrNotExist):
		fmt.Fprintln(c.out, "There is no witness: that nothing is missing at the end cannot be shown. The home store writes one when it starts.")
	case err != nil:
		return err
	default:
		fmt.Fprintf(c.out, "witness: agrees, at %d entries\n", seen.Entries())
	}
	fmt.Fprintf(c.out, "The book is whole: %d entries of %d devices, %d held, no gap, every hash as it was written.\n", total, len(devices), held)
	return nil
}

func verifyStream(ctx context.Context, f *folder.Folder, stream string) (held int, err error) {
	running, chains, numbers := sync.RunningSeed(stream), map[sync.DeviceID]sync.Hash{}, map[sync.DeviceID]uint64{}
	err = each(ctx, f, stream, func(k kept) error {
		d := k.envelope.Device
		if _, ok := chains[d]; !ok {
			chains[d] = sync.ChainSeed(stream, d)
		}
		if numbers[d]++; k.entry.Seq != numbers[d] {
			return fmt.Errorf("entry %d of %s is number %d of device %s, and %d belongs there", k.envelope.Seq, stream, k.entry.Seq, d, numbers[d])
		}
		running, chains[d] = running.Next(k.raw), chains[d].Next(k.envelope.Entry)
		if k.envelope.Held {
			held++
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	if head := f.Store.Head(stream); head.Hash != running {
		return 0, &store.Damaged{Stream: stream, First: 1, Last: head.Seq, How: "do not match their hash"}
	}
	for d, chain := range chains {
		if own := f.Store.DeviceHead(stream, d); own != (store.Head{Seq: numbers[d], Hash: chain}) {
			return 0, fmt.Errorf("the chain of device %s in %s breaks before number %d", d, stream, own.Seq)
		}
	}
	return held, nil
}
