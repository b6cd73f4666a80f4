package backup

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"stillroom/server/folder"
	"stillroom/server/store/durable"
)

// photosDir lies beside the backups: a photo's name is the hash of its bytes, so that each is kept once for all of them.
const photosDir = "photos"

// savePhotos copies what is not there yet.
func savePhotos(f *folder.Folder, to string, disk *durable.Disk) error {
	dir := filepath.Join(to, photosDir)
	return f.Photos.Each(func(name string) error {
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
		return disk.Replace(path, data)
	})
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
