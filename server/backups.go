package server

import (
	"context"
	"crypto/subtle"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	gosync "sync"
	"time"

	"stillroom/calc/book"
	"stillroom/server/backup"
	"stillroom/server/store/durable"
)

// Backups say where the book is backed up to, how often, and how many are kept.
type Backups struct {
	To    string
	Every time.Duration // DefaultEvery when 0
	Keep  int           // DefaultKeep when 0
}

// A backup a day, two weeks of them.
const (
	DefaultEvery = 24 * time.Hour
	DefaultKeep  = 14
)

// backups makes one at a time, by the clock or when asked.
type backups struct {
	s    *Server
	o    Backups
	stop context.CancelFunc
	done chan struct{}

	making gosync.Mutex
	mu     gosync.Mutex
	failed string // why the last one failed; "" when it did not
	at     time.Time
}

func newBackups(s *Server) *backups {
	o := s.o.Backups
	if o.Every <= 0 {
		o.Every = DefaultEvery
	}
	if o.Keep <= 0 {
		o.Keep = DefaultKeep
	}
	return &backups{s: s, o: o, done: make(chan struct{})}
}

// run makes backups by the clock until it is stopped.
func (b *backups) run() {
	ctx, stop := context.WithCancel(context.Background())
	b.stop = stop
	go func() {
		defer close(b.done)
		if b.o.To == "" {
			return
		}
		// Asked every minute and not set for a day: a computer that sleeps at night is backed up when it wakes.
		for tick := time.NewTicker(time.Minute); ; {
			if b.due() {
				b.make(ctx, b.o.To)
			}
			select {
			case <-tick.C:
			case <-ctx.Done():
				tick.Stop()
				return
			}
		}
	}()
}

func (b *backups) close() {
	if b.stop != nil {
		b.stop()
		<-b.done
	}
}

func (b *backups) due() bool {
	last, ok := b.last()
	b.mu.Lock()
	defer b.mu.Unlock()
	now := b.s.o.Now()
	// What failed is tried again sooner.
	if b.failed != "" {
		return now.Sub(b.at) >= min(b.o.Every, time.Hour)
	}
	return !ok || now.Sub(last) >= b.o.Every || last.After(now.Add(time.Hour))
}

func (b *backups) last() (time.Time, bool) {
	all := backup.List(b.o.To)
	if b.o.To == "" || len(all) == 0 {
		return time.Time{}, false
	}
	return backup.MadeAt(all[len(all)-1])
}

// make writes a backup, and lets go of the oldest where they are kept by the clock.
func (b *backups) make(ctx context.Context, to string) (backup.Info, error) {
	b.making.Lock()
	defer b.making.Unlock()
	info, err := backup.Write(ctx, b.s.folder, to, backup.Options{Now: b.s.o.Now})
	if err == nil && to == b.o.To {
		err = backup.Prune(to, b.o.Keep)
	}
	if ctx.Err() != nil {
		return info, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.at, b.failed = b.s.o.Now(), ""; err != nil {
		b.failed = strings.TrimPrefix(err.Error(), "no backup was made: ")
		b.s.o.Log.Error("no backup was made", "to", to, "error", err)
	}
	return info, err
}

// backupState is what a person is told of backups.
type backupState struct {
	Says string `json:"says"`
	// Warn tells that somebody should look: none yet, the last one failed, or it is old.
	Warn bool `json:"warn"`
}

func (b *backups) state() backupState {
	if b.o.To == "" {
		return backupState{Says: "No backups are made. Start the home store with -backup-to and a folder on another disk."}
	}
	last, ok := b.last()
	b.mu.Lock()
	failed, at := b.failed, b.at
	b.mu.Unlock()
	have := "There is none yet."
	if ok {
		have = "The last one is of " + last.Local().Format("2 January 2006, 15:04") + "."
	}
	switch age := b.s.o.Now().Sub(last); {
	case failed != "":
		return backupState{"The backup of " + at.Local().Format("2 January, 15:04") + " failed (" + failed + "). " + have + " Nothing in the book itself is touched by that. Look after " + b.o.To + " on the home store's computer.", true}
	case !ok:
		return backupState{"No backup was made yet in " + b.o.To + ".", true}
	case age > 2*b.o.Every+time.Hour:
		return backupState{fmt.Sprintf("The last backup is %d days old. %s Look after the folder %s.", int(age.Hours()/24), have, b.o.To), true}
	}
	return backupState{have + fmt.Sprintf(" The newest %d are kept.", b.o.Keep), false}
}

// backupSays is GET /api/backup, for devices.
func (s *Server) backupSays(w http.ResponseWriter, r *http.Request) {
	if _, ok := s.bearer(r); !ok {
		http.Error(w, "This device is not on the list of the home store.", http.StatusUnauthorized)
		return
	}
	writeJSON(w, http.StatusOK, s.backups.state())
}

// backupNow is POST /api/backup: an owner's device, into the folder that is set; or who can read the book's folder, into
// any.
func (s *Server) backupNow(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		To string `json:"to"`
	}
	if err := json.NewDecoder(io.LimitReader(r.Body, 4096)).Decode(&asked); err != nil {
		http.Error(w, "Send {} or {\"to\": FOLDER}.", http.StatusBadRequest)
		return
	}
	d, device := s.bearer(r)
	switch own := s.running.proves(r); {
	case own && filepath.IsAbs(asked.To):
	case device && d.Role == book.Owner && asked.To == "" && s.backups.o.To != "":
		asked.To = s.backups.o.To
	default:
		http.Error(w, "Only an owner's device may ask for a backup, and only into the folder that the home store was started with.", http.StatusForbidden)
		return
	}
	info, err := s.backups.make(r.Context(), asked.To)
	if err != nil {
		http.Error(w, sentence(err.Error()), http.StatusInsufficientStorage)
		return
	}
	writeJSON(w, http.StatusCreated, MadeBackup{info.Path, info.Entries(), info.Bytes})
}

// MadeBackup is the answer of POST /api/backup.
type MadeBackup struct {
	Path    string `json:"path"`
	Entries uint64 `json:"entries"`
	Bytes   int64  `json:"bytes"`
}

// Running is how a program that may read the book's folder finds the home store that has it open.
type Running struct {
	URL    string `json:"url"`
	Secret string `json:"secret"`
}

// begun writes down where this home store is, for programs that may read the book's folder.
func (s *Server) begun() error {
	var secret [32]byte
	if _, err := io.ReadFull(s.o.Rand, secret[:]); err != nil {
		return err
	}
	s.running = Running{URL: s.URL(), Secret: hex.EncodeToString(secret[:])}
	s.backups = newBackups(s)
	data, err := json.Marshal(s.running)
	if err != nil {
		return err
	}
	var disk *durable.Disk
	return disk.Replace(filepath.Join(s.o.Dir, runningFile), append(data, '\n'))
}

const runningFile = "running.json"

func (r Running) proves(q *http.Request) bool {
	token, ok := strings.CutPrefix(q.Header.Get("Authorization"), "Bearer ")
	return ok && r.Secret != "" && subtle.ConstantTimeCompare([]byte(token), []byte(r.Secret)) == 1
}

// FindRunning reads what a home store that has the book open wrote down; the file of one that was killed may still be
// there.
func FindRunning(dir string) (Running, error) {
	var r Running
	data, err := os.ReadFile(filepath.Join(dir, runningFile))
	if err != nil {
		return r, err
	}
	return r, json.Unmarshal(data, &r)
}
