package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"github.com/andybalholm/brotli"
)

// Brotli's quality: the smallest costs half a minute on the engine, the quick one a fifth of a second for a tenth more bytes.
// Scripts and styles are small enough to be pressed as small as they go in every build, so that their sizes are true.
const (
	quickBrotli = 5
	smallBrotli = 11
)

// compressible files get .br and .gz beside them; pictures are compressed already.
func compressible(name string) bool {
	switch filepath.Ext(name) {
	case ".html", ".js", ".css", ".wasm", ".svg", ".webmanifest":
		return true
	}
	return false
}

// compress adds .br and .gz files. Results are kept by content in .build/cache, so an unchanged file costs nothing.
func (d *dist) compress(ctx context.Context, h house, quality int) (string, error) {
	cache := h.path(".build", "cache")
	if err := os.MkdirAll(cache, 0o755); err != nil {
		return "", err
	}
	type job struct {
		file
		ext   string
		press int
		out   []byte
		had   bool
		fail  error
	}
	var jobs []*job
	for _, f := range d.files {
		if compressible(f.name) {
			press := quality
			if filepath.Ext(f.name) != ".wasm" {
				press = smallBrotli
			}
			jobs = append(jobs, &job{file: f, ext: ".br", press: press}, &job{file: f, ext: ".gz", press: press})
		}
	}
	var wg sync.WaitGroup
	free := make(chan struct{}, runtime.NumCPU())
	for _, j := range jobs {
		wg.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			if j.fail = ctx.Err(); j.fail != nil {
				return
			}
			sum := sha256.Sum256(j.data)
			kept := filepath.Join(cache, fmt.Sprintf("%s%s%d", hex.EncodeToString(sum[:16]), j.ext, j.press))
			if j.out, j.fail = os.ReadFile(kept); j.fail == nil {
				j.had = true
				return
			}
			if j.out, j.fail = squeeze(j.data, j.ext, j.press); j.fail == nil {
				j.fail = writeWhole(kept, j.out)
			}
		})
	}
	wg.Wait()
	kept := 0
	for _, j := range jobs {
		if j.fail != nil {
			return "", fmt.Errorf("%s%s: %w", j.name, j.ext, j.fail)
		}
		if j.had {
			kept++
		}
		d.files = append(d.files, file{name: j.name + j.ext, data: j.out})
	}
	return fmt.Sprintf("brotli %d, %d of %d as before", quality, kept, len(jobs)), nil
}

func squeeze(data []byte, ext string, quality int) ([]byte, error) {
	var b bytes.Buffer
	if ext == ".br" {
		w := brotli.NewWriterOptions(&b, brotli.WriterOptions{Quality: quality, LGWin: 22})
		if _, err := w.Write(data); err != nil {
			return nil, err
		}
		err := w.Close()
		return b.Bytes(), err
	}
	w, err := gzip.NewWriterLevel(&b, 6)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err = w.Close()
	return b.Bytes(), err
}

// writeWhole writes beside and renames, so that a stopped build never leaves half a file under a good name.
func writeWhole(path string, data []byte) error {
	temp, err := os.CreateTemp(filepath.Dir(path), ".part-*")
	if err != nil {
		return err
	}
	defer os.Remove(temp.Name())
	if err := temp.Chmod(0o644); err != nil {
		return err
	}
	if _, err := temp.Write(data); err != nil {
		return err
	}
	if err := temp.Close(); err != nil {
		return err
	}
	return os.Rename(temp.Name(), path)
}

// write brings pwa/dist to what it should hold: changed files alone are written, others removed, .keep never touched,
// because the embedding needs the folder on a fresh clone.
func (d *dist) write(h house) (string, error) {
	root := h.path("pwa", "dist")
	want := map[string]bool{".keep": true}
	changed := 0
	for _, f := range d.files {
		want[f.name] = true
		path := filepath.Join(root, f.name)
		if have, err := os.ReadFile(path); err == nil && bytes.Equal(have, f.data) {
			continue
		}
		changed++
		if err := writeWhole(path, f.data); err != nil {
			return "", err
		}
	}
	err := fs.WalkDir(os.DirFS(root), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || want[path] {
			return err
		}
		return os.Remove(filepath.Join(root, path))
	})
	return fmt.Sprintf("pwa/dist, %d of %d files changed", changed, len(d.files)), err
}

// size sums what one ending of one stem weighs, for the budgets.
func (d *dist) size(match func(name string) bool) int {
	n := 0
	for _, f := range d.files {
		if match(f.name) {
			n += len(f.data)
		}
	}
	return n
}
