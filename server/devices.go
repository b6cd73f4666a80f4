package server

import (
	"io"
	"net/http"
	"strings"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/sync"
)

// addDevice is POST /api/devices: takes in a new device and answers {device, token, letter, role}. The token is shown
// this once. While only this computer is listened to, everyone is the owner.
func (s *Server) addDevice(w http.ResponseWriter, r *http.Request) {
	if !sameOrigin(r) {
		http.Error(w, "A page from elsewhere may not add a device to this book.", http.StatusForbidden)
		return
	}
	// A form of another site can be sent without asking; one with this type cannot.
	if kind, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";"); kind != "application/json" {
		http.Error(w, "Send application/json.", http.StatusUnsupportedMediaType)
		return
	}
	if s.refuseRevoked(w, r.Header.Get(wasHeader)) || s.refuseDamaged(w) {
		return
	}
	io.Copy(io.Discard, http.MaxBytesReader(w, r.Body, 4096))
	device, token, err := s.folder.Devices.Add(book.Owner)
	if err != nil {
		s.o.Log.Error("a device was not taken in", "error", err)
		http.Error(w, "The home store could not write the new device down. Nothing was changed; look after its disk and try again.", http.StatusInsufficientStorage)
		return
	}
	s.o.Log.Info("a device was taken in", "device", device.Name, "letter", device.Letter, "role", device.Role)
	writeJSON(w, http.StatusCreated, map[string]string{"device": device.Name, "token": token, "letter": device.Letter, "role": device.Role})
}

// bearer finds the device that a request authenticates as.
func (s *Server) bearer(r *http.Request) (folder.Device, bool) {
	d, ok := s.folder.Devices.ByToken(bearerToken(r))
	return d, ok && d.Revoked == ""
}

// refuseUnknown answers a request whose token is no device's on the list.
func refuseUnknown(w http.ResponseWriter, says string) {
	w.Header().Set("WWW-Authenticate", "Bearer")
	http.Error(w, says, http.StatusUnauthorized)
}

// bearerToken is the token that a request shows, "" for none.
func bearerToken(r *http.Request) string {
	scheme, token, ok := strings.Cut(r.Header.Get("Authorization"), " ")
	if !ok || !strings.EqualFold(scheme, "Bearer") {
		return ""
	}
	return token
}

// Revoke takes a device off the list and ends its connections. What it wrote stays in the book; what it has not sent
// stays on it.
func (s *Server) Revoke(id sync.DeviceID) error {
	if err := s.folder.Devices.Revoke(id); err != nil {
		return err
	}
	s.hub.drop(id)
	return nil
}
