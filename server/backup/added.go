package backup

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"stillroom/server/store"
)

// mostAdded is how many files may stand on one full backup before the next full one: with one a day, a full one a week.
const mostAdded = 6

// since is a book without what a full backup of it holds already, to be written behind that one.
func (c content) since(base content, name string) content {
	c.about.Base, c.about.After = &Base{Name: name, Sum: base.sum[:]}, base.Streams
	logs := map[string][][]byte{}
	for _, l := range c.Streams {
		logs[l.Name] = c.logs[l.Name][c.from(l.Name).Seq:]
	}
	c.logs = logs
	return c
}

// on is the whole of what a file and its base hold. Everything must go on where the base ends: the same key, life, numbers
// and hashes.
func (c content) on(base content) (content, bool) {
	same := func(a, b Line) bool { return a.Name == b.Name && a.Seq == b.Seq && bytes.Equal(a.Hash, b.Hash) }
	if base.Base != nil || !bytes.Equal(base.Key, c.Key) || !bytes.Equal(base.Epoch, c.Epoch) || !slices.EqualFunc(base.Streams, c.After, same) {
		return c, false
	}
	logs := map[string][][]byte{}
	for _, l := range c.Streams {
		if logs[l.Name] = slices.Concat(base.logs[l.Name], c.logs[l.Name]); uint64(len(logs[l.Name])) != l.Seq {
			return c, false
		}
	}
	c.logs = logs
	return c, true
}

// load reads a backup with what it stands on, which lies in the folder beside. Info is of the file itself. Errors: *Bad, or
// the disk's.
func load(path, beside string) (content, Info, error) {
	data, err := os.ReadFile(path)
	if info, is := os.Stat(path); is == nil && info.IsDir() {
		return content{}, Info{}, &Bad{Path: path, Why: "it is a folder; name a file in it", Next: choice(path)}
	}
	if errors.Is(err, fs.ErrNotExist) {
		return content{}, Info{}, &Bad{Path: path, Why: "there is no such file"}
	} else if err != nil {
		return content{}, Info{}, err
	}
	c, err := parse(path, data)
	if err != nil || c.Base == nil {
		return c, c.info(path, len(data)), err
	}
	name := filepath.Base(c.Base.Name)
	stands := "it holds only what came after " + name + ", and that file "
	base, err := loadBase(beside, name, c.Base.Sum)
	var bad *Bad
	switch {
	case errors.As(err, &bad):
		return content{}, Info{}, &Bad{Path: path, Why: stands + bad.Why}
	case errors.Is(err, fs.ErrNotExist):
		return content{}, Info{}, &Bad{Path: path, Why: stands + "is not in " + beside}
	case err != nil:
		return content{}, Info{}, err
	}
	whole, ok := c.on(base)
	if !ok {
		return content{}, Info{}, &Bad{Path: path, Why: stands + "does not end where this one goes on"}
	}
	return whole, c.info(path, len(data)), nil
}

// loadBase finds a full backup by its sum, whatever its name is by now. One that has the name and another sum is altered.
func loadBase(beside, name string, sum []byte) (content, error) {
	entries, err := os.ReadDir(beside)
	if err != nil {
		return content{}, err
	}
	slices.SortStableFunc(entries, func(a, b os.DirEntry) int {
		if a.Name() == name {
			return -1
		}
		return 0
	})
	why := fs.ErrNotExist
	for _, e := range entries {
		path := filepath.Join(beside, e.Name())
		end, err := sumAtEnd(path)
		if e.Name() != name && (err != nil || !bytes.Equal(end, sum)) {
			continue
		}
		data, err := os.ReadFile(path)
		if err == nil {
			_, _, got, bad := summed(data)
			switch {
			case bad != "":
				err = &Bad{Path: path, Why: "was cut off or altered"}
			case !bytes.Equal(got[:], sum):
				err = &Bad{Path: path, Why: "is another one than it was then"}
			default:
				return parse(path, data)
			}
		}
		if e.Name() == name {
			why = err
		}
	}
	return content{}, why
}

// sumAtEnd is the sum that stands at the end of a file.
func sumAtEnd(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || info.Size() < sha256.Size {
		return nil, errors.Join(err, io.ErrUnexpectedEOF)
	}
	sum := make([]byte, sha256.Size)
	_, err = f.ReadAt(sum, info.Size()-sha256.Size)
	return sum, err
}

// maxAbout is more than any file says of itself.
const maxAbout = 1 << 20

// readAbout is what a file says of itself, nothing of it proved.
func readAbout(path string) (a about, err error) {
	f, err := os.Open(path)
	if err != nil {
		return a, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxAbout))
	if err != nil {
		return a, err
	}
	begins, rest, _ := bytes.Cut(data, []byte("\n"))
	size, n := binary.Uvarint(rest)
	if line := string(begins) + "\n"; line != magic && line != magicAdded || n <= 0 || size > uint64(len(rest)-n) {
		return a, &Bad{Path: path, Why: "what it says of itself cannot be read"}
	}
	return a, json.Unmarshal(rest[n:n+int(size)], &a)
}

// base finds the full backup in a folder that the next file can stand on: whole, of this life of this book, its end in the
// book's log, and without too much on it already. None is no error: the next one is full then.
func (c content) base(s store.Store, made []Kept) (base content, name string, ok bool) {
	for _, k := range slices.Backward(made) {
		if k.Added {
			continue
		}
		a, err := readAbout(k.Path)
		if err != nil || !bytes.Equal(a.Epoch, c.Epoch) || !bytes.Equal(a.Key, c.Key) || !within(s, a.Streams) {
			continue
		}
		data, err := os.ReadFile(k.Path)
		if err != nil {
			continue
		}
		if base, err = parse(k.Path, data); err != nil || standing(made, base.sum[:]) >= mostAdded {
			return content{}, "", false
		}
		return base, filepath.Base(k.Path), true
	}
	return content{}, "", false
}

// within tells whether the log passes through all these ends.
func within(s store.Store, ends []Line) bool {
	for _, l := range ends {
		if hash, ok := s.HashAt(l.Name, l.Seq); !ok || !bytes.Equal(hash[:], l.Hash) {
			return false
		}
	}
	return true
}

// Stands tells whether what a small backup stands on is still in its folder, by its name and sum; a full one stands alone. What
// is in either is not read.
func (k Kept) Stands() bool {
	if !k.Added {
		return true
	}
	a, err := readAbout(k.Path)
	if err != nil || a.Base == nil {
		return false
	}
	sum, err := sumAtEnd(filepath.Join(filepath.Dir(k.Path), filepath.Base(a.Base.Name)))
	return err == nil && bytes.Equal(sum, a.Base.Sum)
}

// standing counts the files that stand on one.
func standing(made []Kept, sum []byte) (n int) {
	for _, k := range made {
		if a, err := readAbout(k.Path); k.Added && err == nil && a.Base != nil && bytes.Equal(a.Base.Sum, sum) {
			n++
		}
	}
	return n
}

// instead says what can be restored where a file cannot: the newest of its book in the same folder that is whole.
func instead(path string) string {
	mark, _, ok := parseName(filepath.Base(path))
	if !ok {
		return ""
	}
	if name, made := newest(filepath.Dir(path), mark, filepath.Base(path)); name != "" {
		return fmt.Sprintf("the newest backup of the same book there that can be restored is %s, of %s", name, made)
	}
	return "no other backup of the same book in that folder can be restored"
}

// choice says what can be restored of a folder: the newest whole one of each book.
func choice(dir string) string {
	all, _ := List(dir)
	var says []string
	asked := map[string]bool{}
	for _, k := range slices.Backward(all) {
		if asked[k.Mark] {
			continue
		}
		asked[k.Mark] = true
		if name, made := newest(dir, k.Mark, ""); name != "" {
			says = append(says, filepath.Join(dir, name)+", of "+made)
		}
	}
	switch len(says) {
	case 0:
		return "there is no backup in it that can be restored"
	case 1:
		return "the newest one in it that can be restored is " + says[0]
	}
	return "the newest ones in it that can be restored, one of each book, are " + strings.Join(says, "; ")
}

// newest is the newest whole backup of one book in a folder, but for one name; "" when there is none.
func newest(dir, mark, but string) (name, made string) {
	all, _ := List(dir)
	for _, k := range slices.Backward(all) {
		if k.Mark != mark || filepath.Base(k.Path) == but {
			continue
		}
		if c, info, err := load(k.Path, dir); err == nil && (mark == "" || Mark(c.Key) == mark) {
			return filepath.Base(k.Path), info.Made.Local().Format("2 January 2006, 15:04")
		}
	}
	return "", ""
}

// ofBackups tells a folder of backups from a book's.
func ofBackups(dir string) bool {
	all, _ := List(dir)
	_, err := os.Stat(filepath.Join(dir, "journal"))
	return len(all) > 0 && errors.Is(err, fs.ErrNotExist)
}
