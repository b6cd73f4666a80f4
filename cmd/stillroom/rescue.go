package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"time"

	"stillroom/server/folder"
	"stillroom/server/rescue"
)

// rescueFile takes into a book what a phone's rescue page saved.
func rescueFile(ctx context.Context, c console, args []string) error {
	dir, words, err := bookFlags("rescue", args, 1, func(*flag.FlagSet) {})
	if err != nil {
		return err
	}
	if len(words) == 0 {
		return &misuse{"rescue: which file?", form("rescue")}
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
		for _, left := range done.Left {
			fmt.Fprintln(c.out, "Not taken in, and still in the file:", left)
		}
		if len(done.Left) > 0 || err != nil {
			err = errors.Join(err, errors.New("not everything in the file was taken in; keep it"))
		}
		return err
	})
}
