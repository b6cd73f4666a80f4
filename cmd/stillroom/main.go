// Command stillroom is the home store and its tools. Run it without arguments for what it can do.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"slices"
	"syscall"
)

// console is where a command reads and writes.
type console struct {
	in       io.Reader
	out, err io.Writer
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, console{os.Stdin, os.Stdout, os.Stderr}, os.Args[1:])
	stop()
	os.Exit(code)
}

func run(ctx context.Context, c console, args []string) int {
	if len(args) == 0 || slices.Contains([]string{"help", "-h", "-help", "--help"}, args[0]) {
		usage(c.out)
		return exitOK
	}
	if os.Getenv(inCheck) != "" && isCheck(args) {
		return check(c, args[1], args[2], args[3])
	}
	for _, command := range commands() {
		if command.name == args[0] {
			return c.end(command.run(ctx, c, args[1:]))
		}
	}
	return c.end(&misuse{"there is no command " + args[0], "stillroom alone lists them"})
}
