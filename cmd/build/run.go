package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
)

// run builds and serves a demo book until it is told to stop.
func run(ctx context.Context, h house, addr, book string) error {
	b, err := buildAll(ctx, h, quickBrotli)
	if err != nil {
		return err
	}
	fmt.Printf("\nThe book is in %s and is kept between runs. Ctrl-C stops.\n", book)
	fmt.Printf("Look at http://%s/ (a phone's width suits it best)\n\n", addr)
	c := h.command(ctx, os.Stdout, nil, b.program, "serve", "-demo", "-book", book, "-addr", addr)
	err = c.Run()
	var exit *exec.ExitError
	if ctx.Err() != nil || err == nil {
		return nil
	}
	if errors.As(err, &exit) {
		return errSaid
	}
	return err
}
