package door

import (
	"stillroom/calc/book"
	"stillroom/sync"
)

// way is what a person is told when a phone cannot go on by itself: what happened, what is kept, what will happen, and
// whether a key goes on. Anew tells that the phone may go on as a new device.
type way struct {
	Title    string `json:"title"`
	Happened string `json:"happened"`
	Kept     string `json:"kept"`
	Will     string `json:"will"`
	Anew     bool   `json:"anew"`
}

const (
	keepsAll = "Everything that this phone holds stays on it: its copy of the book, what it has not sent, photos and what is half typed."
	newName  = "The home store gives this phone a new name and takes what it holds: what was in the book comes back as it was, and what only this phone has goes in under its old name."
)

// otherwise is why a home store cannot mend a phone's copy: it is in another life, or its log does not pass through what can
// be read of it.
const otherwise = "otherwise"

// wayFor is the way out of a stop; nil when there is none that the phone could go.
func wayFor(code string) *way {
	switch code {
	case sync.CodeToken:
		return &way{
			Title:    "The home store does not know this phone",
			Happened: "The home store was brought back from a backup that is older than this phone’s first day with it, or another home store answers at this address.",
			Kept:     keepsAll,
			Will:     newName + " Since the home store cannot know who wrote that, those rows count once the owner accepts them (Today).",
			Anew:     true,
		}
	case sync.CodeBehind:
		return &way{
			Title:    "This phone is an older copy of itself",
			Happened: "The home store has more of what this phone wrote than the phone knows: it was brought back from an old backup of its own. Writing on would give the same numbers twice, so nothing is written until this is settled.",
			Kept:     keepsAll,
			Will:     newName + " Rows whose place is taken stay on this phone, and you are told how many.",
			Anew:     true,
		}
	case sync.CodeFork:
		return &way{
			Title:    "Two devices write under this phone’s name",
			Happened: "The home store has something else in a place where this phone wrote, as when a browser’s profile was copied, or the home store’s own folder.",
			Kept:     keepsAll + " The home store keeps what it has.",
			Will:     newName + " Rows whose place is taken stay on this phone, and you are told how many. If the home store is the copy, it says so and nothing changes.",
			Anew:     true,
		}
	case otherwise:
		return &way{
			Title:    "The home store cannot mend this phone’s copy",
			Happened: "A part of the book on this phone cannot be read, and the home store is not the one that it was: it was brought back from a backup since, or it is a copy. So nobody knows for certain which numbers this phone has given.",
			Kept:     keepsAll + " What cannot be read is set aside.",
			Will:     newName + " If the home store is a copy, it says so and nothing changes.",
			Anew:     true,
		}
	case sync.CodeRevoked:
		return &way{
			Title:    "This phone was taken off the list",
			Happened: "The owner of the book took this phone off the home store’s list. It is sent nothing more, and nothing is taken from it.",
			Kept:     keepsAll,
			Will:     "Ask the owner of the book. Save what this phone holds as a file: the owner can take it in at the home store.",
		}
	}
	return nil
}

// shut is why nothing is written on this phone for now: the refusal of a command, and what is told besides.
type shut struct {
	no    book.Refusal
	Tells string `json:"tells"`
	// Way is how a person goes on, nil when it goes on by itself.
	Way *way `json:"way,omitempty"`
}

// stopped notes what a stop means for writing: a phone that knows less of itself than the store would give numbers twice.
func (d *Door) stopped(code string) {
	if code == sync.CodeBehind && d.shut == nil {
		d.shut = shutBehind()
	}
}

func shutBehind() *shut {
	w := wayFor(sync.CodeBehind)
	return &shut{Way: w, Tells: w.Title + ". " + w.Happened, no: book.Refusal{Code: "behind", Says: "This was not kept: this phone is an older copy of itself, and what it wrote now could not be put in the book.",
		Hint: "What you typed still stands here. Go on as a new device, then keep it."}}
}
