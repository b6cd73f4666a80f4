package rescue

import (
	"cmp"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"slices"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store"
	"stillroom/sync"
)

// Fresh is how a book came about that was made of phones' files alone.
type Fresh struct {
	// Phones counts those whose files were given.
	Phones int
	// List are the devices on the list of the book: they go on under their names.
	List []folder.Device
	// Entries counts what the book holds; Shared, how many of those stand in the copies of two phones or more.
	Entries, Shared uint64
	// Sent are entries that a phone had not sent, Held of them wait for the owner; Missing photos are named and not there.
	Sent, Held, Photos, Missing int
	// Left says what was not taken in, a sentence each. It is still in the files.
	Left []string
}

// Begin makes a book of phones' files alone, in a folder that does not exist yet, where the home store's disk and every
// backup are lost. The key is lost with them, so nothing proves that a phone's copy is what the store gave out: a copy is
// taken as far as it is dense and matches the hashes that the phone kept with it, the longest first, and of the others what
// is not in it. It is a new life with a new key; a phone whose copy is the beginning of the book goes on from it. Who is on its
// list is what the files say; or, when left is not "", what the folder of the lost book still says, whose photos are taken as
// well. Errors: *folder.There, *Bad, or the disk's.
func Begin(ctx context.Context, dir string, paths []string, left string, now time.Time, o folder.Options) (fresh Fresh, err error) {
	var files []*file
	for _, path := range paths {
		f, err := readPath(path)
		if err != nil {
			return Fresh{}, fmt.Errorf("%s: %w", path, err)
		}
		files = append(files, f)
	}
	// Of one phone's files the older may hold what the newer goes on from, in whatever order they are named.
	slices.SortStableFunc(files, func(a, b *file) int { return a.saved.Compare(b.saved) })
	rows, spent, saved := devices(files, now)
	var photos *folder.Photos
	if left != "" {
		there, err := folder.ReadLeft(left)
		if photos = there.Photos; err == nil {
			rows, spent = there.Devices, there.Spent
		} else if listed := new(folder.Altered); errors.As(err, &listed) {
			fresh.Left = append(fresh.Left, fmt.Sprintf("The list of devices in that folder: %v.", err))
		} else {
			return Fresh{}, err
		}
	}
	err = folder.Whole(dir, o.Disk, func(making string) error {
		table, err := folder.Table(rows, spent)
		if err != nil {
			return err
		}
		f, err := folder.Begin(making, nil, table, saved, o)
		if err != nil {
			return err
		}
		fresh.List = rows
		return errors.Join(fresh.fill(ctx, f, files, photos, now), f.Close())
	})
	return fresh, err
}

func readPath(path string) (*file, error) {
	in, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	f, err := read(in)
	return &f, errors.Join(err, in.Close())
}

// devices are the phones that a home store knows by their tokens again, by what their files say of them; how many letters
// were given out beside theirs, and when the last of the files was saved.
func devices(files []*file, now time.Time) (rows []folder.Device, spent int, saved time.Time) {
	wrote, listed := map[sync.DeviceID]bool{}, map[sync.DeviceID]bool{}
	letters := 0
	for _, f := range slices.Backward(files) { // a phone is what its newest file says
		if saved.Before(f.saved) {
			saved = f.saved
		}
		letters = max(letters, folder.Letters(f.own.Letter))
		wrote[f.device] = true
		for _, stream := range []string{book.Workshop, book.Shelf} {
			log, _ := f.chained(stream)
			for _, raw := range log {
				if v, err := sync.ParseEnvelope(raw); err == nil {
					wrote[v.Device] = true
				}
			}
		}
		if sum, err := hex.DecodeString(f.own.Proof); err != nil || len(sum) != 32 || folder.Letters(f.own.Letter) == 0 || len(book.Reads(f.own.Role)) == 0 || listed[f.device] {
			continue
		}
		listed[f.device] = true
		rows = append(rows, folder.Device{ID: f.device, Name: f.name, Letter: f.own.Letter, Role: f.own.Role, Token: f.own.Proof, Added: now.UTC().Format(time.RFC3339)})
	}
	return rows, max(letters, len(wrote)) - len(rows), saved
}

// fill takes in the copies of the log first, so that they keep their numbers, then what was not sent, then photos.
func (fresh *Fresh) fill(ctx context.Context, f *folder.Folder, files []*file, photos *folder.Photos, now time.Time) (err error) {
	for _, stream := range []string{book.Workshop, book.Shelf} {
		if err := fresh.logs(ctx, f.Store, stream, files); err != nil {
			return err
		}
	}
	phones := map[sync.DeviceID]bool{}
	for _, from := range files {
		phones[from.device] = true
		d := Done{}
		for _, of := range append([]*file{from}, from.earlier...) {
			role := ""
			for _, row := range fresh.List {
				if row.ID == of.device && row.Revoked == "" {
					role = row.Role
				}
			}
			if err := d.unsent(ctx, f.Store, of, role, now.UnixMilli()); err != nil {
				return err
			}
		}
		if err := d.pictures(f.Photos, from.photos); err != nil {
			return err
		}
		fresh.Sent, fresh.Held, fresh.Photos = fresh.Sent+d.Sent, fresh.Held+d.Held, fresh.Photos+d.Photos
		for _, left := range d.Left {
			fresh.Left = append(fresh.Left, "Of device "+from.name+": "+left)
		}
	}
	if photos != nil {
		took, bad, err := f.Photos.TakeAll(ctx, photos)
		if err != nil {
			return err
		}
		fresh.Photos += took
		if bad > 0 {
			fresh.Left = append(fresh.Left, fmt.Sprintf("Photos of that folder that were altered or cannot be read: %d.", bad))
		}
	}
	for _, stream := range f.Store.Streams() {
		fresh.Entries += f.Store.Head(stream).Seq
	}
	fresh.Phones = len(phones)
	fresh.Missing, err = f.PhotosMissing(ctx)
	return err
}

type copied struct {
	of  *file
	log [][]byte
}

// logs takes in all copies of one stream, the longest first.
func (fresh *Fresh) logs(ctx context.Context, s store.Store, stream string, files []*file) error {
	var copies []copied
	for _, f := range files {
		log, whole := f.chained(stream)
		copies = append(copies, copied{f, log})
		if !whole {
			fresh.Left = append(fresh.Left, fmt.Sprintf("Of device %s: what follows entry %d of %s in its copy of the book has a hole or does not match the hashes that it kept with it.", f.name, len(log), stream))
		}
	}
	slices.SortStableFunc(copies, func(a, b copied) int { return cmp.Compare(len(b.log), len(a.log)) })
	shared := 0
	for _, c := range copies {
		if c.of.device != copies[0].of.device {
			shared = max(shared, alike(c.log, copies[0].log))
		}
		_, _, err := store.TakeBack(ctx, s, stream, 0, c.log, false)
		gap, fork, bad := new(store.Gap), new(store.Fork), new(store.Malformed)
		if errors.As(err, &gap) || errors.As(err, &fork) || errors.As(err, &bad) {
			fresh.Left = append(fresh.Left, fmt.Sprintf("Of device %s: its copy of %s does not fit the longest one after entry %d (%v).", c.of.name, stream, alike(c.log, copies[0].log), err))
		} else if err != nil {
			return err
		}
	}
	fresh.Shared += uint64(shared)
	return nil
}

// alike counts the entries that two logs have in common from the first.
func alike(a, b [][]byte) (n int) {
	for n < len(a) && n < len(b) && string(a[n]) == string(b[n]) {
		n++
	}
	return n
}

// chained is the phone's copy of a stream's log as far as it is dense and matches the hashes that the phone kept with it, and
// whether that is all of it.
func (f *file) chained(stream string) (log [][]byte, whole bool) {
	all, _, _ := f.log(stream, nil)
	at := store.Head{Hash: sync.RunningSeed(stream)}
	for _, c := range f.chunks[stream] { // in order, since the log was read
		if c.To > uint64(len(all)) {
			return log, false
		}
		if c.To <= at.Seq {
			continue // under another chunk
		}
		for at.Seq < c.To {
			at = store.Head{Seq: at.Seq + 1, Hash: at.Hash.Next(all[at.Seq])}
		}
		if hex.EncodeToString(at.Hash[:]) != c.Hash {
			return log, false
		}
		log = all[:at.Seq]
	}
	return log, true
}
