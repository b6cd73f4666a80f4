package server

import (
	"errors"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/sync"
)

func TestTwoPhonesConverge(t *testing.T) {
	s := start(t, Options{})
	a, b := newPhone(t, s), newPhone(t, s)
	a.write("workshop", kind, 1200) // before it ever met the store
	a.connect()
	b.connect()
	b.write("workshop", kind, 30)
	a.write("shelf", book.KindPlaceNamed, 5)
	a.untilAcked("workshop", 1200)
	b.untilAcked("workshop", 30)
	for _, p := range []*testPhone{a, b} {
		p.untilHas("workshop", 1230)
		p.untilHas("shelf", 5)
	}
	if !sameDown(a, b, "workshop") || !sameDown(a, b, "shelf") {
		t.Errorf("the phones hold different bytes")
	}
	b.cut()
	a.write("workshop", kind, 10)
	b.write("workshop", kind, 10)
	a.untilAcked("workshop", 1210)
	b.connect()
	b.untilAcked("workshop", 40)
	a.untilHas("workshop", 1250)
	b.untilHas("workshop", 1250)
	if !sameDown(a, b, "workshop") {
		t.Errorf("after a day apart the phones hold different bytes")
	}
}

// F2: the entries were on disk and the acknowledgement was lost; the phone sends them again and nothing is there twice.
func TestLostAcknowledgementIsHarmless(t *testing.T) {
	s := start(t, Options{})
	a := newPhone(t, s)
	a.connect()
	a.write("workshop", kind, 1)
	a.untilAcked("workshop", 1)
	a.mu.Lock()
	a.deaf = true
	a.mu.Unlock()
	a.write("workshop", kind, 25)
	for s.folder.Store.DeviceHead("workshop", a.id).Seq < 26 {
		time.Sleep(time.Millisecond)
	}
	a.cut()
	a.mu.Lock()
	a.deaf = false
	if a.acked["workshop"] != 1 {
		t.Fatalf("the acknowledgement was not lost")
	}
	a.mu.Unlock()
	a.connect()
	a.untilAcked("workshop", 26)
	a.untilHas("workshop", 26)
	if got := s.folder.Store.Head("workshop").Seq; got != 26 {
		t.Errorf("%d entries in the book", got)
	}
}

// F6: two connections as one device, as two tabs would be; both offer the same entries.
func TestOneDeviceTwice(t *testing.T) {
	s := start(t, Options{})
	a := newPhone(t, s)
	a.write("workshop", kind, 40)
	twin := &testPhone{t: t, s: s, me: a.me, id: a.id, acked: map[string]uint64{}, logs: map[sync.Log]map[string]*memLog{sync.Up: {}, sync.Down: {}}}
	t.Cleanup(twin.cut)
	twin.write("workshop", kind, 40)
	a.connect()
	twin.connect()
	a.untilHas("workshop", 40)
	twin.untilHas("workshop", 40)
	if got := s.folder.Store.Head("workshop").Seq; got != 40 {
		t.Errorf("%d entries in the book", got)
	}
}

// F7: one phone does not read while another bursts 10,000 entries; the burst is not slowed, and the slow one resumes.
func TestSlowReaderDoesNotHoldUpOthers(t *testing.T) {
	s := start(t, Options{})
	slow, fast := newPhone(t, s), newPhone(t, s)
	slow.connect()
	slow.untilAcked("workshop", 0)
	// It holds its own lock and so reads nothing more.
	slow.mu.Lock()
	fast.connect()
	for range 20 {
		fast.write("workshop", kind, 500)
	}
	fast.untilAcked("workshop", 10_000)
	fast.untilHas("workshop", 10_000)
	slow.mu.Unlock()
	slow.cut()
	slow.connect()
	slow.untilHas("workshop", 10_000)
	if !sameDown(slow, fast, "workshop") {
		t.Errorf("the phones hold different bytes")
	}
}

// F23: the store ends between the disk and the other phones. What is on disk reaches them after it runs again.
func TestPublishedAfterTheStoreCameBack(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: dir})
	a, b := newPhone(t, s), newPhone(t, s)
	b.connect()
	b.untilHas("workshop", 0)
	// Straight to the store: the crash is after its append and before any socket heard of it.
	entries := [][]byte{sync.Entry{Seq: 1, At: 1, Kind: kind, V: 1, Body: []byte("noted")}.Append(nil)}
	b.cut()
	if _, err := s.folder.Store.Append(t.Context(), "workshop", a.id, 0, entries, store.Meta{At: 1}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = start(t, Options{Dir: dir})
	b.s = s
	b.connect()
	b.untilHas("workshop", 1)
}

// F13: a copied phone writes other things under the same numbers.
func TestForkedDeviceIsStoppedAndBothAreKept(t *testing.T) {
	s := start(t, Options{})
	a := newPhone(t, s)
	clone := &testPhone{t: t, s: s, me: a.me, id: a.id, acked: map[string]uint64{}, logs: map[sync.Log]map[string]*memLog{sync.Up: {}, sync.Down: {}}}
	t.Cleanup(clone.cut)
	a.connect()
	a.write("workshop", kind, 3)
	a.untilAcked("workshop", 3)
	clone.write("workshop", book.KindBatchWeighed, 4)
	clone.connect()
	clone.untilStopped(sync.CodeFork)
	if got := len(clone.log("workshop", sync.Up).items); got != 4 {
		t.Errorf("the clone keeps %d entries", got)
	}
	if got := s.folder.Store.Head("workshop").Seq; got != 3 {
		t.Errorf("%d entries in the book", got)
	}
}

// F28, short: a device is taken off the list while it pushes.
func TestRevokedInMidPush(t *testing.T) {
	s := start(t, Options{})
	a := newPhone(t, s)
	a.connect()
	a.write("workshop", kind, 10)
	a.untilAcked("workshop", 10)
	if err := s.Revoke(a.id); err != nil {
		t.Fatal(err)
	}
	stop := a.untilStopped(sync.CodeRevoked)
	if !stop.Fatal {
		t.Errorf("it would try again for ever: %+v", stop)
	}
	a.write("workshop", kind, 10)
	a.stops = nil
	a.connect()
	a.untilStopped(sync.CodeRevoked)
	if got := s.folder.Store.Head("workshop").Seq; got != 10 {
		t.Errorf("%d entries in the book", got)
	}
	if answer, _ := get(t, s, "/api/labels?batch=X", "Authorization", "Bearer "+a.me.Token); answer.StatusCode != http.StatusUnauthorized {
		t.Errorf("labels for a revoked device: %d", answer.StatusCode)
	}
}

func TestStallGetsTheShelfAloneAndIsHeld(t *testing.T) {
	s := start(t, Options{})
	owner := newPhone(t, s)
	d, token, err := s.folder.Devices.Add(book.Stall)
	if err != nil {
		t.Fatal(err)
	}
	stall := &testPhone{t: t, s: s, me: phone{Device: d.Name, Token: token, Letter: d.Letter}, id: d.ID, acked: map[string]uint64{}, logs: map[sync.Log]map[string]*memLog{sync.Up: {}, sync.Down: {}}}
	t.Cleanup(stall.cut)
	owner.connect()
	owner.write("workshop", kind, 5)
	owner.write("shelf", book.KindPlaceNamed, 2)
	owner.untilAcked("workshop", 5)
	owner.untilAcked("shelf", 2)
	stall.connect()
	stall.write("shelf", book.KindCardPublished, 1) // not a stall's to write: kept and held
	stall.untilAcked("shelf", 1)
	stall.untilHas("shelf", 3)
	stall.mu.Lock()
	defer stall.mu.Unlock()
	if n := len(stall.log("workshop", sync.Down).items); n != 0 {
		t.Errorf("a stall was sent %d entries of the workshop", n)
	}
	for i, held := range []bool{false, false, true} {
		if v, err := sync.ParseEnvelope(stall.log("shelf", sync.Down).items[i]); err != nil || v.Held != held {
			t.Errorf("envelope %d: held %v, want %v (%v)", i+1, v.Held, held, err)
		}
	}
}

func TestWrongTokenIsRefused(t *testing.T) {
	s := start(t, Options{})
	a, b := newPhone(t, s), newPhone(t, s)
	a.me.Token = "wrong"
	a.connect()
	a.untilStopped(sync.CodeToken)
	// F29: b's own token, but a's name.
	b.id = a.id
	b.write("workshop", kind, 1)
	b.connect()
	b.untilStopped(sync.CodeToken)
	if got := s.folder.Store.Head("workshop").Seq; got != 0 {
		t.Errorf("%d entries in the book", got)
	}
}

// dial opens a bare socket.
func dial(t *testing.T, s *Server, origin string) (*websocket.Conn, error) {
	t.Helper()
	ws, _, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(s.URL(), "http")+"ws", http.Header{"Origin": {origin}})
	if err == nil {
		t.Cleanup(func() { ws.Close() })
	}
	return ws, err
}

func TestMalformedFramesEndTheConnectionAndNothingElse(t *testing.T) {
	s := start(t, Options{})
	own := strings.TrimSuffix(s.URL(), "/")
	if _, err := dial(t, s, "http://evil.example"); !errors.Is(err, websocket.ErrBadHandshake) {
		t.Errorf("a socket from another site: %v", err)
	}
	tests := []struct {
		name  string
		kind  int
		bytes []byte
		code  string // "" when the socket just closes
	}{
		{"empty", websocket.BinaryMessage, nil, sync.CodeMalformed},
		{"an unknown type", websocket.BinaryMessage, []byte{99, 1, 2}, sync.CodeMalformed},
		{"a hello cut short", websocket.BinaryMessage, []byte{1, 1}, sync.CodeMalformed},
		{"a batch before hello", websocket.BinaryMessage, sync.Batch{Stream: "workshop", Log: sync.Up, Items: [][]byte{sync.Entry{Seq: 1, Kind: 1, V: 1}.Append(nil)}}.Append(nil), sync.CodeOrder},
		{"text", websocket.TextMessage, []byte("<html>please log in</html>"), sync.CodeMalformed},
		{"one byte over the limit", websocket.BinaryMessage, make([]byte, sync.MaxMessageBytes+1), ""},
	}
	for _, test := range tests {
		ws, err := dial(t, s, own)
		if err != nil {
			t.Fatal(err)
		}
		if err := ws.WriteMessage(test.kind, test.bytes); err != nil {
			t.Fatal(err)
		}
		code := ""
		for {
			_, b, err := ws.ReadMessage()
			if err != nil {
				break
			}
			if m, err := sync.ParseMessage(b); err == nil {
				if refuse, ok := m.(sync.Refuse); ok {
					code = refuse.Code
				}
			}
		}
		if code != test.code {
			t.Errorf("%s: refused with %q, want %q", test.name, code, test.code)
		}
	}
	a := newPhone(t, s)
	a.connect()
	a.write("workshop", kind, 1)
	a.untilAcked("workshop", 1)
}

func TestClosingSaysSo(t *testing.T) {
	s := start(t, Options{})
	a := newPhone(t, s)
	a.connect()
	a.write("workshop", kind, 1)
	a.untilAcked("workshop", 1)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if stop := a.untilStopped(sync.CodeClosing); stop.Fatal {
		t.Errorf("it would not come back: %+v", stop)
	}
}

// BenchmarkPush is 1,000 entries made offline, until every one is acknowledged and so on disk.
func BenchmarkPush(b *testing.B) {
	s := start(b, Options{})
	p := newPhone(b, s)
	p.connect()
	total := uint64(0)
	for b.Loop() {
		p.write("workshop", kind, 1000)
		total += 1000
		p.untilAcked("workshop", total)
	}
}

// BenchmarkLive is one entry from a phone over the disk to another phone.
func BenchmarkLive(b *testing.B) {
	s := start(b, Options{})
	from, to := newPhone(b, s), newPhone(b, s)
	from.connect()
	to.connect()
	total := 0
	for b.Loop() {
		from.write("workshop", kind, 1)
		total++
		to.untilHas("workshop", total)
	}
}
