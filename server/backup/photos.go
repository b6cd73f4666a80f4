package backup

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
	"strconv"
	"strings"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store/durable"
)

// photosOf is the folder of a book's photos beside its backups: a photo's name is the hash of its bytes, so that each is
// kept once for all of them.
func photosOf(mark string) string { return sharedPhotos + "-" + mark }

// sharedPhotos is where they lay before each book had a folder of its own.
const sharedPhotos = "photos"

// Photos tells how the photos of a book fared when they were copied beside its backup.
type Photos struct {
	// NotCopied counts those that could not be copied; Why is what was wrong with the first of them, or with listing them.
	NotCopied int
	Why       error
	// Again counts those that had been copied before, were no longer what they had been, and were copied once more.
	Again int
}

// Say tells what a person ought to know of it; "" when all are there and are as they were.
func (p Photos) Say() string {
	var says []string
	switch {
	case p.Why == nil:
	case p.NotCopied == 0:
		says = append(says, fmt.Sprintf("Not all photos could be looked at (%v); the entries are all in it.", p.Why))
	case p.NotCopied == 1:
		says = append(says, fmt.Sprintf("1 photo could not be copied beside it (%v); the entries are all in it.", p.Why))
	default:
		says = append(says, fmt.Sprintf("%d photos could not be copied beside it (%v); the entries are all in it.", p.NotCopied, p.Why))
	}
	switch {
	case p.Again == 1:
		says = append(says, "1 photo beside it had changed on the disk and was copied once more; look after that disk.")
	case p.Again > 1:
		says = append(says, fmt.Sprintf("%d photos beside it had changed on the disk and were copied once more; look after that disk.", p.Again))
	}
	return strings.Join(says, " ")
}

// savePhotos copies what is not there yet, as much of it as can be, and reads some of the others again.
func savePhotos(ctx context.Context, f *folder.Folder, dir string, now time.Time, disk *durable.Disk) (p Photos) {
	err := f.Photos.Each(func(name string) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		again, err := savePhoto(f, name, dir, now, disk)
		if err != nil {
			p.NotCopied++
			if p.Why == nil {
				p.Why = err
			}
		} else if again {
			p.Again++
		}
		return nil
	})
	if p.Why == nil {
		p.Why = err
	}
	return p
}

// rounds is in how many days each copy of a photo is read again once, where backups are made every day: of 5,000 photos
// about 80 a day. It is a prime, so that one made every second day or once a week comes to all of them as well.
const rounds = 61

// itsDay tells whether a photo that was copied before is read again at this backup.
func itsDay(name string, now time.Time) bool {
	n, err := strconv.ParseUint(name[:2], 16, 8)
	return err != nil || n%rounds == uint64(now.Unix()/(24*60*60))%rounds
}

// savePhoto copies one, compares what is read with its name, and what was written with that.
func savePhoto(f *folder.Folder, name, dir string, now time.Time, disk *durable.Disk) (again bool, err error) {
	path := filepath.Join(dir, name)
	size, _, err := f.Photos.Held(name)
	if err != nil {
		return false, err
	}
	if there, err := os.Stat(path); err == nil {
		whole := there.Size() == size
		if whole && itsDay(name, now) {
			data, err := os.ReadFile(path)
			whole = err == nil && isPhoto(name, data)
		}
		if whole {
			return false, nil
		}
		again = true
	}
	photo, err := f.Photos.Open(name)
	if err != nil {
		return false, err
	}
	data, err := io.ReadAll(photo)
	if err := errors.Join(err, photo.Close(), os.MkdirAll(dir, 0o700)); err != nil {
		return false, err
	}
	if !isPhoto(name, data) {
		return false, fmt.Errorf("%s is not as it was taken", photo.Name())
	}
	if err := disk.Replace(path, data); err != nil {
		return false, err
	}
	if written, err := os.ReadFile(path); err != nil || !isPhoto(name, written) {
		return false, errors.Join(fmt.Errorf("%s is not what was written", path), err, os.Remove(path))
	}
	return again, nil
}

// isPhoto compares a photo with its name, the hash of its bytes.
func isPhoto(name string, data []byte) bool {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]) == name
}

// restorePhotos brings back those of the book that lie beside its backups: all in its own folder, since an older backup
// does not name them all, and of the folder that books shared those that an entry names. One that cannot be read or does
// not match its name is left out: phones that still have it send it again. unread is of a folder of them that cannot be listed.
func restorePhotos(ctx context.Context, f *folder.Folder, beside string) (left int, unread, err error) {
	named, err := f.PhotosNamed(ctx)
	if err != nil {
		return 0, nil, err
	}
	for _, dir := range []string{photosOf(Mark(f.Store.Key())), sharedPhotos} {
		all, err := os.ReadDir(filepath.Join(beside, dir))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			unread = errors.Join(unread, err) // the entries are not kept back for that
		}
		for _, e := range all {
			if !book.IsPhotoName(e.Name()) || dir == sharedPhotos && !named[e.Name()] {
				continue
			}
			data, err := os.ReadFile(filepath.Join(beside, dir, e.Name()))
			if err == nil {
				_, err = f.Photos.Append(e.Name(), 0, int64(len(data)), bytes.NewReader(data))
			} else {
				err = folder.ErrAltered
			}
			if errors.Is(err, folder.ErrAltered) {
				left++
			} else if err = errors.Join(err, ctx.Err()); err != nil {
				return left, unread, err
			}
		}
	}
	return left, unread, nil
}
