package server

import (
	"crypto/subtle"
	"encoding/hex"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"stillroom/server/store/durable"
)

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
