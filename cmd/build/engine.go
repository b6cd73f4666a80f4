package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// buildEngine compiles pwa/engine for the browser. The go command relinks only when a source changed.
func buildEngine(ctx context.Context, h house) ([]byte, error) {
	out := h.path(".build", "engine.wasm")
	err := h.call(ctx, []string{"GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0"},
		"go", "build", "-trimpath", "-ldflags", "-s -w", "-o", out, "./pwa/engine")
	if err != nil {
		return nil, err
	}
	return os.ReadFile(out)
}

// wasmExec finds the glue that belongs to this very toolchain: another version's does not fit, so none is committed.
func wasmExec() (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("go env GOROOT: %w", err)
	}
	path := filepath.Join(strings.TrimSpace(string(out)), "lib", "wasm", "wasm_exec.js")
	if _, err := os.Stat(path); err != nil {
		return "", errors.New("this Go toolchain has no lib/wasm/wasm_exec.js: install the whole toolchain, 1.26 or newer")
	}
	return path, nil
}
