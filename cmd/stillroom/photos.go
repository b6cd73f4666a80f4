package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"stillroom/calc/book"
	"stillroom/server/folder"
)

// exportPhotos writes every photo of the book as a file of its own into dir, named after its batch or formula and
// the beginning of its own name. A file that is there already is left as it is. It says how many are still on the phones that took them.
func exportPhotos(c console, f *folder.Folder, state *book.State, dir string) error {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	var failed error
	wrote, away := 0, 0
	state.Photos(func(name, of string) bool {
		switch err := exportPhoto(f, name, filepath.Join(dir, fileName(of)+"-"+name[:8]+".jpg")); {
		case err == nil, errors.Is(err, fs.ErrExist):
			wrote++
		case errors.Is(err, fs.ErrNotExist):
			away++
		default:
			failed = err
		}
		return failed == nil
	})
	fmt.Fprintf(c.err, "%d photos are in %s; %d are still on the phones that took them\n", wrote, dir, away)
	return failed
}

func exportPhoto(f *folder.Folder, name, to string) error {
	from, err := f.Photos.Open(name)
	if err != nil {
		return err
	}
	defer from.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, from)
	if err = errors.Join(err, out.Close()); err != nil {
		return errors.Join(err, os.Remove(to))
	}
	return nil
}

// fileName keeps of a name what every file system takes.
func fileName(of string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return '-'
		}
		return r
	}, of)
}
