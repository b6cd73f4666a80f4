package main

import (
	"context"
	"flag"
	"fmt"
	"log/slog"

	"stillroom/server"
)

// serve runs the home store until it is interrupted.
func serve(ctx context.Context, c console, args []string) error {
	o := server.Options{Check: checkInChild(ctx), Ballast: true, Log: slog.New(slog.NewTextHandler(c.err, &slog.HandlerOptions{Level: slog.LevelWarn}))}
	var err error
	o.Dir, _, err = bookFlags("serve", args, 0, func(set *flag.FlagSet) {
		set.StringVar(&o.Addr, "addr", server.DefaultAddr, "")
		set.BoolVar(&o.Demo, "demo", false, "")
		set.StringVar(&o.Backups.To, "backup-to", "", "")
		set.DurationVar(&o.Backups.Every, "backup-every", server.DefaultEvery, "")
		set.IntVar(&o.Backups.Keep, "backup-keep", server.DefaultKeep, "")
	})
	if err != nil {
		return err
	}
	s, err := server.Open(o)
	if err != nil {
		return err
	}
	for _, says := range s.Trouble() {
		fmt.Fprintln(c.err, "trouble:", says)
	}
	fmt.Fprintf(c.out, "Stillroom is at %s\n", s.URL())
	return s.Run(ctx)
}
