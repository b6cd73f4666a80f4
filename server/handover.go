package server

import (
	"encoding/hex"
	"errors"
	"net/http"
	"time"

	"stillroom/server/rescue"
	"stillroom/server/store"
)

// A phone that goes on as a new device brings its copy of the book and what it had not sent: the bytes of ten busy years in
// base64, with room to spare, and as long as a slow phone takes for them.
const (
	maxHandOver  = 256 << 20
	handOverTime = 10 * time.Minute
)

// wasHeader carries the token that a phone had as its earlier device.
const wasHeader = "Stillroom-Was"

// handOver is POST /api/handover with the new device's token, the earlier one's in Stillroom-Was, and the lines of a rescue
// file: answers {device, has, heads, epoch, held, left}. The rows named in has are on disk when it answers, at or before the
// numbers in heads.
func (s *Server) handOver(w http.ResponseWriter, r *http.Request) {
	by, ok := s.bearer(r)
	if !ok {
		w.Header().Set("WWW-Authenticate", "Bearer")
		http.Error(w, "This device is not known to the home store.", http.StatusUnauthorized)
		return
	}
	if !sameOrigin(r) {
		http.Error(w, "A page from elsewhere may not bring anything to this book.", http.StatusForbidden)
		return
	}
	if s.refuseDamaged(w) {
		return
	}
	who := rescue.From{By: by}
	if was, ok := s.folder.Devices.ByToken(r.Header.Get(wasHeader)); ok {
		who.Was = was.ID
	}
	slow := http.NewResponseController(w)
	if err := slow.SetReadDeadline(time.Now().Add(handOverTime)); err != nil {
		s.o.Log.Warn("a hand-over may be cut short", "error", err)
	}
	done, err := rescue.HandOver(r.Context(), s.folder.Store, s.folder.Devices, who, http.MaxBytesReader(w, r.Body, maxHandOver), s.o.Now().UnixMilli())
	if err != nil {
		s.notHandedOver(w, err)
		return
	}
	s.o.Log.Warn("a phone goes on as a new device", "device", by.Name, "was", done.Device, "back", done.Back, "sent", done.Sent, "held", done.Held, "left", done.Left)
	if done.Left == nil {
		done.Left = []string{}
	}
	heads, epoch := map[string]uint64{}, s.folder.Store.Epoch()
	for stream := range done.Has {
		heads[stream] = s.folder.Store.Head(stream).Seq
	}
	writeJSON(w, http.StatusOK, map[string]any{"device": done.Device, "has": done.Has, "heads": heads, "epoch": hex.EncodeToString(epoch[:]), "held": done.Held, "left": done.Left})
}

func (s *Server) notHandedOver(w http.ResponseWriter, err error) {
	s.o.Log.Error("what a phone brought was not taken in", "error", err)
	refused, bad, full := new(rescue.Refused), new(rescue.Bad), new(store.Full)
	switch {
	case errors.As(err, &refused) && refused.Revoked:
		http.Error(w, refused.Says+" "+refused.Next, http.StatusForbidden)
	case errors.As(err, &refused):
		http.Error(w, refused.Says+" "+refused.Next, http.StatusConflict)
	case errors.As(err, &bad):
		http.Error(w, "What was brought could not be read. Nothing was taken, and this phone keeps all of it.", http.StatusBadRequest)
	case errors.As(err, &full):
		http.Error(w, sentence(err.Error())+" This phone keeps all that it holds.", http.StatusInsufficientStorage)
	default:
		http.Error(w, "The home store could not write all of it down. This phone keeps all that it holds; look after the home store and try again.", http.StatusInternalServerError)
	}
}

// refuseRevoked tells a device that was taken off the list so; false when a token is of none.
func (s *Server) refuseRevoked(w http.ResponseWriter, token string) bool {
	d, ok := s.folder.Devices.ByToken(token)
	if !ok || d.Revoked == "" {
		return false
	}
	http.Error(w, revoked.says+" "+revoked.hint, http.StatusForbidden)
	return true
}
