package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"stillroom/calc"
)

// maxRequest is more than any formula needs.
const maxRequest = 4 << 20

// calculate lists the computations, shows an example of one, or runs one on the request at standard input.
func calculate(_ context.Context, c console, args []string) error {
	if len(args) == 0 {
		for _, n := range calc.Names() {
			fmt.Fprintf(c.out, "%-14s %s\n", n.Name, n.Line)
		}
		return nil
	}
	name := args[0]
	if !known(name) {
		return &misuse{"there is no computation " + name, "stillroom calc lists them"}
	}
	example := false
	rest, err := flags("calc", args[1:], func(set *flag.FlagSet) { set.BoolVar(&example, "example", false, "") })
	if err != nil {
		return err
	}
	if len(rest) > 0 {
		return &misuse{fmt.Sprintf("calc: %q is too much", rest[0]), form("calc")}
	}
	if example {
		request, err := calc.Example(name)
		if err != nil {
			return misread(name, err)
		}
		return write(c.out, request)
	}
	request, err := io.ReadAll(io.LimitReader(c.in, maxRequest+1))
	if err != nil {
		return err
	}
	if len(request) > maxRequest {
		return &misuse{"the request is larger than 4 MB", "stillroom calc " + name + " -example shows one"}
	}
	answer, err := calc.Do(name, request)
	if err != nil {
		return misread(name, err)
	}
	return write(c.out, answer)
}

func known(name string) bool {
	for _, n := range calc.Names() {
		if n.Name == name {
			return true
		}
	}
	return false
}

func write(w io.Writer, data []byte) error {
	if len(data) == 0 || data[len(data)-1] != '\n' {
		data = append(data, '\n')
	}
	_, err := w.Write(data)
	return err
}

// hinted is an error with the next step.
type hinted struct {
	error
	hint string
}

func (e *hinted) Hint() string  { return e.hint }
func (e *hinted) Unwrap() error { return e.error }

func misread(name string, err error) error {
	var field *calc.FieldError
	if errors.As(err, &field) && field.Want != "" {
		return &hinted{errors.New(strings.TrimPrefix(field.Field+": "+field.Says, ": ")), field.Want}
	}
	return &hinted{err, "stillroom calc " + name + " -example shows a request"}
}
