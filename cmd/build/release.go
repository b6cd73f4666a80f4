package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
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
	weigh(d, smallBrotli)
	return nil
}
