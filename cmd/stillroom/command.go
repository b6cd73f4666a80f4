package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
)

// Exit codes: 0 done; 1 not done, for a reason that is printed; 2 called in a way that means nothing.
const (
	exitOK     = 0
	exitFailed = 1
	exitMisuse = 2
)

type command struct {
	name, form, line string
	run              func(ctx context.Context, c console, args []string) error
}

func commands() []command {
	return []command{
		{"serve", "serve -book DIR [-addr 127.0.0.1:8417] [-demo] [-backup-to DIR [-backup-every 24h] [-backup-keep 14]]", "the home store", serve},
		{"calc", "calc [NAME [-example]]", "the computations; a request is read from standard input", calculate},
		{"verify", "verify -book DIR | -backup FILE", "read a whole book, or a backup with what it stands on, and prove it, or name what is bad", verify},
		{"backup", "backup -book DIR -to DIR [-full]", "the whole book as a file, or what came since the last such file, also while it is in use", saveBook},
		{"restore", "restore -from BACKUP -book NEWDIR", "a book of a backup, or of what a damaged book still holds", restoreBook},
		{"rescue", "rescue -book DIR FILE | -book NEWDIR -new [-lost DIR] FILE...", "take in what a phone's rescue page saved, or make a book of such files alone", rescueFile},
		{"export", "export -book DIR [-demo] [-photos DIR]", "every entry as a line of JSON, with the demo's only when asked for", export},
		{"import", "import -book DIR [-lots] [-yes] FILE.csv", "formulas or lots from a table: shown first, kept with -yes", importFile},
		{"trace", "trace -book DIR CODE", "from a jar or a lot to everything it touches", trace},
	}
}

func usage(w io.Writer) {
	fmt.Fprintln(w, "Stillroom keeps the batch book of someone who makes body-care products.")
	fmt.Fprintln(w)
	for _, c := range commands() {
		form := fmt.Sprintf("%-52s ", c.form)
		if len(form) > 53 {
			form = strings.TrimSpace(form) + "\n" + strings.Repeat(" ", 65)
		}
		fmt.Fprintf(w, "  stillroom %s%s\n", form, c.line)
	}
}

// misuse is a command line that means nothing.
type misuse struct{ says, hint string }

func (e *misuse) Error() string { return e.says }
func (e *misuse) Hint() string  { return e.hint }

// end prints an error as a line and the next step as another, and gives the exit code.
func (c console) end(err error) int {
	if err == nil {
		return exitOK
	}
	fmt.Fprintln(c.err, "error:", err)
	var hinted interface{ Hint() string }
	if errors.As(err, &hinted) && hinted.Hint() != "" {
		fmt.Fprintln(c.err, "hint:", hinted.Hint())
	}
	var wrong *misuse
	if errors.As(err, &wrong) {
		return exitMisuse
	}
	return exitFailed
}

// flags reads a command's flags and gives what follows them. The book is asked for where it is needed.
func flags(name string, args []string, define func(*flag.FlagSet)) ([]string, error) {
	set := flag.NewFlagSet(name, flag.ContinueOnError)
	set.SetOutput(io.Discard)
	define(set)
	if err := set.Parse(args); err != nil {
		return nil, &misuse{name + ": " + err.Error(), form(name)}
	}
	return set.Args(), nil
}

func form(name string) string {
	for _, c := range commands() {
		if c.name == name {
			return "stillroom " + c.form
		}
	}
	return ""
}

// bookFlags is flags for a command that takes -book and at most most words.
func bookFlags(name string, args []string, most int, define func(*flag.FlagSet)) (dir string, words []string, err error) {
	words, err = flags(name, args, func(set *flag.FlagSet) {
		set.StringVar(&dir, "book", "", "")
		define(set)
	})
	switch {
	case err != nil:
	case dir == "":
		err = &misuse{name + ": which book?", form(name)}
	case len(words) > most:
		err = &misuse{fmt.Sprintf("%s: %q is too much", name, words[most]), form(name)}
	}
	return dir, words, err
}
