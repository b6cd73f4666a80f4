package main

import (
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"strings"
	"time"

	"stillroom/server/folder"
	"stillroom/server/rescue"
)

// rescueFile takes into a book what a phone's rescue page saved, or makes a book of what several saved.
func rescueFile(ctx context.Context, c console, args []string) error {
	var lost string
	fresh := false
	dir, words, err := bookFlags("rescue", args, manyPhones, func(set *flag.FlagSet) {
		set.BoolVar(&fresh, "new", false, "")
		set.StringVar(&lost, "lost", "", "")
	})
	switch {
	case err != nil:
		return err
	case len(words) == 0:
		return &misuse{"rescue: which file?", form("rescue")}
	case fresh:
		return rescueAll(ctx, c, dir, words, lost)
	case lost != "":
		return &misuse{"rescue: -lost goes with -new", form("rescue")}
	case len(words) > 1:
		return &misuse{"rescue: one file at a time goes into a book that is there", form("rescue")}
	}
	in, err := os.Open(words[0])
	if err != nil {
		return err
	}
	defer in.Close()
	return opened(ctx, dir, folder.Options{Existing: true, Now: time.Now}, func(f *folder.Folder) error {
		done, err := rescue.Into(ctx, f, in, time.Now().UnixMilli())
		if done.Device == "" {
			return err
		}
		fmt.Fprintf(c.out, "From device %s: %d entries of the book came back, %d that it had not sent, %d photos.\n", done.Device, done.Back, done.Sent, done.Photos)
		if done.Held > 0 {
			fmt.Fprintf(c.out, "%d of them are held until the owner accepts them, since that device is not on the list.\n", done.Held)
		}
		return left(c, done.Left, err)
	})
}

// manyPhones is more than one workshop has.
const manyPhones = 1000

// rescueAll makes a book of phones' files alone, with the list of devices and the photos that a folder without its journal
// still holds.
func rescueAll(ctx context.Context, c console, dir string, paths []string, lost string) error {
	made, err := rescue.Begin(ctx, dir, paths, lost, time.Now(), folder.Options{Now: time.Now, Check: checkInChild(ctx)})
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "%s holds a new book of what %d phones had: %d entries, %d of those not sent before, and %d photos.\n", dir, made.Phones, made.Entries, made.Sent, made.Photos)
	fmt.Fprintf(c.out, "Not proved: the key of the lost home store is lost with it, so nothing shows that the phones' copies are what it held. Each is dense and matches its own hashes; %d of the entries are the same, byte for byte, in the copies of two phones or more. What no phone had is missing, and nothing shows how much that was.\n", made.Shared)
	if made.Held > 0 {
		fmt.Fprintf(c.out, "%d entries are held until the owner accepts them, since their device did not say its role.\n", made.Held)
	}
	if made.Missing > 0 {
		fmt.Fprintf(c.out, "%d photos that the entries name are not there; a phone that still has one sends it when it connects.\n", made.Missing)
	}
	var list []string
	for _, d := range made.List {
		if d.Revoked == "" {
			list = append(list, d.Letter+" as "+d.Role)
		}
	}
	from := "as their own files say"
	if lost != "" {
		from = "as far as is known"
	}
	fmt.Fprintf(c.out, "On its list, %s: %s. Those go on by themselves when they connect, with all that they have; any other joins as a new device. If another phone may hold more, save its file first and make the book anew of all of them, before anything is written in this one. Keep the files.\n", from, cmp.Or(strings.Join(list, ", "), "no device"))
	return left(c, made.Left, nil)
}

// left prints what was not taken in; that is an error, since the file is still needed.
func left(c console, says []string, err error) error {
	for _, one := range says {
		fmt.Fprintln(c.out, "Not taken in, and still in the file:", one)
	}
	if len(says) > 0 || err != nil {
		err = errors.Join(err, errors.New("not everything was taken in; keep what the phone saved"))
	}
	return err
}
