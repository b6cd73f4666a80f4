package main

import (
	"context"
	"os"
)

// bench runs every benchmark once and keeps its output, so that two runs can be compared.
func bench(ctx context.Context, h house) error {
	if _, err := buildAll(ctx, h, smallBrotli); err != nil {
		return err
	}
	return h.command(ctx, os.Stdout, nil, "go", "test", "-run", "^$", "-bench", ".", "-benchmem", "./...").Run()
}
