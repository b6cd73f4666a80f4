package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// house is where the sources stand and where built things go.
type house struct {
	root string
}

func (h house) path(elem ...string) string {
	return filepath.Join(append([]string{h.root}, elem...)...)
}

// has tells whether a source file or folder is there.
func (h house) has(elem ...string) bool {
	_, err := os.Stat(h.path(elem...))
	return err == nil
}

// findHouse asks the go command for the module that this runs in, so that every subfolder of it will do as a start.
func findHouse(ctx context.Context) (house, error) {
	out, err := exec.CommandContext(ctx, "go", "env", "GOMOD").Output()
	if err != nil {
		return house{}, fmt.Errorf("the go command did not answer: %w", err)
	}
	mod := strings.TrimSpace(string(out))
	if mod == "" || mod == os.DevNull {
		return house{}, errors.New("this is not a folder of Stillroom's sources: no go.mod above it")
	}
	return house{root: filepath.Dir(mod)}, nil
}

// command prepares a program that runs in the root and is asked to end, and given time to, when the tool is stopped.
func (h house) command(ctx context.Context, out io.Writer, env []string, name string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, name, args...)
	c.Dir = h.root
	c.Env = append(os.Environ(), env...)
	c.Stdout, c.Stderr = out, out
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) }
	c.WaitDelay = 10 * time.Second
	return c
}

// call runs a program in the root and shows what it prints.
func (h house) call(ctx context.Context, env []string, name string, args ...string) error {
	if err := h.command(ctx, os.Stdout, env, name, args...).Run(); err != nil {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return nil
}

// timed prints how long a part of the build took, and what it says of its result.
func timed(name string, part func() (string, error)) error {
	start := time.Now()
	says, err := part()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	fmt.Printf("  %-10s %6.1f s  %s\n", name, time.Since(start).Seconds(), says)
	return nil
}
