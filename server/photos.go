package server

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"os"
	"strconv"
	"strings"
	"syscall"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/store"
)

// maxPiece is the most bytes of a photo in one request: a line that breaks costs no more than that.
const maxPiece = 1 << 20

// pieceTime is how long a piece may take on its way.
const pieceTime = time.Minute

// photoOf reads which photo a request is about and whether its device may have it. It has answered when ok is false.
func (s *Server) photoOf(w http.ResponseWriter, r *http.Request) (name string, ok bool) {
	d, known := s.bearer(r)
	name = r.PathValue("name")
	switch {
	case !known:
		refuseUnknown(w, "This device is not known to the home store. Open the app on it once more.")
	case d.Role == book.Stall:
		http.Error(w, "Photos belong to the workshop, and this device is for the stall.", http.StatusForbidden)
	case !book.IsPhotoName(name):
		http.Error(w, "This is not the name of a photo.", http.StatusNotFound)
	default:
		return name, true
	}
	return "", false
}

// photo is GET and HEAD /api/photos/NAME with a device's token: the picture. One of which a part is here answers 404 and
// says in Upload-Offset where the next piece begins, 0 when nothing of it is here; with the picture that is its length.
func (s *Server) photo(w http.ResponseWriter, r *http.Request) {
	name, ok := s.photoOf(w, r)
	if !ok {
		return
	}
	have, whole, err := s.folder.Photos.Held(name)
	if err != nil {
		s.photoFails(w, err)
		return
	}
	if !whole {
		w.Header().Set("Upload-Offset", strconv.FormatInt(have, 10))
		http.Error(w, "This photo is not in the home store yet. It comes from the phone that took it.", http.StatusNotFound)
		return
	}
	f, err := s.folder.Photos.Open(name)
	if err != nil {
		s.photoFails(w, err)
		return
	}
	defer f.Close()
	s.showPhoto(w, r, name, f)
}

// showPhoto sends a picture. What is no picture is sent as bytes to save: nothing that a phone sent runs as a page here.
func (s *Server) showPhoto(w http.ResponseWriter, r *http.Request, name string, f *os.File) {
	info, err := f.Stat()
	if err != nil {
		s.photoFails(w, err)
		return
	}
	start := make([]byte, 512)
	n, err := f.ReadAt(start, 0)
	if n == 0 {
		s.photoFails(w, err)
		return
	}
	h := w.Header()
	h.Set("Upload-Offset", strconv.FormatInt(info.Size(), 10))
	if kind := http.DetectContentType(start[:n]); strings.HasPrefix(kind, "image/") {
		h.Set("Content-Type", kind)
	} else {
		h.Set("Content-Type", "application/octet-stream")
		h.Set("Content-Disposition", "attachment")
	}
	h.Set("Content-Security-Policy", "sandbox; default-src 'none'")
	h.Set("Cache-Control", "private, max-age=31536000, immutable")
	h.Set("ETag", `"`+name+`"`)
	http.ServeContent(w, r, "", info.ModTime(), f)
}

// addPhoto is PATCH /api/photos/NAME with a device's token: the piece of a photo that begins at Upload-Offset, of
// Upload-Length bytes in all, at most 1 MiB a piece. It answers 200 when the photo is whole and on disk and 202 before,
// 409 when the piece does not begin where the last one ended, each with Upload-Offset.
func (s *Server) addPhoto(w http.ResponseWriter, r *http.Request) {
	name, ok := s.photoOf(w, r)
	if !ok {
		return
	}
	at, err1 := strconv.ParseInt(r.Header.Get("Upload-Offset"), 10, 64)
	length, err2 := strconv.ParseInt(r.Header.Get("Upload-Length"), 10, 64)
	if err1 != nil || err2 != nil || at < 0 || length <= 0 || length > book.MaxPhoto || at > length {
		http.Error(w, "Upload-Offset and Upload-Length must say which bytes of how many come; a photo has at most 8 MiB.", http.StatusBadRequest)
		return
	}
	// Read before anything waits for it: a phone that goes dark in the middle of a piece holds up nobody. What came of a
	// piece that broke off is kept all the same.
	_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(pieceTime))
	piece, cut := io.ReadAll(http.MaxBytesReader(w, r.Body, maxPiece))
	var tooLarge *http.MaxBytesError
	if errors.As(cut, &tooLarge) {
		s.photoFails(w, cut)
		return
	}
	have, err := s.folder.Photos.Append(name, at, length, bytes.NewReader(piece))
	w.Header().Set("Upload-Offset", strconv.FormatInt(have, 10))
	var wrong *folder.WrongOffset
	switch {
	case errors.As(err, &wrong):
		http.Error(w, "The next piece begins elsewhere.", http.StatusConflict)
	case errors.Is(err, folder.ErrAltered):
		http.Error(w, "What came is not the photo that was meant. It was not kept; send it again.", http.StatusUnprocessableEntity)
	case err != nil:
		s.photoFails(w, err)
	case have < length:
		w.WriteHeader(http.StatusAccepted)
	}
}

// photoFails answers for the disk. The phone keeps its photo and sends it again.
func (s *Server) photoFails(w http.ResponseWriter, err error) {
	var tooLarge *http.MaxBytesError
	var full *store.Full
	switch {
	case errors.As(err, &tooLarge):
		http.Error(w, "A piece has at most 1 MiB.", http.StatusRequestEntityTooLarge)
		return
	case errors.Is(err, fs.ErrNotExist):
		http.Error(w, "This photo is not in the home store.", http.StatusNotFound)
		return
	case errors.As(err, &full), errors.Is(err, syscall.ENOSPC):
		http.Error(w, "The home store's disk is full. The photo stays on the phone and is sent again when there is room.", http.StatusInsufficientStorage)
	default:
		http.Error(w, "The home store could not keep or read this photo. Where it was taken it is still kept.", http.StatusInternalServerError)
	}
	s.o.Log.Error("a photo was not kept or read", "error", err)
}
