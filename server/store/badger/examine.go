package badger

import (
	"fmt"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store/witness"
)

// Examine is a Check in this process. A panic of this goroutine becomes an error; a crash of Badger's own goroutines and
// a mapped page without a place on the disk do not, which is why the program runs it in a process of its own.
func Examine(copied, seenBy string, loosely bool) (whole bool, err error) {
	defer func() {
		if p := recover(); p != nil {
			whole, err = false, fmt.Errorf("its engine stopped with %q", fmt.Sprint(p))
		}
	}()
	var seen *witness.Marks
	if seenBy != "" {
		m, err := witness.Read(seenBy)
		if err != nil {
			return false, err
		}
		seen = &m
	}
	o := copyOptions(copied)
	if loosely {
		o = looseOptions(copied)
	}
	db, err := engine.Open(o)
	if err != nil {
		return false, err
	}
	f, err := readAll(db, seen)
	if err == nil {
		// What is closed is thrown away with the copy; but the files must not stay open.
		err = db.Close()
	} else {
		db.Close()
	}
	return err == nil && f.damage == nil, err
}
