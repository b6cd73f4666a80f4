package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/servertest"
	"stillroom/server/store/badger"
	"stillroom/server/store/witness"
)

var long = flag.Bool("long", false, "damage the folder in many more places and kill the program many more times")

// damages are what a disk does to a file; at is a place within what is in it.
var damages = []struct {
	name string
	do   func(path string, file content, at int) error
}{
	{"cut off", func(path string, _ content, at int) error { return os.Truncate(path, int64(at)) }},
	{"a page zeroed", func(path string, file content, at int) error {
		page := at &^ 4095
		return overwrite(path, make([]byte, min(4096, len(file.data)-page)), page)
	}},
	{"a bit flipped", func(path string, file content, at int) error {
		return overwrite(path, []byte{file.data[at] ^ 1<<(at%8)}, at)
	}},
	{"deleted", func(path string, _ content, _ int) error { return os.Remove(path) }},
}

func overwrite(path string, data []byte, at int) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.WriteAt(data, int64(at))
	return errors.Join(err, f.Close())
}

// F19, the damage matrix: a folder as the real program left it when it was killed, every file in it, every damage. It
// opens with at least what the witness says, or for reading with a clean beginning and a name for what is wrong, or it is
// refused by name; and what was damaged stays as it is.
func TestDamageMatrix(t *testing.T) {
	places := 1
	if *long {
		places = 60
	}
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 1))
	dir := writtenAndKilled(t)
	want := contents(t, dir)
	files := tree(t, dir)
	tally := map[string]int{}
	if how, err := tryDamaged(t, files, want, func(string) error { return nil }); err != nil || how != "whole" {
		t.Fatalf("before anything is damaged: %s, %v", how, err)
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		file := files[name]
		used := len(file.data)
		for _, d := range damages {
			for place := range places {
				if used == 0 || d.name == "deleted" && place > 0 {
					break
				}
				at := random.IntN(used)
				how, err := tryDamaged(t, files, want, func(dir string) error { return d.do(filepath.Join(dir, name), file, at) })
				if err != nil {
					t.Errorf("%s %s at %d: %v", name, d.name, at, err)
				}
				if !*long {
					t.Logf("%-22s %-14s at %6d: %s", name, d.name, at, how)
				}
				how, _, _ = strings.Cut(how, ":")
				tally[how]++
			}
		}
	}
	t.Logf("%v", tally)
}

// quickDir is a folder without a real disk under it where the system has one with room.
func quickDir(t *testing.T) string {
	const shared = "/dev/shm"
	if free, err := badger.FreeBytes(shared); err != nil || free < 4*badger.KeepFree {
		return t.TempDir()
	}
	return shared
}

// writtenAndKilled is a book with tables and logs, written by the real program through real sockets, that was killed.
func writtenAndKilled(t *testing.T) string {
	t.Helper()
	parent := t.TempDir()
	p, err := startProgram(parent, "-book", "book")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.kill() })
	a, b := servertest.New(t, p.url), servertest.New(t, p.url)
	for round := range 3 {
		a.URL, b.URL = p.url, p.url
		a.Connect()
		b.Connect()
		for part := range 4 {
			a.Write("workshop", book.KindBatchNoted, 50)
			b.Write("shelf", book.KindPlaceNamed, 20)
			a.UntilAcked("workshop", uint64(200*round+50*part+50))
			b.UntilAcked("shelf", uint64(80*round+20*part+20))
		}
		a.Cut()
		b.Cut()
		if round == 2 {
			p.kill()
			break
		}
		if err := p.stop(); err != nil {
			t.Fatal(err)
		}
		if p, err = startProgram(parent, "-book", "book"); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(parent, "book")
}

// held is what a book's streams hold, and what its witness says of them.
type held struct {
	envelopes map[string][][]byte
	seen      witness.Marks
}

func contents(t *testing.T, dir string) held {
	t.Helper()
	h := held{envelopes: map[string][][]byte{}}
	var err error
	if h.seen, err = witness.Read(filepath.Join(dir, "witness")); err != nil {
		t.Fatal(err)
	}
	err = reading(context.Background(), dir, func(f *folder.Folder) error {
		for _, stream := range f.Store.Streams() {
			items, err := f.Store.Read(context.Background(), stream, 0, 0, 0)
			if err != nil {
				return err
			}
			h.envelopes[stream] = items
		}
		return nil
	})
	if err != nil || len(h.envelopes["workshop"]) != 600 || len(h.envelopes["shelf"]) != 240 {
		t.Fatalf("%d and %d entries before anything was damaged: %v", len(h.envelopes["workshop"]), len(h.envelopes["shelf"]), err)
	}
	return h
}

// content is a file; what follows data up to size is zeros, as in a log that is mapped larger than what is in it.
type content struct {
	data []byte
	size int64
}

func tree(t *testing.T, dir string) map[string]content {
	t.Helper()
	files := map[string]content{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, e fs.DirEntry, err error) error {
		// LOCK is the number of a process that is gone.
		if err != nil || e.IsDir() || e.Name() == "LOCK" {
			return err
		}
		f, err := os.Open(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		defer f.Close()
		info, err := f.Stat()
		if err != nil {
			return err
		}
		// None of these files holds more.
		data, err := io.ReadAll(io.LimitReader(f, 1<<20))
		files[name] = content{bytes.TrimRight(data, "\x00"), info.Size()}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// put writes a folder of files, leaving holes for zeros.
func put(dir string, files map[string]content) error {
	for name, file := range files {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, file.data, 0o600), os.Truncate(path, file.size)); err != nil {
			return err
		}
	}
	return nil
}

// tryDamaged opens a folder that was spoiled, for writing as serve does, and says how that went.
func tryDamaged(t *testing.T, files map[string]content, want held, spoil func(dir string) error) (how string, err error) {
	dir, err := os.MkdirTemp(quickDir(t), "book")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	if err := put(dir, files); err != nil {
		return "", err
	}
	if err := spoil(dir); err != nil {
		return "", err
	}
	before := tree(t, dir)
	f, err := folder.Open(dir, folder.Options{Now: time.Now, Check: checkInChild(context.Background())})
	if err != nil {
		hinted, ok := err.(interface{ Hint() string })
		if !ok || hinted.Hint() == "" {
			return "refused", fmt.Errorf("refused without saying what to do: %w", err)
		}
		return "refused: " + err.Error(), untouched(t, dir, before)
	}
	defer f.Close()
	if found := f.Store.Damage(); found != nil {
		if err := compare(f, want, false); err != nil {
			return "damaged", fmt.Errorf("named %v: %w", found[0], err)
		}
		if strings.Contains(found[0].Error(), "0 to 0") {
			return "damaged", fmt.Errorf("named %v", found[0])
		}
		return "for reading: " + strings.ReplaceAll(found[0].Error(), "\n", " "), errors.Join(f.Close(), untouched(t, dir, before))
	}
	return "whole", compare(f, want, true)
}

// compare holds what can be read against what was written: a beginning of it, and with all at least what the witness says.
func compare(f *folder.Folder, want held, all bool) error {
	for stream, items := range want.envelopes {
		got, err := f.Store.Read(context.Background(), stream, 0, 0, 0)
		if err != nil {
			return err
		}
		if len(got) > len(items) || all && uint64(len(got)) < want.seen.Heads[stream].Seq {
			return fmt.Errorf("%d entries of %s, and there were %d; the witness says %d", len(got), stream, len(items), want.seen.Heads[stream].Seq)
		}
		for i := range got {
			if !bytes.Equal(got[i], items[i]) {
				return fmt.Errorf("entry %d of %s is not what was written", i+1, stream)
			}
		}
	}
	return nil
}

// untouched: a person who copies the folder now has everything that was there.
func untouched(t *testing.T, dir string, before map[string]content) error {
	after := tree(t, dir)
	for name, file := range before {
		if got := after[name]; got.size != file.size || !bytes.Equal(got.data, file.data) {
			return fmt.Errorf("%s was changed", name)
		}
	}
	if len(after) != len(before) {
		return fmt.Errorf("%d files were left behind", len(after)-len(before))
	}
	return nil
}

// F19: one flipped bit in one table ends the engine that reads the journal. What the other tables and logs hold, and the key by
// which phones know the book, still become a book.
func TestABitInATableLeavesABookToRestore(t *testing.T) {
	dir := writtenAndKilled(t)
	tables, err := filepath.Glob(filepath.Join(dir, "journal", "*.sst"))
	if err != nil || len(tables) < 2 {
		t.Fatal(tables, err)
	}
	want, most := contents(t, dir), 0
	for n, table := range tables {
		data, err := os.ReadFile(table)
		if err != nil {
			t.Fatal(err)
		}
		again := filepath.Join(t.TempDir(), "again")
		if err := overwrite(table, []byte{data[300] ^ 1}, 300); err != nil {
			t.Fatal(err)
		}
		out, code := asked(t, "restore", "-from", dir, "-book", again)
		if err := overwrite(table, data[300:301], 300); err != nil {
			t.Fatal(err)
		}
		if code != exitOK || !strings.Contains(out, "Of the damaged one: the journal cannot be read in full") {
			t.Errorf("table %d: %s", n+1, out)
			continue
		}
		err = reading(t.Context(), again, func(f *folder.Folder) error {
			for _, stream := range f.Store.Streams() {
				most = max(most, int(f.Store.Head(stream).Seq))
			}
			return compare(f, want, false)
		})
		if err != nil {
			t.Errorf("table %d: %v", n+1, err)
		}
	}
	if most == 0 || most >= 600 {
		t.Errorf("at most %d entries came back, which shows nothing", most)
	}
}
