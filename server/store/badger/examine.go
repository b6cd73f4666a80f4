package badger

import (
	"fmt"
	"os"
	"strings"

	engine "github.com/dgraph-io/badger/v4"

	"stillroom/server/store/witness"
)

// Examine is a Check in this process. A panic of this goroutine becomes an error; a crash of Badger's own goroutines and
// a mapped page without a place on the disk do not, which is why the program runs it in a process of its own.
func Examine(copied, seenBy, rebuilt string) (whole bool, err error) {
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
	if rebuilt != "" {
		if err := rebuild(copied, rebuilt); err != nil {
			return false, err
		}
		copied = rebuilt
	}
	tables := named(copied, func(name string) bool { return strings.HasSuffix(name, ".sst") }) // before Badger takes those away that its list does not name
	db, err := engine.Open(copyOptions(copied))
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
	return err == nil && f.damage == nil && !(f.bare && len(tables) > 0), err
}

// named are the names in a folder for which a condition holds; a folder may be called anything, so no pattern is made of it.
func named(dir string, is func(name string) bool) (names []string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if is(e.Name()) {
			names = append(names, e.Name())
		}
	}
	return names
}
