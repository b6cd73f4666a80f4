package main

import (
	"fmt"
	"path/filepath"
	"strings"
)

// Budgets in bytes after brotli, from the design: what a phone has to fetch before it can work.
const (
	engineBudget = 1_100_000
	appBudget    = 60_000
	shellBudget  = 1_700_000
)

// weight is a file of the shell, or several, with the budget that stands for it, 0 for one that counts into a sum below it.
type weight struct {
	name   string
	budget int
	match  func(name string) bool
}

// begins matches compressed files by the beginnings of their names.
func begins(stems ...string) func(name string) bool {
	return func(name string) bool {
		for _, s := range stems {
			if strings.HasPrefix(name, s) && strings.HasSuffix(name, ".br") {
				return true
			}
		}
		return false
	}
}

func ofApp(ext string) func(name string) bool {
	return func(name string) bool {
		return begins("app-")(name) && filepath.Ext(strings.TrimSuffix(name, ".br")) == ext
	}
}

// The app's own code is all that this house's sources become, with the view library, the signals and Go's glue inside. The
// scanner's reader is a stranger's code in a worker of its own, fetched for the shell, run when somebody scans.
var weights = []weight{
	{"page, JavaScript", 0, ofApp(".js")},
	{"page, CSS", 0, ofApp(".css")},
	{"worker with Go's glue", 0, begins("worker-")},
	{"service worker, rescue", 0, begins("sw.js", "rescue-")},
	{"the app's own JS and CSS", appBudget, begins("app-", "worker-", "sw.js", "rescue-")},
	{"engine", engineBudget, begins("engine-")},
	{"scanner, a library", 0, begins("scan-", "zxing_")},
	{"whole shell", shellBudget, func(name string) bool {
		return strings.HasSuffix(name, ".br") || strings.HasSuffix(name, ".png")
	}},
}

// weigh prints the sizes against their budgets. One that is over is said aloud and fails nothing: a budget is a report of
// what a phone has to fetch, and whoever hands out a release decides about it. A daily build presses the two WASM files
// quickly, so what holds them is only bounded by it from above.
func weigh(d dist, quality int) {
	fmt.Println("\nafter brotli:")
	over := 0
	for _, p := range weights {
		n := d.size(p.match)
		line := fmt.Sprintf("  %-26s %10s", p.name, kilo(n))
		if p.budget > 0 {
			word := "within"
			switch {
			case n <= p.budget:
			case quality < smallBrotli && p.budget > appBudget:
				word = "pressed quickly; go run ./cmd/build release tells"
			default:
				word = "OVER"
				over++
			}
			line += fmt.Sprintf(" of %10s  %s", kilo(p.budget), word)
		}
		fmt.Println(line)
	}
	if over > 0 {
		fmt.Printf("\nOVER: %d of 3 budgets are passed\n", over)
	}
}
