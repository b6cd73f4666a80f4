package server

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	gosync "sync"
	"time"

	"stillroom/calc/book"
	"stillroom/server/backup"
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
	mark string // of the book's own, in a folder that other books may use as well
	ctx  context.Context
	stop context.CancelFunc

	making gosync.Mutex
	mu     gosync.Mutex
	done   chan struct{} // nil before run
	went   went          // of the folder that is set alone
}

func newBackups(s *Server) *backups {
	o := s.o.Backups
	if o.Every <= 0 {
		o.Every = DefaultEvery
	}
	if o.Keep <= 0 {
		o.Keep = DefaultKeep
	}
	if to, err := filepath.Abs(o.To); err == nil && o.To != "" {
		o.To = to
	}
	ctx, stop := context.WithCancel(context.Background())
	b := &backups{s: s, o: o, mark: backup.Mark(s.folder.Store.Key()), ctx: ctx, stop: stop}
	b.went = readWent(s.o.Dir, o.To)
	return b
}

// run makes backups by the clock until it is stopped; not at all when it was stopped before.
func (b *backups) run() {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.o.To == "" || b.ctx.Err() != nil {
		return
	}
	b.done = make(chan struct{})
	go func(done chan struct{}) {
		defer close(done)
		// Asked every minute and not set for a day: a computer that sleeps at night is backed up when it wakes.
		for tick := time.NewTicker(time.Minute); ; {
			if b.due() {
				b.make(b.ctx, b.o.To, false)
			}
			select {
			case <-tick.C:
			case <-b.ctx.Done():
				tick.Stop()
				return
			}
		}
	}(b.done)
}

func (b *backups) close() {
	b.stop() // first, so that a run that has not begun yet does not
	b.mu.Lock()
	done := b.done
	b.mu.Unlock()
	if done != nil {
		<-done
	}
}

// due goes by the newest backup that is there and by when one was last tried, so that nothing in the folder can have one
// made every minute. What failed is tried again sooner.
func (b *backups) due() bool {
	now := b.s.o.Now()
	last, _, _, ok := b.last(now)
	b.mu.Lock()
	defer b.mu.Unlock()
	switch away := b.away(now, b.went); {
	case away && b.went.Away:
		return false // said already
	case b.went.Away:
		return true // back, and perhaps for minutes only
	case away:
		return b.went.Made.After(now) || now.Sub(b.went.Made) >= b.o.Every
	}
	// A trial that is later than now was before the clock was set back.
	if at := b.went.At; !at.IsZero() && !at.After(now) && now.Sub(at) < min(b.o.Every, time.Hour) {
		return false
	}
	return b.went.Failed != "" || !ok || now.Sub(last) >= b.o.Every
}

// last is the newest backup of this book that was made until now and has what it stands on, and how many are named later than
// now. Without one, small tells that only such are there whose full one is not.
func (b *backups) last(now time.Time) (at time.Time, later int, small, ok bool) {
	made, after, _ := backup.Of(b.o.To, b.mark, now) // a folder that cannot be read is told by the next backup
	for _, k := range slices.Backward(made) {
		if k.Stands() {
			return k.At, len(after), false, true
		}
	}
	return at, len(after), len(made) > 0, false
}

// away tells that backups were made in the folder that is set and that now there is none, nor perhaps a folder: what it lay on is
// unplugged, and what is written there now would lie on another disk, most likely the book's own.
func (b *backups) away(now time.Time, w went) bool {
	made, later, err := backup.Of(b.o.To, b.mark, now)
	return !w.Made.IsZero() && err == nil && len(made)+len(later) == 0
}

// begin has a folder taken for a new one, since a person names it.
func (b *backups) begin(to string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if filepath.Clean(to) == b.o.To {
		b.went.Made, b.went.Away = time.Time{}, false
	}
}

// write is backup.Write, and nothing where the backups' own disk is away.
func (b *backups) write(ctx context.Context, to string, full, away bool) (backup.Info, error) {
	if away {
		return backup.Info{}, fmt.Errorf("no backup was made: %s is not there or holds none of this book's backups any more, as when its disk is not plugged in. Plug it in; the next one is then made at once. If they were taken away on purpose, stillroom backup -book %s -to %s begins there anew", to, b.s.o.Dir, to)
	}
	return backup.Write(ctx, b.s.folder, to, backup.Options{Now: b.s.o.Now, Full: full})
}

// make writes a backup, and lets go of the oldest where they are kept by the clock.
func (b *backups) make(ctx context.Context, to string, full bool) (backup.Info, error) {
	b.making.Lock()
	defer b.making.Unlock()
	kept := filepath.Clean(to) == b.o.To
	b.mu.Lock()
	now := went{To: to, Made: b.went.Made}
	now.Away = kept && b.away(b.s.o.Now(), b.went)
	b.mu.Unlock()
	info, err := b.write(ctx, to, full, now.Away)
	partly := info.Photos.Say()
	if err == nil && kept {
		if err := backup.Prune(to, b.mark, b.o.Keep, b.s.o.Now()); err != nil {
			partly = strings.TrimSpace(partly + " Older ones could not be removed (" + err.Error() + ").")
		}
	}
	if ctx.Err() != nil {
		return info, err
	}
	switch {
	case err != nil:
		b.s.o.Log.Error("no backup was made", "to", to, "error", err)
	case partly != "":
		b.s.o.Log.Error("a backup was made and lacks something", "to", to, "error", partly)
	}
	if !kept {
		return info, err
	}
	now.At, now.Partly = b.s.o.Now(), partly
	if err == nil {
		now.Made = info.Made
	} else {
		now.Failed = strings.TrimPrefix(err.Error(), "no backup was made: ")
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.went = now
	if err := now.keep(b.s.o.Dir); err != nil {
		b.s.o.Log.Error("how the last backup went was not written down", "error", err)
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
	now := b.s.o.Now()
	last, later, small, ok := b.last(now)
	b.mu.Lock()
	went := b.went
	away := b.away(now, went)
	b.mu.Unlock()
	if away {
		last, ok = went.Made, true
	}
	says := b.says(now, last, small, ok, went)
	if went.Partly != "" {
		says = backupState{says.Says + " " + went.Partly, true}
	}
	switch {
	case later == 1:
		says = backupState{says.Says + " One backup is dated later than now: the home store's clock was wrong or is. It is kept and not counted. Set the clock; when it is right, that one may be moved away.", true}
	case later > 1:
		says = backupState{fmt.Sprintf("%s %d backups are dated later than now: the home store's clock was wrong or is. They are kept and not counted. Set the clock; when it is right, they may be moved away.", says.Says, later), true}
	}
	return says
}

// says is of how old the last one is and whether it failed.
func (b *backups) says(now, last time.Time, small, ok bool, went went) backupState {
	have := "There is none yet."
	if ok {
		have = "The last one is of " + last.Local().Format("2 January 2006, 15:04") + "."
	}
	switch age := now.Sub(last); {
	case went.Failed != "":
		return backupState{"The backup of " + went.At.Local().Format("2 January, 15:04") + " failed (" + went.Failed + "). " + have + " Nothing in the book itself is touched by that. Look after " + b.o.To + " on the home store's computer.", true}
	case !ok && small:
		return backupState{"No backup in " + b.o.To + " can be restored: the full one on which the small ones stand is gone. A full one is made next.", true}
	case !ok:
		return backupState{"No backup was made yet in " + b.o.To + ".", true}
	case age > 2*b.o.Every+time.Hour:
		return backupState{fmt.Sprintf("The last backup is %d days old. %s Look after the folder %s.", int(age.Hours()/24), have, b.o.To), true}
	}
	if b.away(now, went) {
		return backupState{have + " The folder " + b.o.To + " is not there now or is empty: plug its disk in before the next one is due.", false}
	}
	have += fmt.Sprintf(" The newest %d are kept.", b.o.Keep)
	if backup.SameDisk(b.s.o.Dir, b.o.To) {
		have += " They lie on the same disk as the book: lost with it, if that disk is. Another disk is safer."
	}
	return backupState{have, false}
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
		To   string `json:"to"`
		Full bool   `json:"full"`
	}
	if err := json.NewDecoder(io.LimitReader(r.Body, 4096)).Decode(&asked); err != nil {
		http.Error(w, "Send {} or {\"to\": FOLDER, \"full\": true}.", http.StatusBadRequest)
		return
	}
	d, device := s.bearer(r)
	switch own := s.running.proves(r); {
	case own && filepath.IsAbs(asked.To):
		s.backups.begin(asked.To)
	case device && d.Role == book.Owner && asked.To == "" && s.backups.o.To != "":
		asked.To = s.backups.o.To
	default:
		http.Error(w, "Only an owner's device may ask for a backup, and only into the folder that the home store was started with.", http.StatusForbidden)
		return
	}
	info, err := s.backups.make(r.Context(), asked.To, asked.Full)
	if err != nil {
		http.Error(w, sentence(err.Error()), http.StatusInsufficientStorage)
		return
	}
	writeJSON(w, http.StatusCreated, TellBackup(info))
}

// MadeBackup is the answer of POST /api/backup.
type MadeBackup struct {
	Path    string `json:"path"`
	Entries uint64 `json:"entries"`
	Bytes   int64  `json:"bytes"`
	// Base names the file that it stands on and Added counts the entries that it holds itself; "" for a full one.
	Base  string `json:"base,omitempty"`
	Added uint64 `json:"added,omitempty"`
	// Lacks tells of photos that could not be copied; "" when all are there.
	Lacks string `json:"lacks,omitempty"`
}

// TellBackup is the answer for a backup that was made.
func TellBackup(i backup.Info) MadeBackup {
	return MadeBackup{Path: i.Path, Entries: i.Entries(), Bytes: i.Bytes, Base: i.Base, Added: i.Added, Lacks: i.Photos.Say()}
}
