package folder

import (
	"errors"
	"os"
	"path/filepath"

	"stillroom/server/store/durable"
)

// There: the folder that a book was to be made in holds something.
type There struct{ Dir string }

func (e *There) Error() string { return e.Dir + " is there already, and nothing in it was touched" }

// Hint is the next step.
func (e *There) Hint() string { return "name a folder that does not exist yet with -book" }

// making begins the name of a place in which a book is made.
const making = ".trial-book-"

// Whole has a folder made that does not exist yet: fill makes it under another name beside it, and only when that went well
// does it get its own. What a stopped process left of one goes at the next. Errors: *There, those of fill, or the disk's.
func Whole(dir string, disk *durable.Disk, fill func(dir string) error) (err error) {
	if _, err := os.Lstat(dir); err == nil {
		return &There{dir}
	}
	in := filepath.Dir(filepath.Clean(dir))
	if err := os.MkdirAll(in, 0o700); err != nil {
		return err
	}
	durable.SweepPlaces(in, making)
	place, err := durable.NewPlace(in, making)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, place.Done()) }()
	made := filepath.Join(place.Dir, "book")
	if err := fill(made); err != nil {
		return err
	}
	if err := disk.Rename(made, dir); err != nil {
		return err
	}
	return disk.SyncFolder(in)
}
