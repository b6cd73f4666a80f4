package main

import (
	"context"
	"fmt"
	"os"
	"strings"

	"stillroom/pwa/e2e/webdriver"
)

// debian tells which Debian package brings each program that the tests call.
var debian = []struct{ program, pack string }{
	{"chromium", "chromium"},
	{"chromedriver", "chromium-driver"},
	{"WebKitWebDriver", "webkit2gtk-driver"},
	{"xvfb-run", "xvfb"},
	{"xauth", "xauth"},
	{"dbus-run-session", "dbus-bin"},
	{"dbus-daemon", "dbus"},
	{"zbarimg", "zbar-tools"},
	{"pdftoppm", "poppler-utils"},
	{"strace", "strace"},
}

// browsers installs what the browser tests need and this machine lacks: as root of a Debian by apt-get, otherwise the
// line to type is printed and those tests skip themselves aloud.
func browsers(ctx context.Context, h house) error {
	packs, programs := missing(look)
	if len(packs) == 0 {
		return lookAtEngines()
	}
	fmt.Println("missing here:", strings.Join(programs, ", "))
	line := "apt-get install -y --no-install-recommends " + strings.Join(packs, " ")
	if os.Geteuid() != 0 || look("apt-get") == "" {
		return skipped{"what needs them is skipped. As root of a Debian: apt-get update && " + line}
	}
	quiet := []string{"DEBIAN_FRONTEND=noninteractive"}
	if err := h.call(ctx, quiet, "apt-get", "update", "-qq"); err != nil {
		return err
	}
	if err := h.call(ctx, quiet, "apt-get", append(strings.Fields(line)[1:], "-qq")...); err != nil {
		return err
	}
	return lookAtEngines()
}

// missing tells what is to be installed, and for the sake of which programs.
func missing(look func(program string) string) (packs, programs []string) {
	for _, d := range debian {
		if look(d.program) == "" {
			packs, programs = append(packs, d.pack), append(programs, d.program)
		}
	}
	if len(packs) > 0 {
		packs = append(packs, "fonts-dejavu-core") // a browser without any font draws empty boxes
	}
	return packs, programs
}

// lookAtEngines tells which engines can be driven.
func lookAtEngines() error {
	var without []string
	for _, engine := range []string{"chromium", "webkit"} {
		if m := webdriver.Missing(engine); len(m) > 0 {
			without = append(without, fmt.Sprintf("%s (%s)", engine, strings.Join(m, ", ")))
			continue
		}
		fmt.Println(engine, "can be driven")
	}
	if len(without) > 0 {
		return fmt.Errorf("cannot be driven: %s", strings.Join(without, "; "))
	}
	return nil
}
