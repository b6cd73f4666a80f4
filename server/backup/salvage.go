package backup

import (
	"context"
	"errors"
	"fmt"
	"time"

	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

// Keyless: a damaged book whose key is lost as well. Phones bring nothing back to a book of another key.
type Keyless struct {
	Dir string
	Why error
}

func (e *Keyless) Error() string {
	return fmt.Sprintf("no book can be made of what is left in %s: %v, and the key is lost with it by which phones know their book", e.Dir, e.Why)
}

func (e *Keyless) Unwrap() error { return e.Why }

// Hint is the next step.
func (e *Keyless) Hint() string {
	return "nothing was changed, and phones keep what they have. Copy the whole folder before anything else. Only a backup brings this book back: give it to stillroom restore with -from, and phones bring back the rest. If there is none, save the rescue file of every phone (Settings, this phone): stillroom rescue -new makes a new book of them, and with -lost takes over the list of devices and the photos of this folder"
}

// salvage makes a book of what can be read of another one's folder: every stream up to where it is damaged, and its list of
// devices if that is whole. It is a new
// life of that store, so phones bring back the rest, as after a backup.
func salvage(ctx context.Context, from, dir string, o folder.Options) (f *folder.Folder, info Info, err error) {
	old, err := folder.Open(from, folder.Options{ReadOnly: true, Left: true, Now: time.Now, Check: o.Check})
	if err != nil {
		return nil, info, err
	}
	defer func() { err = errors.Join(err, old.Close()) }()
	if old.Store.Key() == nil {
		return nil, info, &Keyless{Dir: from, Why: old.Store.Damage()[0]} // a store is without a key only by damage
	}
	c, err := collect(ctx, old, time.Now())
	if err != nil {
		return nil, info, err
	}
	info = c.info(from, 0)
	for _, d := range old.Store.Damage() {
		info.Unread = append(info.Unread, d.Error())
	}
	if info.NoList = old.Devices.Lost(); info.NoList != nil {
		// Who was on the list is lost, and no letter of theirs is given to another.
		if c.Devices, err = folder.Table(nil, len(writers(old.Store))); err != nil {
			return nil, info, err
		}
	}
	f, err = begin(ctx, dir, c, o)
	if err != nil {
		return nil, info, err
	}
	// What is not whole is left out; phones that still have it send it again.
	if _, info.LeftOut, err = f.Photos.TakeAll(ctx, old.Photos); err != nil {
		return nil, info, errors.Join(err, f.Close())
	}
	return f, info, nil
}

func writers(s store.Store) map[sync.DeviceID]bool {
	wrote := map[sync.DeviceID]bool{}
	for _, stream := range s.Streams() {
		for _, d := range s.Devices(stream) {
			wrote[d] = true
		}
	}
	return wrote
}
