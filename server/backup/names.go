package backup

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"stillroom/server/store/durable"
)

const (
	prefix = "stillroom-"
	// A full backup, and one that holds what came after a full one.
	suffix, suffixAdded = ".backup", ".added"
	// stamp is when a backup was made, in its name; the point is written as a hyphen.
	stamp = "2006-01-02-150405.000"
	// markLen is how many hexadecimal digits of a mark there are.
	markLen = 8
)

// Mark tells one book's backups from another's in one folder: 8 hexadecimal digits of the SHA-256 of its key. A book that
// is made of a backup keeps the key and so the mark.
func Mark(key []byte) string {
	sum := sha256.Sum256(key)
	return hex.EncodeToString(sum[:markLen/2])
}

// Kept is a backup in a folder, by its name.
type Kept struct {
	Path string
	// Mark is the book's; "" in names of before marks were written, whose book only the file itself tells.
	Mark string
	At   time.Time
	// Added tells that it holds what came after a full one and stands on it.
	Added bool
}

// List tells the backups in a folder, of all books, oldest first by name; none when there is no such folder. Files with
// other names are not told.
func List(to string) ([]Kept, error) {
	entries, err := os.ReadDir(to)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var all []Kept
	for _, e := range entries {
		if mark, at, ok := parseName(e.Name()); ok && !e.IsDir() {
			all = append(all, Kept{filepath.Join(to, e.Name()), mark, at, strings.HasSuffix(e.Name(), suffixAdded)})
		}
	}
	slices.SortStableFunc(all, func(a, b Kept) int { return a.At.Compare(b.At) })
	return all, err
}

// Of tells one book's backups, oldest first: those made until now, and apart from them those whose name is later than now,
// since a clock was or is wrong.
func Of(to, mark string, now time.Time) (made, later []Kept, err error) {
	all, err := List(to)
	for _, k := range all {
		switch {
		case k.Mark != mark:
		case k.At.After(now):
			later = append(later, k)
		default:
			made = append(made, k)
		}
	}
	return made, later, err
}

// Prune keeps the newest backups of one book, at least one, and every full one on which a kept one stands. What is named
// later than now is neither counted nor removed: which of the two clocks was wrong cannot be told.
func Prune(to, mark string, keep int, now time.Time) error {
	made, later, err := Of(to, mark, now)
	old := max(len(made)-max(keep, 1), 0)
	needed, unread := basesOf(slices.Concat(made[old:], later))
	for _, k := range made[:old] {
		if !k.Added {
			if sum, bad := sumAtEnd(k.Path); unread || bad != nil || needed[string(sum)] {
				continue
			}
		}
		err = errors.Join(err, os.Remove(k.Path))
	}
	return err
}

// basesOf are the sums of the full backups on which these stand; unread tells that one of them does not say so any more.
func basesOf(kept []Kept) (sums map[string]bool, unread bool) {
	sums = map[string]bool{}
	for _, k := range kept {
		if !k.Added {
			continue
		}
		if a, err := readAbout(k.Path); err == nil && a.Base != nil {
			sums[string(a.Base.Sum)] = true
		} else {
			unread = true
		}
	}
	return sums, unread
}

func name(mark string, at time.Time, suffix string) string {
	return prefix + mark + "-" + strings.ReplaceAll(at.UTC().Format(stamp), ".", "-") + suffix
}

// parseName reads stillroom-MARK-DATE-TIME-MS.backup or .added, and the same without a mark.
func parseName(file string) (mark string, at time.Time, ok bool) {
	rest, ok1 := strings.CutPrefix(file, prefix)
	rest, ok2 := strings.CutSuffix(rest, suffix)
	if !ok2 {
		rest, ok2 = strings.CutSuffix(rest, suffixAdded)
	}
	if !ok1 || !ok2 || len(rest) < len(stamp) {
		return "", at, false
	}
	if marked := len(rest) - len(stamp); marked > 0 {
		mark = rest[:marked-1]
		if raw, err := hex.DecodeString(mark); err != nil || len(raw) != markLen/2 || rest[marked-1] != '-' {
			return "", at, false
		}
		rest = rest[marked:]
	}
	point := strings.LastIndexByte(rest, '-')
	if point < 0 {
		return "", at, false
	}
	at, err := time.Parse(stamp, rest[:point]+"."+rest[point+1:])
	return mark, at, err == nil
}

// trialOf begins the name of a place in which a backup of a book is written and tried.
func trialOf(mark string) string { return ".trial-" + prefix + mark + "-" }

// sweep takes away what stopped backups of the same book left, and files of any that were cut off as they were written:
// they may hold a key.
func sweep(to, mark string) {
	durable.SweepPlaces(to, trialOf(mark))
	durable.Sweep(to)
	durable.Sweep(filepath.Join(to, photosOf(mark)))
}
