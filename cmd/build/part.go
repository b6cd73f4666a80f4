package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
)

// part is one check of `test`.
type part struct {
	name string
	run  func(context.Context) error
}

// skipped is the reason why a part could not run here. It is said aloud and counted, and is no failure: without root a
// contributor still gets everything else.
type skipped struct{ reason string }

func (s skipped) Error() string { return s.reason }

// outcome is how a part went.
type outcome struct {
	name string
	took time.Duration
	err  error
}

// runParts runs every part, also after one has failed, since a list of all that is wrong saves a second round.
func runParts(ctx context.Context, parts []part) []outcome {
	var all []outcome
	for _, p := range parts {
		if ctx.Err() != nil {
			all = append(all, outcome{p.name, 0, errors.New("not run: stopped")})
			continue
		}
		fmt.Printf("\n── %s %s\n", p.name, strings.Repeat("─", max(0, 76-len(p.name))))
		start := time.Now()
		err := p.run(ctx)
		all = append(all, outcome{p.name, time.Since(start), err})
		if err != nil {
			fmt.Printf("%s: %v\n", p.name, err)
		}
	}
	return all
}

// summary prints the table and the closing line, and is an error when a part failed.
func summary(out io.Writer, all []outcome) error {
	var passed, failed, skips int
	var total time.Duration
	fmt.Fprintf(out, "\n── summary %s\n", strings.Repeat("─", 69))
	for _, o := range all {
		word, why := "passed", ""
		var s skipped
		switch {
		case o.err == nil:
			passed++
		case errors.As(o.err, &s):
			skips++
			word, why = "SKIPPED", "  "+firstLine(s.reason)
		default:
			failed++
			word, why = "FAILED", "  "+firstLine(o.err.Error())
		}
		total += o.took
		fmt.Fprintf(out, "  %-22s %7.1f s  %-8s%s\n", o.name, o.took.Seconds(), word, why)
	}
	fmt.Fprintf(out, "  %-22s %7.1f s\n\n", "all", total.Seconds())
	more := ""
	if skips > 0 {
		more = fmt.Sprintf(", %d skipped", skips)
	}
	fmt.Fprintf(out, "%d passed, %d failed%s\n", passed, failed, more)
	if failed > 0 {
		return errSaid
	}
	return nil
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}
