package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"go/format"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// test runs every check. CI calls exactly this.
func test(ctx context.Context, h house, long bool, only string) error {
	quality := quickBrotli
	if long {
		quality = smallBrotli
	}
	wasm := []string{"GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0"}
	parts := []part{
		{"browsers", func(ctx context.Context) error { return browsers(ctx, h) }},
		{"build", func(ctx context.Context) error { _, err := buildAll(ctx, h, quality); return err }},
		{"gofmt", func(context.Context) error { return gofmt(h) }},
		{"vet", func(ctx context.Context) error { return h.call(ctx, nil, "go", "vet", "./...") }},
		{"vet engine", func(ctx context.Context) error { return h.call(ctx, wasm, "go", "vet", "./pwa/engine/...") }},
		{"staticcheck", func(ctx context.Context) error { return h.call(ctx, nil, "go", "tool", "staticcheck", "./...") }},
		{"staticcheck engine", func(ctx context.Context) error { return staticcheckEngine(ctx, h, wasm) }},
		{"tsc", func(ctx context.Context) error { return tsc(ctx, h) }},
		{"go test", func(ctx context.Context) error { return goTest(ctx, h, nil) }},
		{"same in WASM", func(ctx context.Context) error { return sameInWASM(ctx, h, wasm) }},
		{"scenarios", func(ctx context.Context) error { return scenarios(ctx, h, long) }},
	}
	if long {
		parts = append(parts,
			part{"go test -race", func(ctx context.Context) error { return goTest(ctx, h, []string{"CGO_ENABLED=1"}, "-race") }},
			part{"soak", func(ctx context.Context) error { return soak(ctx, h) }},
			part{"faults", func(ctx context.Context) error { return faults(ctx, h) }},
			part{"simulation", func(ctx context.Context) error { return simulation(ctx, h) }})
	}
	if only != "" {
		parts = slices.DeleteFunc(parts, func(p part) bool { return !strings.Contains(p.name, only) })
		if len(parts) == 0 {
			return fmt.Errorf("no part's name contains %q", only)
		}
	}
	return summary(os.Stdout, runParts(ctx, parts))
}

// gofmt names the files that are not as the formatter would write them.
func gofmt(h house) error {
	var wrong []string
	err := h.goFiles(func(path string, source []byte) error {
		want, err := format.Source(source)
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		if !bytes.Equal(source, want) {
			wrong = append(wrong, path)
		}
		return nil
	})
	if err == nil && len(wrong) > 0 {
		err = fmt.Errorf("not formatted (gofmt -w): %s", strings.Join(wrong, " "))
	}
	return err
}

// goFiles visits every Go file of the house, built or not on this system.
func (h house) goFiles(visit func(path string, source []byte) error) error {
	return fs.WalkDir(os.DirFS(h.root), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			if name := e.Name(); name == "node_modules" || len(name) > 1 && name[0] == '.' {
				return fs.SkipDir
			}
			return nil
		}
		if filepath.Ext(path) != ".go" {
			return nil
		}
		b, err := os.ReadFile(h.path(filepath.FromSlash(path)))
		if err != nil {
			return err
		}
		return visit(path, b)
	})
}

// staticcheckEngine builds the linter for this machine first: with the engine's environment the go command would look
// at the linter itself as something to run in a browser.
func staticcheckEngine(ctx context.Context, h house, wasm []string) error {
	var out bytes.Buffer
	if err := h.command(ctx, &out, nil, "go", "tool", "-n", "staticcheck").Run(); err != nil {
		return fmt.Errorf("go tool -n staticcheck: %w: %s", err, out.String())
	}
	return h.call(ctx, wasm, strings.TrimSpace(out.String()), "./pwa/engine/...")
}

func tsc(ctx context.Context, h house) error {
	if _, err := nodeModules(ctx, h); err != nil {
		return err
	}
	return h.call(ctx, nil, h.path("pwa", "node_modules", ".bin", "tsc"), "--noEmit", "-p", h.path("pwa"))
}

// goTest runs every Go test but the scenarios, which have a part of their own.
func goTest(ctx context.Context, h house, env []string, flags ...string) error {
	var out bytes.Buffer
	c := h.command(ctx, &out, nil, "go", "list", "./...")
	c.Stderr = os.Stderr
	if err := c.Run(); err != nil {
		return fmt.Errorf("go list: %w", err)
	}
	packages := slices.DeleteFunc(strings.Fields(out.String()), func(p string) bool { return p == "stillroom/pwa/e2e" })
	args := append([]string{"test"}, flags...)
	return h.call(ctx, env, "go", append(args, packages...)...)
}

// faults, with -v for its progress, damages a book in many more places and kills the program many more times than a working day has time for.
func faults(ctx context.Context, h house) error {
	return h.call(ctx, nil, "go", "test", "-count=1", "-v", "-timeout", "60m", "-run", "^(TestDamageMatrix|TestKilledWhilePushing)$", "./cmd/stillroom", "-long", "-rounds", longRounds)
}

// soak mixes kills, ends, backups and restores of a program that the race detector watches.
func soak(ctx context.Context, h house) error {
	return h.call(ctx, []string{"CGO_ENABLED=1"}, "go", "test", "-race", "-count=1", "-v", "-timeout", "60m", "-run", "^TestSoak$", "./cmd/stillroom", "-soak", soakRounds)
}

// soakRounds take a few minutes on two cores.
const soakRounds = "100"

// longRounds of the kill loop take a few minutes on two cores.
const longRounds = "200"

// sameInWASM runs in Node, compiled as for a phone, what must give the same bytes there as here: published tables, recorded
// books, vectors, and folds in any order. A processor that fuses a multiplication with an addition would show here.
func sameInWASM(ctx context.Context, h house, wasm []string) error {
	glue, err := wasmExec()
	if err != nil {
		return err
	}
	runner := filepath.Join(filepath.Dir(glue), "go_js_wasm_exec")
	return h.call(ctx, wasm, "go", "test", "-exec", runner, "-run", "Published|Recorded|Vector|EveryDevice|EveryOrder", "./calc", "./calc/book", "./sync", "-rapid.checks=10")
}

// simulation plays many more seeds than a working day has time for; a seed that fails is printed and can be run alone.
func simulation(ctx context.Context, h house) error {
	return h.call(ctx, nil, "go", "test", "-count=1", "-v", "-timeout", "30m", "-run", "Simulation", "./sync", "-sim.seeds", longSeeds)
}

// longSeeds are so many that a rare order of crashes comes up, in minutes on two cores.
const longSeeds = "20000"

// pictures takes the screens that the README shows, from the real app with the demo workshop in it.
func pictures(ctx context.Context, h house) error {
	if err := browsers(ctx, h); err != nil {
		return err
	}
	if _, err := buildAll(ctx, h, quickBrotli); err != nil {
		return err
	}
	return h.call(ctx, nil, "go", "test", "-count=1", "-run", "^TestPicturesOfTheReadme$", "./pwa/e2e", "-pictures")
}

// scenarios are played with -v: which engine played what is worth seeing, and so is what was skipped.
func scenarios(ctx context.Context, h house, long bool) error {
	if _, err := os.Stat(h.path(".build", "stillroom")); err != nil {
		return errors.New("there is no .build/stillroom to play them with: the build failed")
	}
	args := []string{"test", "-count=1", "-v", "-timeout", "20m", "./pwa/e2e"}
	if long {
		args = append(args, "-long")
	}
	return h.call(ctx, nil, "go", args...)
}

// look tells where a program is, or "".
func look(name string) string {
	path, err := exec.LookPath(name)
	if err != nil {
		return ""
	}
	return path
}
