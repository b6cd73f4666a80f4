package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"time"

	"stillroom/server"
	"stillroom/server/backup"
	"stillroom/server/folder"
	"stillroom/server/store"
)

// saveBook writes a backup: by itself, or by the home store that has the book open.
func saveBook(ctx context.Context, c console, args []string) error {
	var to string
	full := false
	dir, _, err := bookFlags("backup", args, 0, func(set *flag.FlagSet) {
		set.StringVar(&to, "to", "", "")
		set.BoolVar(&full, "full", false, "")
	})
	if err != nil {
		return err
	}
	if to == "" {
		return &misuse{"backup: to which folder?", form("backup")}
	}
	if to, err = filepath.Abs(to); err != nil {
		return err
	}
	made, err := saveClosed(ctx, dir, to, full)
	var busy *store.Busy
	if errors.As(err, &busy) {
		made, err = askRunning(ctx, dir, to, full, busy)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "%s\n%d entries, %d bytes, read again and compared. It holds the key of this book: keep it where only you can read it.\n", made.Path, made.Entries, made.Bytes)
	if made.Base != "" {
		fmt.Fprintf(c.out, "It is a small one: %d entries that came after %s, in the same folder. A restore needs both files; -full writes all into one.\n", made.Added, made.Base)
	}
	if backup.SameDisk(dir, to) {
		fmt.Fprintln(c.out, "It lies on the same disk as the book and is lost with it, if that disk is: keep one on another disk as well.")
	}
	if made.Lacks != "" {
		fmt.Fprintf(c.out, "%s Nothing in the book was changed.\n", made.Lacks)
	}
	return nil
}

func saveClosed(ctx context.Context, dir, to string, full bool) (server.MadeBackup, error) {
	var info backup.Info
	err := reading(ctx, dir, func(f *folder.Folder) (err error) {
		info, err = backup.Write(ctx, f, to, backup.Options{Full: full})
		return err
	})
	return server.TellBackup(info), err
}

// askRunning has the home store that has the book open make the backup.
func askRunning(ctx context.Context, dir, to string, full bool, busy error) (made server.MadeBackup, err error) {
	there, err := server.FindRunning(dir)
	if err != nil {
		return made, busy
	}
	body, err := json.Marshal(map[string]any{"to": to, "full": full})
	if err != nil {
		return made, err
	}
	r, err := http.NewRequestWithContext(ctx, "POST", there.URL+"api/backup", bytes.NewReader(body))
	if err != nil {
		return made, err
	}
	r.Header.Set("Authorization", "Bearer "+there.Secret)
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return made, busy
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusCreated {
		says, _ := io.ReadAll(io.LimitReader(answer.Body, 4096))
		return made, errors.New(strings.TrimSpace(string(says)))
	}
	return made, json.NewDecoder(answer.Body).Decode(&made)
}

// restoreBook makes a book of a backup, with a new epoch.
func restoreBook(ctx context.Context, c console, args []string) error {
	var from string
	dir, _, err := bookFlags("restore", args, 0, func(set *flag.FlagSet) { set.StringVar(&from, "from", "", "") })
	if err != nil {
		return err
	}
	if from == "" {
		return &misuse{"restore: from which backup?", form("restore")}
	}
	info, err := backup.Restore(ctx, from, dir, folder.Options{Now: time.Now, Check: checkInChild(ctx)})
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "%s holds the book of %s, %d entries. Do not let the old one run beside it.\n", dir, info.Made.Local().Format("2 January 2006, 15:04"), info.Entries())
	for _, unread := range info.Unread {
		fmt.Fprintf(c.out, "Of the damaged one: %s.\n", unread)
	}
	if info.LeftOut > 0 {
		fmt.Fprintf(c.out, "%d of its photos were altered or could not be read and are left out.\n", info.LeftOut)
	}
	if info.NoPhotos != nil {
		fmt.Fprintf(c.out, "Photos beside the backup could not be looked through (%v); the entries are all there.\n", info.NoPhotos)
	}
	if info.Missing > 0 {
		fmt.Fprintf(c.out, "%d photos that its entries name are not there; phones that still have them send them again.\n", info.Missing)
	}
	if info.NoList != nil {
		fmt.Fprintf(c.out, "Its list of devices is lost: %v. No phone is known to it; each says so when it connects, and how it goes on. Leave them as they are until then.\n", info.NoList)
		return nil
	}
	fmt.Fprintln(c.out, "Phones bring back what they have of the time since then when they connect; leave them as they are.")
	return nil
}
