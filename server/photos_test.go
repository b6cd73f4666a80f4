package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/server/store"
)

// picture is n bytes that begin as a JPEG does, and their name.
func picture(n int, fill byte) ([]byte, string) {
	data := append([]byte{0xff, 0xd8, 0xff, 0xe0}, bytes.Repeat([]byte{fill}, n-4)...)
	sum := sha256.Sum256(data)
	return data, hex.EncodeToString(sum[:])
}

// piece sends a part of a photo and answers the status and where the next one begins.
func piece(t *testing.T, s *Server, token, name string, at, length int, data []byte) (int, string) {
	t.Helper()
	answer, _ := do(t, s, "PATCH", "/api/photos/"+name, bytes.NewReader(data), "Authorization", "Bearer "+token,
		"Upload-Offset", strconv.Itoa(at), "Upload-Length", strconv.Itoa(length))
	return answer.StatusCode, answer.Header.Get("Upload-Offset")
}

func TestAPhotoComesInPiecesAndGoesOnWhereItBrokeOff(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: dir})
	me := servertest.Register(t, s.URL())
	data, name := picture(3000, 7)
	bearer := []string{"Authorization", "Bearer " + me.Token}
	if answer, _ := do(t, s, "HEAD", "/api/photos/"+name, nil, bearer...); answer.StatusCode != http.StatusNotFound || answer.Header.Get("Upload-Offset") != "0" {
		t.Errorf("before: %d, %q", answer.StatusCode, answer.Header.Get("Upload-Offset"))
	}
	for _, step := range []struct {
		what   string
		at     int
		data   []byte
		status int
		next   string
	}{
		{"the first piece", 0, data[:1000], http.StatusAccepted, "1000"},
		{"the same again, its answer was lost", 0, data[:1000], http.StatusConflict, "1000"},
		{"one with a hole before it", 2000, data[2000:], http.StatusConflict, "1000"},
		{"the rest", 1000, data[1000:], http.StatusOK, "3000"},
		{"the rest again", 1000, data[1000:], http.StatusOK, "3000"},
	} {
		if status, next := piece(t, s, me.Token, name, step.at, len(data), step.data); status != step.status || next != step.next {
			t.Errorf("%s: %d, next %q", step.what, status, next)
		}
	}
	other := servertest.Register(t, s.URL())
	answer, body := get(t, s, "/api/photos/"+name, "Authorization", "Bearer "+other.Token)
	if answer.StatusCode != http.StatusOK || body != string(data) || answer.Header.Get("Content-Type") != "image/jpeg" {
		t.Errorf("another device got %d, %d bytes, %q", answer.StatusCode, len(body), answer.Header.Get("Content-Type"))
	}
	if on, err := os.ReadFile(filepath.Join(dir, "photos", name[:2], name)); err != nil || !bytes.Equal(on, data) {
		t.Errorf("on disk: %v", err)
	}
}

func TestAPhotoThatWasAlteredOnTheWayIsNotKept(t *testing.T) {
	s := start(t, Options{})
	me := servertest.Register(t, s.URL())
	data, name := picture(500, 7)
	altered := bytes.Clone(data)
	altered[99] ^= 1
	if status, next := piece(t, s, me.Token, name, 0, len(data), altered); status != http.StatusUnprocessableEntity || next != "0" {
		t.Errorf("altered: %d, next %q", status, next)
	}
	if status, _ := piece(t, s, me.Token, name, 0, len(data), data); status != http.StatusOK {
		t.Errorf("as it was meant: %d", status)
	}
}

func TestWhoMayHaveAPhotoAndWhatIsNone(t *testing.T) {
	s := start(t, Options{})
	me := servertest.Register(t, s.URL())
	_, stallToken, err := s.folder.Devices.Add(book.Stall)
	if err != nil {
		t.Fatal(err)
	}
	page := []byte("<script>alert(1)</script>")
	sum := sha256.Sum256(page)
	pageName := hex.EncodeToString(sum[:])
	if status, _ := piece(t, s, me.Token, pageName, 0, len(page), page); status != http.StatusOK {
		t.Fatalf("bytes of any kind are taken: %d", status)
	}
	if answer, _ := get(t, s, "/api/photos/"+pageName, "Authorization", "Bearer "+me.Token); answer.Header.Get("Content-Type") != "application/octet-stream" || answer.Header.Get("Content-Disposition") != "attachment" {
		t.Errorf("a page came back as %q", answer.Header)
	}
	for _, c := range []struct {
		what, token, path string
		status            int
	}{
		{"nobody", "x", pageName, http.StatusUnauthorized},
		{"the stall", stallToken, pageName, http.StatusForbidden},
		{"a path out of the folder", me.Token, "..%2f..%2fdevices.json", http.StatusNotFound},
		{"capitals", me.Token, strings.ToUpper(pageName), http.StatusNotFound},
	} {
		if answer, _ := get(t, s, "/api/photos/"+c.path, "Authorization", "Bearer "+c.token); answer.StatusCode != c.status {
			t.Errorf("%s: %d", c.what, answer.StatusCode)
		}
	}
	for _, c := range []struct {
		what       string
		at, length int
		data       []byte
		status     int
	}{
		{"longer than a photo may be", 0, book.MaxPhoto + 1, []byte("x"), http.StatusBadRequest},
		{"nothing", 0, 0, nil, http.StatusBadRequest},
		{"a piece behind its end", 10, 9, []byte("x"), http.StatusBadRequest},
		{"a piece that is too long", 0, book.MaxPhoto, make([]byte, maxPiece+1), http.StatusRequestEntityTooLarge},
	} {
		_, name := picture(9, 9)
		if status, _ := piece(t, s, me.Token, name, c.at, c.length, c.data); status != c.status {
			t.Errorf("%s: %d", c.what, status)
		}
	}
}

func TestAPhotoThatHasNoRoomIsToldSo(t *testing.T) {
	s := start(t, Options{})
	for _, c := range []struct {
		err    error
		status int
	}{{&store.Full{Free: 1, Need: 2}, http.StatusInsufficientStorage}, {syscall.ENOSPC, http.StatusInsufficientStorage}, {syscall.EIO, http.StatusInternalServerError}} {
		w := httptest.NewRecorder()
		s.photoFails(w, c.err)
		if w.Code != c.status {
			t.Errorf("%v: %d %s", c.err, w.Code, w.Body)
		}
	}
}
