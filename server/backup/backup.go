package backup

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/server/store/durable"
	"stillroom/sync"
)

// Options say where time, randomness and the disk come from; the zero value is the system's.
type Options struct {
	Now  func() time.Time
	Disk *durable.Disk
	// Full writes everything even where a file with what came since would do.
	Full bool
}

// Write puts a backup of a book into a folder while the book is in use: a prefix of every stream, whole, or what came after a
// full one that is there. Streams are read one
// after the other, so one of them may hold what was written after the end of another was read. The file is there only
// after a book made of it was compared with what was written. Photos are copied after that; one that cannot be copied is
// told in Info and does not take the entries' backup away.
func Write(ctx context.Context, f *folder.Folder, to string, o Options) (Info, error) {
	if o.Now == nil {
		o.Now = time.Now
	}
	if inside(f.Dir, to) {
		return Info{}, fmt.Errorf("no backup was made: %s lies in the book's own folder and would be lost with it; name a folder on another disk", to)
	}
	if err := os.MkdirAll(to, 0o700); err != nil {
		return Info{}, fmt.Errorf("no backup was made: %w", err)
	}
	now, mark := o.Now(), Mark(f.Store.Key())
	sweep(to, mark)
	c, err := gather(ctx, f, now)
	if err != nil {
		return Info{}, fmt.Errorf("no backup was made: %w", err)
	}
	made, _, err := Of(to, mark, now)
	if err != nil {
		return Info{}, fmt.Errorf("no backup was made: %w", err)
	}
	holds, named := c, name(mark, now, suffix)
	if base, on, ok := c.base(f.Store, made); ok && !o.Full {
		holds, named = c.since(base, on), name(mark, now, suffixAdded)
	}
	info, err := writeBook(ctx, holds, c, filepath.Join(to, named), o.Disk)
	if err != nil {
		return info, err
	}
	info.Photos = savePhotos(ctx, f, filepath.Join(to, photosOf(mark)), now, o.Disk)
	return info, nil
}

// writeBook puts a file there once the book that it and its base make was compared with what was read.
func writeBook(ctx context.Context, holds, whole content, path string, disk *durable.Disk) (_ Info, err error) {
	data, err := holds.bytes()
	if err != nil {
		return Info{}, err
	}
	to := filepath.Dir(path)
	place, err := durable.NewPlace(to, trialOf(Mark(whole.Key)))
	if err != nil {
		return Info{}, fmt.Errorf("no backup was made: %w", err)
	}
	defer func() { err = errors.Join(err, place.Done()) }()
	waiting := filepath.Join(place.Dir, filepath.Base(path))
	if err := disk.Replace(waiting, data); err != nil {
		return Info{}, fmt.Errorf("no backup was made: %w", err)
	}
	if err := try(ctx, waiting, to, filepath.Join(place.Dir, "book"), whole); err != nil {
		return Info{}, untried(ctx, to, err)
	}
	if err := disk.Rename(waiting, path); err != nil {
		return Info{}, fmt.Errorf("no backup was made: %w", err)
	}
	return holds.info(path, len(data)), disk.SyncFolder(to)
}

// gather reads a prefix of every stream. The device table comes last, so that it names everyone who wrote.
func gather(ctx context.Context, f *folder.Folder, now time.Time) (content, error) {
	if found := f.Store.Damage(); len(found) > 0 {
		return content{}, found[0] // the older backups are worth more than one of this
	}
	return collect(ctx, f, now)
}

// collect reads every stream up to its end, or to where it is damaged.
func collect(ctx context.Context, f *folder.Folder, now time.Time) (content, error) {
	epoch := f.Store.Epoch()
	c := content{about: about{Made: now.UTC().Format(time.RFC3339), Epoch: epoch[:], Key: f.Store.Key()}, logs: map[string][][]byte{}}
	for _, name := range f.Store.Streams() {
		head := f.Store.Head(name)
		for _, d := range f.Store.Damage() {
			if d.Stream == name && d.First <= head.Seq {
				seq := max(d.First, 1) - 1
				hash, ok := f.Store.HashAt(name, seq)
				if !ok {
					return c, d
				}
				head = store.Head{Seq: seq, Hash: hash}
			}
		}
		c.Streams = append(c.Streams, Line{name, head.Seq, head.Hash[:]})
	}
	for _, l := range c.Streams {
		for at := uint64(0); at < l.Seq; at = uint64(len(c.logs[l.Name])) {
			items, err := f.Store.Read(ctx, l.Name, at, int(min(l.Seq-at, 20_000)), 0)
			if err != nil {
				return c, err
			}
			c.logs[l.Name] = append(c.logs[l.Name], items...)
		}
	}
	var err error
	c.about.Devices, err = f.Devices.Table()
	return c, err
}

// try reads a backup from the disk, with what it stands on in the folder beside, makes a book of it in dir and compares.
func try(ctx context.Context, path, beside, dir string, want content) error {
	c, got, err := load(path, beside)
	if err != nil {
		return &differs{err}
	}
	f, err := begin(ctx, dir, c, folder.Options{Now: time.Now})
	if err != nil {
		return err
	}
	table, err := f.Devices.Table()
	if err == nil && !bytes.Equal(table, want.Devices) {
		err = errors.New("the table of devices differs")
	}
	if err == nil && !bytes.Equal(f.Store.Key(), want.Key) {
		err = errors.New("the key differs")
	}
	if err == nil && got.Entries() != want.info("", 0).Entries() {
		err = fmt.Errorf("it has %d entries", got.Entries())
	}
	for _, l := range want.Streams {
		if head := f.Store.Head(l.Name); err == nil && (head.Seq != l.Seq || !bytes.Equal(head.Hash[:], l.Hash)) {
			err = fmt.Errorf("%s ends at %d with another hash", l.Name, head.Seq)
		}
	}
	if err != nil {
		return errors.Join(&differs{err}, f.Close())
	}
	return f.Close()
}

// differs: what was written does not make the book that it was made of.
type differs struct{ why error }

func (e *differs) Error() string { return e.why.Error() }
func (e *differs) Unwrap() error { return e.why }

// untried says why a backup does not count that was not found the same.
func untried(ctx context.Context, to string, err error) error {
	full := new(store.Full)
	switch {
	case ctx.Err() != nil:
		return fmt.Errorf("no backup was made: %w", ctx.Err())
	case errors.As(err, new(*differs)):
		return fmt.Errorf("a backup was written, and the book made of it is not the same, so it does not count: %w", err)
	case errors.As(err, &full):
		return &NoRoom{to, *full}
	}
	return fmt.Errorf("no backup was made: it could not be tried out: %w", err)
}

// NoRoom: the disk of the folder has no room for a backup and the book that is made of it to try it out.
type NoRoom struct {
	To string
	store.Full
}

func (e *NoRoom) Error() string {
	return fmt.Sprintf("no backup was made: the disk of %s is nearly full: %d MB are free, and %d MB are needed to try one out", e.To, e.Free>>20, e.Need>>20)
}

// Hint is the next step.
func (e *NoRoom) Hint() string {
	return "the book and the backups that are there stay as they are; make some room on that disk, or name a folder on another one"
}

// inside tells that a folder lies in the book's own.
func inside(dir, to string) bool {
	dir, err := filepath.Abs(dir)
	to, bad := filepath.Abs(to)
	rel, apart := filepath.Rel(dir, to)
	return err == nil && bad == nil && apart == nil && filepath.IsLocal(rel)
}

// Restore makes a book of a backup, or of what can be read of another book's folder that is damaged, in a folder that does
// not exist yet: a new life of the store with a new epoch, its key and its devices. Phones then bring back what came after
// the backup. Until everything is on disk and compared the folder is not there. Errors: *folder.There, *Bad, *Keyless, or those
// of folder.Open.
func Restore(ctx context.Context, path, dir string, o folder.Options) (info Info, err error) {
	from, stat := os.Stat(path)
	ofFolder := stat == nil && from.IsDir() && !ofBackups(path)
	err = folder.Whole(dir, o.Disk, func(making string) (err error) {
		var f *folder.Folder
		if ofFolder {
			f, info, err = salvage(ctx, path, making, o)
		} else {
			f, info, err = restore(ctx, path, making, o)
		}
		if err != nil {
			return err
		}
		if !ofFolder {
			info.LeftOut, info.NoPhotos, err = restorePhotos(ctx, f, filepath.Dir(path)) // a folder's own photos came with it; what lies beside it is another's
		}
		if err == nil {
			info.Missing, err = f.PhotosMissing(ctx)
		}
		return errors.Join(err, f.Close())
	})
	return info, err
}

// Verify reads a backup with what it stands on from end to end, and changes nothing. Errors: *Bad, or the disk's.
func Verify(path string) (Info, error) {
	_, info, err := read(path)
	return info, err
}

// read is load for a person, who is told what there is instead of a bad one.
func read(path string) (content, Info, error) {
	c, info, err := load(path, filepath.Dir(path))
	if bad := new(Bad); errors.As(err, &bad) && bad.Next == "" {
		bad.Next = instead(path)
	}
	return c, info, err
}

func restore(ctx context.Context, path, dir string, o folder.Options) (*folder.Folder, Info, error) {
	c, info, err := read(path)
	if err != nil {
		return nil, info, err
	}
	f, err := begin(ctx, dir, c, o)
	return f, info, err
}

// begin makes a book of what was read.
func begin(ctx context.Context, dir string, c content, o folder.Options) (*folder.Folder, error) {
	f, err := folder.Begin(dir, c.Key, c.Devices, c.info("", 0).Made, o)
	if err != nil {
		return nil, err
	}
	for _, l := range c.Streams {
		_, _, err := store.TakeBack(ctx, f.Store, l.Name, 0, c.logs[l.Name], false)
		if head := f.Store.Head(l.Name); err == nil && (head.Seq != l.Seq || head.Hash != sync.Hash(l.Hash)) {
			err = fmt.Errorf("%s ends at %d with another hash", l.Name, head.Seq)
		}
		if err != nil {
			return nil, errors.Join(err, f.Close())
		}
	}
	return f, nil
}
