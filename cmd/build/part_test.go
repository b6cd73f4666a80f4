package main

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"
)

// A failed part does not keep the others from running, and the closing line counts parts.
func TestEveryPartRunsAndTheCountIsClosed(t *testing.T) {
	ran := ""
	note := func(name string, err error) part {
		return part{name, func(context.Context) error { ran += name; return err }}
	}
	all := runParts(context.Background(), []part{
		note("a", nil), note("b", errors.New("spilled\nall over")), note("c", skipped{"no browser"}), note("d", nil),
	})
	if ran != "abcd" {
		t.Errorf("ran %q, want every part in order", ran)
	}
	var out bytes.Buffer
	if err := summary(&out, all); !errors.Is(err, errSaid) {
		t.Errorf("a failed part gives %v, want a failure", err)
	}
	if !strings.HasSuffix(out.String(), "\n2 passed, 1 failed, 1 skipped\n") {
		t.Errorf("the closing line is wrong:\n%s", out.String())
	}
	if !strings.Contains(out.String(), "FAILED    spilled\n") || !strings.Contains(out.String(), "SKIPPED   no browser\n") {
		t.Errorf("the table does not say why:\n%s", out.String())
	}
}

func TestNoFailureNoSkip(t *testing.T) {
	var out bytes.Buffer
	err := summary(&out, []outcome{{name: "a"}, {name: "b"}})
	if err != nil || !strings.HasSuffix(out.String(), "\n2 passed, 0 failed\n") {
		t.Errorf("%v:\n%s", err, out.String())
	}
}

func TestAStoppedRunCountsWhatDidNotRun(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	all := runParts(ctx, []part{
		{"first", func(context.Context) error { stop(); return nil }},
		{"second", func(context.Context) error { t.Error("ran after the stop"); return nil }},
	})
	var out bytes.Buffer
	if err := summary(&out, all); err == nil || !strings.Contains(out.String(), "1 passed, 1 failed") {
		t.Errorf("%v:\n%s", err, out.String())
	}
}

func TestWhatIsMissingIsToldByItsPackage(t *testing.T) {
	packs, programs := missing(func(program string) string {
		if program == "zbarimg" || program == "chromedriver" {
			return ""
		}
		return program
	})
	if got, want := strings.Join(packs, " "), "chromium-driver zbar-tools fonts-dejavu-core"; got != want {
		t.Errorf("packages %q, want %q", got, want)
	}
	if got, want := strings.Join(programs, " "), "chromedriver zbarimg"; got != want {
		t.Errorf("programs %q, want %q", got, want)
	}
	if packs, _ := missing(func(program string) string { return program }); len(packs) != 0 {
		t.Errorf("nothing is missing, and %v are to be installed", packs)
	}
}
