package backup

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"stillroom/server/folder"
	"stillroom/server/store/durable"
)

// photosDir lies beside the backups: a photo's name is the hash of its bytes, so that each is kept once for all of them.
const photosDir = "photos"

// savePhotos copies what is not there yet, as much of it as can be. It counts what could not, and tells what was wrong first.
func savePhotos(ctx context.Context, f *folder.Folder, to string, disk *durable.Disk) (failed int, why error) {
	dir := filepath.Join(to, photosDir)
	err := f.Photos.Each(func(name string) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err := savePhoto(f, name, dir, disk); err != nil {
			failed++
			if why == nil {
				why = err
			}
		}
		return nil
	})
	if why == nil {
		why = err
	}
	return failed, why
}

// savePhoto copies one, compares what is read with its name, and what was written with that.
func savePhoto(f *folder.Folder, name, dir string, disk *durable.Disk) error {
	path := filepath.Join(dir, name)
	size, _, err := f.Photos.Held(name)
	if err != nil {
		return err
	}
	if there, err := os.Stat(path); err == nil && there.Size() == size {
		return nil
	}
	photo, err := f.Photos.Open(name)
	if err != nil {
		return err
	}
	data, err := io.ReadAll(photo)
	if err := errors.Join(err, photo.Close(), os.MkdirAll(dir, 0o700)); err != nil {
		return err
	}
	if !isPhoto(name, data) {
		return fmt.Errorf("%s is not as it was taken", photo.Name())
	}
	if err := disk.Replace(path, data); err != nil {
		return err
	}
	if again, err := os.ReadFile(path); err != nil || !isPhoto(name, again) {
		return errors.Join(fmt.Errorf("%s is not what was written", path), err, os.Remove(path))
	}
	return nil
}

// isPhoto compares a photo with its name, the hash of its bytes.
func isPhoto(name string, data []byte) bool {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]) == name
}

// restorePhotos brings back all that lie beside a backup. One that does not match its name is refused by the book and
// left out: phones that still have it send it again.
func restorePhotos(f *folder.Folder, from string) (left int, err error) {
	all, err := os.ReadDir(filepath.Join(from, photosDir))
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	for _, entry := range all {
		if len(entry.Name()) != 64 {
			continue
		}
		photo, err := os.Open(filepath.Join(from, photosDir, entry.Name()))
		if err != nil {
			return left, err
		}
		info, err := photo.Stat()
		if err == nil {
			_, err = f.Photos.Append(entry.Name(), 0, info.Size(), photo)
		}
		photo.Close()
		if errors.Is(err, folder.ErrAltered) {
			left++
		} else if err != nil {
			return left, err
		}
	}
	return left, err
}
