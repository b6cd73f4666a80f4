package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
)

// aHouse is an empty house in a folder of the test's own.
func aHouse(t *testing.T) house {
	t.Helper()
	h := house{root: t.TempDir()}
	for _, dir := range []string{"pwa/dist", "pwa/app"} {
		if err := os.MkdirAll(h.path(filepath.FromSlash(dir)), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	return h
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The folder holds what was built and nothing else, but .keep stays, since the embedding needs it on a fresh clone.
func TestDistHoldsThisBuildAndKeepsKeep(t *testing.T) {
	h := aHouse(t)
	write(t, h.path("pwa", "dist", ".keep"), "")
	write(t, h.path("pwa", "dist", "app-old.js"), "old")
	var d dist
	d.add("index.html", []byte("page"), true)
	for range 2 { // a second time over what the first left
		if _, err := d.write(h); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := os.ReadDir(h.path("pwa", "dist"))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if want := []string{".keep", "index.html"}; !slices.Equal(names, want) {
		t.Errorf("dist holds %v, want %v", names, want)
	}
}

// What is served compressed is what was built, from the first time and from the kept copy.
func TestCompressedFilesGiveBackWhatWasBuilt(t *testing.T) {
	h := aHouse(t)
	text := []byte(strings.Repeat("glycerin 5.60 % 168.0 g\n", 4000))
	for range 2 {
		var d dist
		d.add("app.js", text, true)
		d.add("icon.png", text, true)
		if _, err := d.compress(context.Background(), h, quickBrotli); err != nil {
			t.Fatal(err)
		}
		readers := map[string]func(io.Reader) (io.Reader, error){
			"app.js.br": func(r io.Reader) (io.Reader, error) { return brotli.NewReader(r), nil },
			"app.js.gz": func(r io.Reader) (io.Reader, error) { return gzip.NewReader(r) },
		}
		for _, f := range d.files {
			open := readers[f.name]
			if open == nil {
				continue
			}
			delete(readers, f.name)
			r, err := open(bytes.NewReader(f.data))
			if err != nil {
				t.Fatal(err)
			}
			if got, err := io.ReadAll(r); err != nil || !bytes.Equal(got, text) {
				t.Errorf("%s gives back %d bytes and %v, want the %d that were built", f.name, len(got), err, len(text))
			}
		}
		if len(readers) != 0 || len(d.files) != 4 {
			t.Errorf("%d files, and %d kinds are missing: a script gets .br and .gz, a picture neither", len(d.files), len(readers))
		}
	}
}

func TestAPageThatAsksForAnUnknownNameIsRefused(t *testing.T) {
	h := aHouse(t)
	write(t, h.path("pwa", "app", "index.html"), `<script src="{{app.js}}"></script><link href="{{ap.css}}">`)
	var d dist
	err := d.page(h, "pwa/app/index.html", "index.html", map[string]string{"app.js": "/app-1.js"})
	if err == nil || !strings.Contains(err.Error(), "{{ap.css}}") {
		t.Errorf("got %v, want the name that is unknown", err)
	}
}

// What works offline is listed with "/" in place of the page's file, and the service worker itself is not among it.
func TestTheShellListsWhatWorksOffline(t *testing.T) {
	var d dist
	app := d.addHashed("app", ".js", []byte("1"))
	d.add("index.html", nil, true)
	d.add("sw.js", nil, false)
	if got, want := d.shell(), []string{"/", app}; !slices.Equal(got, want) {
		t.Errorf("shell %v, want %v", got, want)
	}
	if again := d.addHashed("app", ".js", []byte("2")); again == app {
		t.Errorf("%s names two contents", app)
	}
}

// The manifest names pictures that are there, in the sizes that it claims.
func TestTheManifestNamesPicturesOfTheirSize(t *testing.T) {
	var d dist
	if err := d.icons(); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, f := range d.files {
		files["/"+f.name] = f.data
	}
	var manifest struct {
		Icons []struct{ Src, Sizes, Type, Purpose string }
	}
	if err := json.Unmarshal(files["/manifest.webmanifest"], &manifest); err != nil {
		t.Fatal(err)
	}
	purposes := map[string]bool{}
	for _, icon := range manifest.Icons {
		data, there := files[icon.Src]
		if !there {
			t.Errorf("%s is not there", icon.Src)
			continue
		}
		if icon.Type != "image/png" {
			continue
		}
		purposes[icon.Purpose+" "+icon.Sizes] = true
		picture, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Errorf("%s: %v", icon.Src, err)
			continue
		}
		if w := picture.Bounds().Dx(); icon.Sizes != fmt.Sprintf("%dx%d", w, w) {
			t.Errorf("%s is %d wide and said to be %s", icon.Src, w, icon.Sizes)
		}
	}
	for _, want := range []string{"any 192x192", "any 512x512", "maskable 512x512"} {
		if !purposes[want] {
			t.Errorf("no icon for %s, without which the app cannot be installed everywhere", want)
		}
	}
}
