package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Budgets in bytes after brotli, from the design: what a phone has to fetch before it can work.
const (
	engineBudget = 1_100_000
	appBudget    = 60_000
	shellBudget  = 1_700_000
)

// release builds the programs that are handed out and weighs what is inside them.
func release(ctx context.Context, h house) error {
	unlock, err := lockBuild(h)
	if err != nil {
		return err
	}
	defer unlock()
	d, err := buildApp(ctx, h, smallBrotli)
	if err != nil {
		return err
	}
	out := h.path(".build", "release")
	if err := os.RemoveAll(out); err != nil {
		return err
	}
	for _, system := range []string{"linux/amd64", "linux/arm64", "darwin/arm64", "darwin/amd64", "windows/amd64"} {
		goos, arch, _ := strings.Cut(system, "/")
		path := filepath.Join(out, "stillroom-"+goos+"-"+arch)
		if goos == "windows" {
			path += ".exe"
		}
		err := timed(system, func() (string, error) {
			if err := buildProgram(ctx, h, path, []string{"GOOS=" + goos, "GOARCH=" + arch}); err != nil {
				return "", err
			}
			info, err := os.Stat(path)
			if err != nil {
				return "", err
			}
			return kilo(int(info.Size())), nil
		})
		if err != nil {
			return err
		}
	}
	weigh(d)
	return nil
}

// weigh prints the sizes against their budgets. One that is over is said aloud and fails nothing: a budget is a report of
// what a phone has to fetch, and whoever hands out a release decides about it.
func weigh(d dist) {
	over := 0
	row := func(name string, budget int, match func(name string) bool) {
		n, word := d.size(match), "within"
		if n > budget {
			over++
			word = "OVER"
		}
		fmt.Printf("  %-28s %10s of %10s  %s\n", name, kilo(n), kilo(budget), word)
	}
	fmt.Println("\nafter brotli:")
	begins := func(f string, stems ...string) bool {
		for _, s := range stems {
			if strings.HasPrefix(f, s) && strings.HasSuffix(f, ".br") {
				return true
			}
		}
		return false
	}
	row("engine", engineBudget, func(f string) bool { return begins(f, "engine-") })
	row("all JavaScript and CSS", appBudget, func(f string) bool { return begins(f, "app-", "worker-", "scan-", "sw.js", "rescue-") })
	row("whole shell", shellBudget, func(f string) bool {
		return strings.HasSuffix(f, ".br") || strings.HasSuffix(f, ".png")
	})
	if over > 0 {
		fmt.Printf("\nOVER: %d of 3 budgets are passed\n", over)
	}
}
