package server

import (
	"encoding/json"
	"os"
	"path/filepath"
	"time"

	"stillroom/server/store/durable"
)

// wentFile is in the book's folder, so that what went wrong is still said when the home store starts again.
const wentFile = "backups.json"

// went is how the last backup into a folder went.
type went struct {
	To     string    `json:"to"`
	At     time.Time `json:"at"`
	Failed string    `json:"failed,omitempty"` // why it failed; "" when it did not
	Partly string    `json:"partly,omitempty"` // what it lacks; "" when nothing
	// Made is when one was last made there, zero before the first; Away tells that since then that folder was found without any.
	Made time.Time `json:"made,omitzero"`
	Away bool      `json:"away,omitempty"`
}

// readWent gives nothing when none was made into that folder. What cannot be read is as good as none: a backup is due then.
func readWent(dir, to string) (w went) {
	data, err := os.ReadFile(filepath.Join(dir, wentFile))
	if err != nil || json.Unmarshal(data, &w) != nil || w.To != to {
		return went{}
	}
	if w.Made.IsZero() && w.Failed == "" {
		w.Made = w.At // written before that was kept
	}
	return w
}

func (w went) keep(dir string) error {
	data, err := json.Marshal(w)
	if err != nil {
		return err
	}
	var disk *durable.Disk
	return disk.Replace(filepath.Join(dir, wentFile), append(data, '\n'))
}
