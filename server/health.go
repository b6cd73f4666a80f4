package server

import (
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"stillroom/server/store"
)

// health is GET /api/health: that the store runs and its book is whole, its epoch, how far each stream reaches, and how
// much room there is. Damage holds a sentence for each place; ok is false with it. Backup is what is said of backups, and
// whether somebody should look after them; ok speaks of the book alone.
func (s *Server) health(w http.ResponseWriter, _ *http.Request) {
	type stream struct {
		Name string `json:"name"`
		Seq  uint64 `json:"seq"`
	}
	epoch := s.folder.Store.Epoch()
	answer := struct {
		OK      bool        `json:"ok"`
		Epoch   string      `json:"epoch"`
		Streams []stream    `json:"streams"`
		Devices int         `json:"devices"`
		Damage  []string    `json:"damage,omitempty"`
		Full    bool        `json:"full"`
		Free    uint64      `json:"free"`
		Backup  backupState `json:"backup"`
	}{Epoch: hex.EncodeToString(epoch[:]), Streams: []stream{}, Devices: len(s.folder.Devices.All()), Damage: s.damaged(), Backup: s.backups.state()}
	for _, name := range s.folder.Store.Streams() {
		answer.Streams = append(answer.Streams, stream{name, s.folder.Store.Head(name).Seq})
	}
	free, err := s.folder.Store.Space()
	answer.Free, answer.Full = free, err != nil
	answer.OK = len(answer.Damage) == 0 && !answer.Full
	writeJSON(w, http.StatusOK, answer)
}

// healthPage is GET /health: the same in words, with what to do.
func (s *Server) healthPage(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Cache-Control", "no-store")
	p := page{Title: "The home store is well", Says: []string{"The book was read from the first entry to the last when the home store started, and every entry is as it was written."}}
	free, err := s.folder.Store.Space()
	var full *store.Full
	switch damage := s.damaged(); {
	case len(damage) > 0:
		p = page{Title: "The book is damaged", Kind: "stop", Note: strings.Join(damage, " "), Says: s.Trouble()[len(damage):]}
	case errors.As(err, &full):
		p = page{Title: "The disk is nearly full", Kind: "stop", Note: sentence(full.Error()), Says: []string{sentence(full.Hint())}}
	default:
		p.Says = append(p.Says, s.folder.Store.Notes()...)
	}
	backup := s.backups.state()
	if backup.Warn && p.Kind == "" {
		p.Title, p.Kind, p.Note = "The book is well, its backup is not", "note", backup.Says
	} else {
		p.add("backup", backup.Says)
	}
	for _, name := range s.folder.Store.Streams() {
		p.add(name, fmt.Sprintf("%d entries", s.folder.Store.Head(name).Seq))
	}
	p.add("phones and laptops", fmt.Sprint(len(s.folder.Devices.All())))
	if free > 0 {
		p.add("free on the disk", fmt.Sprintf("%d MB", free>>20))
	}
	p.Back = true
	plainPage(w, http.StatusOK, p)
}

func writeJSON(w http.ResponseWriter, status int, answer any) {
	data, err := json.Marshal(answer)
	if err != nil {
		http.Error(w, "The answer could not be written.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	w.Write(append(data, '\n'))
}
