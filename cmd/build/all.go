package main

import (
	"context"
	"fmt"
	"runtime"
)

// built is what a build came to.
type built struct {
	program string
	dist    dist
}

// buildAll makes the engine, the app around it and the program around both, and prints each part's time.
func buildAll(ctx context.Context, h house, quality int) (built, error) {
	unlock, err := lockBuild(h)
	if err != nil {
		return built{}, err
	}
	defer unlock()
	var b built
	if b.dist, err = buildApp(ctx, h, quality); err != nil {
		return built{}, err
	}
	b.program = h.path(".build", "stillroom")
	if runtime.GOOS == "windows" {
		b.program += ".exe"
	}
	err = timed("program", func() (string, error) {
		return ".build/stillroom", buildProgram(ctx, h, b.program, nil)
	})
	return b, err
}

// buildApp fills pwa/dist.
func buildApp(ctx context.Context, h house, quality int) (dist, error) {
	if err := timed("npm", func() (string, error) { return nodeModules(ctx, h) }); err != nil {
		return dist{}, err
	}
	var engine []byte
	err := timed("engine", func() (string, error) {
		var err error
		engine, err = buildEngine(ctx, h)
		return kilo(len(engine)) + " raw", err
	})
	if err != nil {
		return dist{}, err
	}
	var d dist
	err = timed("app", func() (string, error) {
		d, err = bundle(h, engine)
		return fmt.Sprintf("%d files, build %s", len(d.files), d.build), err
	})
	if err != nil {
		return dist{}, err
	}
	err = timed("compress", func() (string, error) {
		return d.compress(ctx, h, quality)
	})
	if err != nil {
		return dist{}, err
	}
	return d, timed("dist", func() (string, error) { return d.write(h) })
}

// buildProgram links the program with the app inside. CGO stays off so that one file runs on any machine of its kind.
func buildProgram(ctx context.Context, h house, out string, env []string) error {
	return h.call(ctx, append(env, "CGO_ENABLED=0"), "go", "build", "-trimpath", "-ldflags", "-s -w", "-o", out, "./cmd/stillroom")
}

func kilo(n int) string { return fmt.Sprintf("%.1f kB", float64(n)/1000) }
