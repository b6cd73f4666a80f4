package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

// nodeModules installs what the lock file says, when the folder is not already what that lock file said.
func nodeModules(ctx context.Context, h house) (string, error) {
	sum := sha256.New()
	for _, name := range []string{"package.json", "package-lock.json", ".npmrc"} {
		b, err := os.ReadFile(h.path("pwa", name))
		if err != nil {
			return "", err
		}
		fmt.Fprintf(sum, "%d\n%s", len(b), b)
	}
	want := hex.EncodeToString(sum.Sum(nil))
	stamp := h.path("pwa", "node_modules", ".stillroom-lock")
	if have, err := os.ReadFile(stamp); err == nil && string(have) == want {
		return "as the lock file says", nil
	}
	npm, err := exec.LookPath("npm")
	if err != nil {
		return "", errors.New("npm is not here. Install Node 20 or newer (on Debian: apt-get install nodejs npm), then run this again")
	}
	c := h.command(ctx, os.Stdout, nil, npm, "ci", "--no-fund", "--no-audit", "--loglevel=warn")
	c.Dir = h.path("pwa")
	if err := c.Run(); err != nil {
		return "", fmt.Errorf("npm ci: %w", err)
	}
	if err := os.WriteFile(stamp, []byte(want), 0o644); err != nil {
		return "", err
	}
	return "npm ci into " + filepath.Join("pwa", "node_modules"), nil
}
