package house

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// rooms are the names at the top of the house. A new one is a decision, and is made here.
var rooms = []string{
	".ci", ".gitattributes", ".gitignore", ".readme", "CHANGELOG.md", "DEVELOPERS.md", "LICENSE", "README.md",
	"calc", "cmd", "go.mod", "go.sum", "pwa", "server", "sync", "testdata",
}

// made are places that are built or kept beside the sources and belong to no one's commit.
var made = []string{".git", ".build", "stillroom-book", "pwa/node_modules", "pwa/dist"}

// sources visits every file that is written by hand.
func sources(t *testing.T, visit func(name string, data []byte)) {
	t.Helper()
	top := root(t)
	err := fs.WalkDir(os.DirFS(top), ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if slices.Contains(made, name) {
			if e.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if e.IsDir() || !e.Type().IsRegular() || strings.HasSuffix(name, ".test") {
			return nil
		}
		b, err := os.ReadFile(filepath.Join(top, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		visit(name, b)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestTheTopOfTheHouseHasFixedNames(t *testing.T) {
	entries, err := os.ReadDir(root(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if name := e.Name(); !slices.Contains(rooms, name) && !slices.Contains(made, name) && !strings.HasSuffix(name, ".test") {
			t.Errorf("%s stands at the top of the house, where only %v stand", name, rooms)
		}
	}
}

func TestNoFileIsNamedForWhatItIsNot(t *testing.T) {
	vague := []string{"util", "utils", "common", "helper", "helpers", "misc", "shared", "stuff"}
	sources(t, func(name string, _ []byte) {
		for _, piece := range strings.Split(name, "/") {
			stem, _, _ := strings.Cut(piece, ".")
			stem = strings.TrimSuffix(stem, "_test")
			if slices.Contains(vague, strings.ToLower(stem)) {
				t.Errorf("%s: %q says nothing of what is inside", name, stem)
			}
		}
	})
}

func TestFilesStayShortEnoughToRead(t *testing.T) {
	const most = 400
	sources(t, func(name string, data []byte) {
		if !slices.Contains([]string{".go", ".ts", ".tsx", ".css", ".html"}, path.Ext(name)) || strings.Contains(name, "testdata/") {
			return
		}
		if n := bytes.Count(data, []byte("\n")); n > most {
			t.Errorf("%s has %d lines, more than %d: it holds more than one idea", name, n, most)
		}
	})
}

// Where a package was fetched from, and where somebody's sources lie, is nobody else's business and differs between
// machines.
func TestNoRegistryAndNoMachineIsNamed(t *testing.T) {
	hosts := []string{"registry." + "npmjs", "registry." + "yarnpkg", "npmmirror" + ".", "proxy." + "golang", "sum." + "golang", "goproxy" + ".", "deb." + "debian", "index." + "docker"}
	// a path of a machine: one of its top folders after something that cannot be part of a longer path or address
	place := regexp.MustCompile("(^|[\\s\"'`(=])/(work|farm|root|tmp|home|Users)/[A-Za-z0-9_.-]")
	sources(t, func(name string, data []byte) {
		if bytes.IndexByte(data, 0) >= 0 {
			return // a picture or a vector
		}
		for i, line := range strings.Split(string(data), "\n") {
			for _, h := range hosts {
				if strings.Contains(line, h) {
					t.Errorf("%s:%d names the registry %s", name, i+1, h)
				}
			}
			if m := place.FindString(line); m != "" {
				t.Errorf("%s:%d names a place on one machine: %s", name, i+1, strings.TrimSpace(m))
			}
		}
	})
}

// Every package under cmd, calc, sync, server and pwa says in a comment what it is for.
func TestEveryPackageSaysWhatItIsFor(t *testing.T) {
	comment := regexp.MustCompile(`(?m)^// (Package|Command) \w+`)
	for _, p := range everyPackage(t) {
		if len(p.GoFiles) == 0 {
			continue
		}
		said := false
		for _, file := range p.GoFiles {
			b, err := os.ReadFile(filepath.Join(p.Dir, file))
			if err != nil {
				t.Fatal(err)
			}
			head, _, _ := bytes.Cut(b, []byte("\npackage "))
			said = said || comment.Match(head)
		}
		if !said {
			t.Errorf("%s does not say what it is for: a comment that begins \"// Package\" above its package line", p.ImportPath)
		}
	}
}
