package folder

import (
	"os"
	"path/filepath"
)

// Left is what lies beside a journal that is lost.
type Left struct {
	// Devices are the rows of the table, and Spent what Table was told.
	Devices []Device
	Spent   int
	Photos  *Photos
}

// ReadLeft reads what is left of a book's folder beside its journal, and changes nothing. Errors: *Altered when it is the
// table alone that cannot be read, *NotABook, or the disk's.
func ReadLeft(dir string) (Left, error) {
	left := Left{Photos: &Photos{dir: filepath.Join(dir, photosDir)}}
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return left, &NotABook{Dir: dir, Why: "there is no such folder"}
	}
	d, err := readDevices(filepath.Join(dir, devicesFile), true, Options{ReadOnly: true})
	if err != nil {
		return left, err
	}
	left.Devices, left.Spent = d.rows, d.spent
	return left, nil
}
