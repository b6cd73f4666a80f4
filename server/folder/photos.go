package folder

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	gosync "sync"

	"stillroom/calc/book"
	"stillroom/server/store/durable"
	"stillroom/sync"
)

// Photos are the pictures of a book, each a file under photos/ named by the SHA-256 of its bytes. One that is still
// coming stands beside them with the ending .part, so that what is there under a name is always whole.
type Photos struct {
	dir  string
	disk *durable.Disk
	// room refuses when the disk has no more than the journal needs, whose mapped pages have no other place; nil never does.
	room func() error
	mu   gosync.Mutex
}

// WrongOffset: a piece does not begin where the last one ended.
type WrongOffset struct{ At int64 }

func (e *WrongOffset) Error() string {
	return fmt.Sprintf("the next piece of this photo begins at byte %d", e.At)
}

// ErrAltered: all bytes of a photo came and they are not those that its name stands for. They were let go.
var ErrAltered = errors.New("the photo that came is not the one that was meant")

// NotAPhoto: what is asked for is not the name of a photo.
type NotAPhoto struct{ Name string }

func (e *NotAPhoto) Error() string { return fmt.Sprintf("%q is not the name of a photo", e.Name) }

// path of a photo, whose name must be 64 hexadecimal digits. Folders of 256 keep each one short enough to list.
func (p *Photos) path(name string) string { return filepath.Join(p.dir, name[:2], name) }

const partEnding = ".part"

// Held tells how many bytes of a photo are here and whether that is all of it.
func (p *Photos) Held(name string) (bytes int64, whole bool, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.held(name)
}

func (p *Photos) held(name string) (int64, bool, error) {
	if !book.IsPhotoName(name) {
		return 0, false, &NotAPhoto{name}
	}
	for _, ending := range []string{"", partEnding} {
		switch info, err := os.Stat(p.path(name) + ending); {
		case err == nil:
			return info.Size(), ending == "", nil
		case !errors.Is(err, fs.ErrNotExist):
			return 0, false, err
		}
	}
	return 0, false, nil
}

// Append takes the piece of a photo that begins at the byte at, of length bytes in all, and tells how many bytes are here
// then. With the last one the photo is compared with its name and on disk when Append returns. What came of a piece that
// broke off is kept. Errors: *WrongOffset, ErrAltered, *NotAPhoto, *store.Full, or the disk's own.
func (p *Photos) Append(name string, at, length int64, piece io.Reader) (int64, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	have, whole, err := p.held(name)
	if err != nil || whole {
		return have, err
	}
	if have != at {
		return have, &WrongOffset{At: have}
	}
	if p.room != nil {
		if err := p.room(); err != nil {
			return have, err
		}
	}
	path := p.path(name)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return have, err
	}
	f, err := os.OpenFile(path+partEnding, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		return have, err
	}
	n, err := io.Copy(f, io.LimitReader(piece, max(length-have, 0)))
	have += n
	if err == nil && have >= length { // more is here when somebody said another length before
		err = p.settle(f, name)
	}
	if err = errors.Join(err, f.Close()); err != nil || have < length {
		if errors.Is(err, ErrAltered) {
			return 0, errors.Join(err, os.Remove(f.Name()))
		}
		return have, err
	}
	return have, p.name(f.Name(), path)
}

// name gives a photo that is on disk its name, in folders that are on disk as well. Until the name is, it is not there: a
// phone lets go of a photo that is.
func (p *Photos) name(part, path string) error {
	for _, made := range []string{filepath.Dir(p.dir), p.dir} {
		if err := p.disk.SyncFolder(made); err != nil {
			return err
		}
	}
	if err := p.disk.Rename(part, path); err != nil {
		return err
	}
	if err := p.disk.SyncFolder(filepath.Dir(path)); err != nil {
		return errors.Join(err, os.Rename(path, part))
	}
	return nil
}

// settle compares a photo that is all here with its name and puts it on disk.
func (p *Photos) settle(f *os.File, name string) error {
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return err
	}
	if hex.EncodeToString(sum.Sum(nil)) != name {
		return ErrAltered
	}
	return p.disk.Sync(f)
}

// PhotosNamed are the photos that the book's entries name, also those that were struck.
func (f *Folder) PhotosNamed(ctx context.Context) (map[string]bool, error) {
	named := map[string]bool{}
	items, err := f.Store.Read(ctx, book.Workshop, 0, 0, 0)
	for _, raw := range items {
		v, bad := sync.ParseEnvelope(raw)
		if bad != nil {
			continue
		}
		if e, bad := sync.ParseEntry(v.Entry); bad == nil {
			if name, ok := book.PhotoNamed(e); ok {
				named[name] = true
			}
		}
	}
	return named, err
}

// PhotosMissing counts the photos that the book's entries name and that are not here.
func (f *Folder) PhotosMissing(ctx context.Context) (n int, err error) {
	named, err := f.PhotosNamed(ctx)
	for name := range named {
		if _, whole, bad := f.Photos.Held(name); bad != nil || !whole {
			n++
		}
	}
	return n, err
}

// TakeAll takes in the whole photos of another book. It counts what came, and what was altered or cannot be read; the error is
// of where they go.
func (p *Photos) TakeAll(ctx context.Context, from *Photos) (took, bad int, err error) {
	var failed error
	err = from.Each(func(name string) error {
		if _, whole, err := p.Held(name); whole || errors.As(err, new(*NotAPhoto)) {
			return nil
		}
		data, err := os.ReadFile(from.path(name))
		if err == nil {
			_, err = p.Append(name, 0, int64(len(data)), bytes.NewReader(data))
		} else {
			err = ErrAltered
		}
		if errors.Is(err, ErrAltered) {
			bad++
			return ctx.Err()
		}
		if err == nil {
			took++
		}
		failed = errors.Join(err, ctx.Err())
		return failed
	})
	if err != nil && failed == nil {
		bad++ // a folder of them that cannot be listed
	}
	return took, bad, errors.Join(failed, ctx.Err())
}

// Open opens a photo that is whole; fs.ErrNotExist when it is not here.
func (p *Photos) Open(name string) (*os.File, error) {
	if !book.IsPhotoName(name) {
		return nil, &NotAPhoto{name}
	}
	return os.Open(p.path(name))
}

// Each walks the names of all photos that are whole, in their order, until f gives an error. A folder that cannot be read
// does not keep it from the others; the error comes at the end.
func (p *Photos) Each(f func(name string) error) error {
	var unread error
	err := filepath.WalkDir(p.dir, func(path string, e fs.DirEntry, err error) error {
		switch {
		case err != nil && path == p.dir:
			return err
		case err != nil:
			unread = errors.Join(unread, err)
			return fs.SkipDir
		case e.IsDir() || len(e.Name()) != 2*sha256.Size:
			return nil
		}
		return f(e.Name())
	})
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, unread)
}
