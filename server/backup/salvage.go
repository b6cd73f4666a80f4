package backup

import (
	"context"
	"errors"
	"time"

	"stillroom/server/folder"
)

// salvage makes a book of what can be read of another one's folder: every stream up to where it is damaged. It is a new
// life of that store, so phones bring back the rest, as after a backup.
func salvage(ctx context.Context, from, dir string, o folder.Options) (f *folder.Folder, info Info, err error) {
	old, err := folder.Open(from, folder.Options{ReadOnly: true, Now: time.Now, Check: o.Check})
	if err != nil {
		return nil, info, err
	}
	defer func() { err = errors.Join(err, old.Close()) }()
	c, err := collect(ctx, old, time.Now())
	if err != nil {
		return nil, info, err
	}
	f, info, err = begin(ctx, from, dir, c, 0, o)
	if err != nil {
		return nil, info, err
	}
	return f, info, copyPhotos(old, f)
}

// copyPhotos takes over what is whole; phones that still have the others send them again.
func copyPhotos(from, to *folder.Folder) error {
	return from.Photos.Each(func(name string) error {
		size, whole, err := from.Photos.Held(name)
		if err != nil || !whole {
			return err
		}
		photo, err := from.Photos.Open(name)
		if err != nil {
			return err
		}
		_, err = to.Photos.Append(name, 0, size, photo)
		photo.Close()
		if errors.Is(err, folder.ErrAltered) {
			return nil
		}
		return err
	})
}
