// Command build is the one tool a contributor of Stillroom runs: it builds the engine, the app and the program, starts
// them, tests them and makes a release.
//
//	go run ./cmd/build            build
//	go run ./cmd/build run        build, then serve a demo book on this computer
//	go run ./cmd/build test       every check; -long for the slow ones as well
//	go run ./cmd/build bench      the benchmarks
//	go run ./cmd/build pictures   the README's pictures anew
//	go run ./cmd/build release    programs for every system, and sizes against their budgets
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

const usage = `usage: go run ./cmd/build [command]

  (none)            build the engine, the app and the program into .build/stillroom
  run [-addr A] [-book DIR]
                    build, then serve a demo book at http://127.0.0.1:8417/
  test [-long] [-only PART]
                    every check, each with its time
  bench             the benchmarks
  pictures          the README's pictures anew, from the real app
  release           programs for every system into .build/release, and sizes against their budgets
`

// errSaid ends the program with a failure whose reason has been printed already.
var errSaid = errors.New("already said")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	err := dispatch(ctx, os.Args[1:])
	stop()
	if err != nil {
		if !errors.Is(err, errSaid) {
			fmt.Fprintln(os.Stderr, "build:", err)
		}
		os.Exit(1)
	}
}

func dispatch(ctx context.Context, args []string) error {
	h, err := findHouse(ctx)
	if err != nil {
		return err
	}
	name := ""
	if len(args) > 0 {
		name, args = args[0], args[1:]
	}
	flags := flag.NewFlagSet(name, flag.ContinueOnError)
	flags.Usage = func() { fmt.Fprint(os.Stderr, usage) }
	parse := func() error {
		if err := flags.Parse(args); err != nil {
			return errSaid
		}
		if flags.NArg() > 0 {
			return fmt.Errorf("%q is not understood here\n%s", flags.Arg(0), usage)
		}
		return nil
	}
	switch name {
	case "", "build":
		if err := parse(); err != nil {
			return err
		}
		b, err := buildAll(ctx, h, quickBrotli)
		if err == nil {
			weigh(b.dist, quickBrotli)
		}
		return err
	case "run":
		addr := flags.String("addr", "127.0.0.1:8417", "where to serve")
		book := flags.String("book", "stillroom-book", "folder of the book, kept between runs")
		if err := parse(); err != nil {
			return err
		}
		return run(ctx, h, *addr, *book)
	case "test":
		long := flags.Bool("long", false, "also race builds, more seeds and smallest compression")
		only := flags.String("only", "", "run only the parts whose name contains this")
		if err := parse(); err != nil {
			return err
		}
		return test(ctx, h, *long, *only)
	case "bench":
		if err := parse(); err != nil {
			return err
		}
		return bench(ctx, h)
	case "release":
		if err := parse(); err != nil {
			return err
		}
		return release(ctx, h)
	case "pictures":
		if err := parse(); err != nil {
			return err
		}
		return pictures(ctx, h)
	case "help", "-h", "-help", "--help":
		fmt.Print(usage)
		return nil
	}
	return fmt.Errorf("there is no command %q\n%s", name, usage)
}
