package server

import (
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"net/http"
	gosync "sync"
	"time"

	"stillroom/server/rescue"
	"stillroom/server/store"
	"stillroom/sync"
)

// A phone that goes on as a new device brings its copy of the book and what it had not sent: a million entries in base64 with
// room to spare, and as long as a slow phone takes for them. All of it is held in memory until it is known to be of this
// book, so few may bring at once; one that goes dark meanwhile gives its place up soon.
const (
	maxHandOver  = 160 << 20
	handOverTime = 10 * time.Minute
	handOverDark = 30 * time.Second
	maxHanding   = 2
)

// handing knows which devices are bringing something at this moment. The zero value is ready.
type handing struct {
	mu  gosync.Mutex
	now map[sync.DeviceID]bool
}

// begin lets a device bring what it has, or says why it has to wait. end is to follow only a begin that let it.
func (h *handing) begin(d sync.DeviceID) (wait string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	switch {
	case h.now[d]:
		return "The home store is still at what this phone brought a moment ago."
	case len(h.now) >= maxHanding:
		return "The home store is taking in what other phones bring."
	case h.now == nil:
		h.now = map[sync.DeviceID]bool{}
	}
	h.now[d] = true
	return ""
}

func (h *handing) end(d sync.DeviceID) {
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.now, d)
}

// brought reads a body whose sender may go dark: each read may take handOverDark, all of them handOverTime.
type brought struct {
	io.Reader
	c    *http.ResponseController
	last time.Time
}

func (b brought) Read(p []byte) (int, error) {
	until := time.Now().Add(handOverDark)
	if b.last.Before(until) {
		until = b.last
	}
	if err := b.c.SetReadDeadline(until); err != nil {
		return 0, err
	}
	n, err := b.Reader.Read(p)
	if err != nil {
		// Past the body a deadline would end the request while its rows are written.
		_ = b.c.SetReadDeadline(time.Time{})
	}
	return n, err
}

// wasHeader carries the token that a phone had as its earlier device.
const wasHeader = "Stillroom-Was"

// handOver is POST /api/handover with the new device's token, the earlier one's in Stillroom-Was, and the lines of a rescue
// file: answers {device, has, heads, epoch, held, left}. The rows named in has are on disk when it answers, at or before the
// numbers in heads.
func (s *Server) handOver(w http.ResponseWriter, r *http.Request) {
	by, ok := s.bearer(r)
	if !ok {
		refuseUnknown(w, "This device is not known to the home store.")
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
	if wait := s.handing.begin(by.ID); wait != "" {
		w.Header().Set("Retry-After", "60")
		http.Error(w, wait+" Nothing was changed, and this phone keeps all that it holds. Try again in a minute.", http.StatusServiceUnavailable)
		return
	}
	defer s.handing.end(by.ID)
	in := brought{http.MaxBytesReader(w, r.Body, maxHandOver), http.NewResponseController(w), time.Now().Add(handOverTime)}
	done, err := rescue.HandOver(r.Context(), s.folder.Store, s.folder.Devices, who, in, s.o.Now().UnixMilli())
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
	case errors.As(err, new(*http.MaxBytesError)):
		http.Error(w, fmt.Sprintf("This phone brought more than the %d MB that the home store takes at once. Nothing was taken, and this phone keeps all of it. Save what it holds as a file, and take that in at the home store.", maxHandOver>>20), http.StatusRequestEntityTooLarge)
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
