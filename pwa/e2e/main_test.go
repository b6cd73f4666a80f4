// Package e2e holds the scenarios that a maker lives through, played in Chromium and in WebKit against the real
// program. Run by `go run ./cmd/build test`, which builds the program and installs the browsers first.
package e2e

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stillroom/pwa/e2e/webdriver"
)

// root is the folder of the sources.
var root string

// engines that this machine can drive.
var engines []string

func TestMain(m *testing.M) {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		fmt.Fprintln(os.Stderr, "e2e: the go command did not answer:", err)
		os.Exit(1)
	}
	root = filepath.Dir(strings.TrimSpace(string(out)))
	for _, engine := range []string{"chromium", "webkit"} {
		if missing := webdriver.Missing(engine); len(missing) > 0 {
			fmt.Printf("SKIPPED ALOUD: no scenario runs in %s, since this machine has no %s\n", engine, strings.Join(missing, ", "))
			continue
		}
		engines = append(engines, engine)
	}
	os.Exit(m.Run())
}

// inBoth plays a scenario in every engine, each with a window of a phone's size: the two at once, since they share
// nothing, and never two of one engine.
func inBoth(t *testing.T, play func(t *testing.T, engine string)) {
	t.Helper()
	for _, engine := range []string{"chromium", "webkit"} {
		t.Run(engine, func(t *testing.T) {
			t.Parallel()
			need(t, engine)
			play(t, engine)
		})
	}
}

// need skips a test whose engine is not here; TestMain has said so aloud.
func need(t *testing.T, engine string) {
	t.Helper()
	for _, have := range engines {
		if have == engine {
			return
		}
	}
	t.Skipf("no %s here: %s missing", engine, strings.Join(webdriver.Missing(engine), ", "))
}

// phoneSize of an engine: WebKit's window is never narrower than 447.
func phoneSize(engine string) (width, height int) {
	if engine == "webkit" {
		return 447, 844
	}
	return 390, 844
}

// openBrowser starts an engine at phone size; it is closed when the test ends.
func openBrowser(t *testing.T, engine string, o webdriver.Options) *webdriver.Session {
	t.Helper()
	if o.Width == 0 {
		o.Width, o.Height = phoneSize(engine)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 40*time.Second)
	defer cancel()
	s, err := webdriver.Start(ctx, engine, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return s
}

// long also plays what would take a short run above its quarter of an hour.
var long = flag.Bool("long", false, "also play the laptop's size")

// atBothSizes plays a scenario in every engine on a phone and on a laptop.
func atBothSizes(t *testing.T, play func(t *testing.T, engine string, o webdriver.Options)) {
	t.Helper()
	t.Run("phone 390×844 (447 in WebKit)", func(t *testing.T) {
		inBoth(t, func(t *testing.T, engine string) { play(t, engine, webdriver.Options{}) })
	})
	if !*long {
		t.Log("the laptop's size is played by -long alone")
		return
	}
	t.Run("laptop 1280×800", func(t *testing.T) {
		inBoth(t, func(t *testing.T, engine string) { play(t, engine, webdriver.Options{Width: 1280, Height: 800}) })
	})
}
