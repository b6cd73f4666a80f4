package server

import (
	"errors"
	"net/http"
	"strings"
	gosync "sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"stillroom/calc/book"
	"stillroom/server/servertest"
	"stillroom/server/store"
	"stillroom/sync"
)

const kind = book.KindBatchNoted

func TestTwoPhonesConverge(t *testing.T) {
	s := start(t, Options{})
	a, b := servertest.New(t, s.URL()), servertest.New(t, s.URL())
	a.Write("workshop", kind, 1200) // before it ever met the store
	a.Connect()
	b.Connect()
	b.Write("workshop", kind, 30)
	a.Write("shelf", book.KindPlaceNamed, 5)
	a.UntilAcked("workshop", 1200)
	b.UntilAcked("workshop", 30)
	for _, p := range []*servertest.Phone{a, b} {
		p.UntilHas("workshop", 1230)
		p.UntilHas("shelf", 5)
	}
	if !servertest.SameDown(a, b, "workshop") || !servertest.SameDown(a, b, "shelf") {
		t.Errorf("the phones hold different bytes")
	}
	b.Cut()
	a.Write("workshop", kind, 10)
	b.Write("workshop", kind, 10)
	a.UntilAcked("workshop", 1210)
	b.Connect()
	b.UntilAcked("workshop", 40)
	a.UntilHas("workshop", 1250)
	b.UntilHas("workshop", 1250)
	if !servertest.SameDown(a, b, "workshop") {
		t.Errorf("after a day apart the phones hold different bytes")
	}
}

// F2: the entries were on disk and the acknowledgement was lost; the phone sends them again and nothing is there twice.
func TestLostAcknowledgementIsHarmless(t *testing.T) {
	s := start(t, Options{})
	a := servertest.New(t, s.URL())
	a.Connect()
	a.Write("workshop", kind, 1)
	a.UntilAcked("workshop", 1)
	a.Mu.Lock()
	a.Deaf = true
	a.Mu.Unlock()
	a.Write("workshop", kind, 25)
	for s.folder.Store.DeviceHead("workshop", a.ID).Seq < 26 {
		time.Sleep(time.Millisecond)
	}
	a.Cut()
	a.Mu.Lock()
	a.Deaf = false
	if a.Acked["workshop"] != 1 {
		t.Fatalf("the acknowledgement was not lost")
	}
	a.Mu.Unlock()
	a.Connect()
	a.UntilAcked("workshop", 26)
	a.UntilHas("workshop", 26)
	if got := s.folder.Store.Head("workshop").Seq; got != 26 {
		t.Errorf("%d entries in the book", got)
	}
}

// F6: two connections as one device, as two tabs would be; both offer the same entries.
func TestOneDeviceTwice(t *testing.T) {
	s := start(t, Options{})
	a := servertest.New(t, s.URL())
	a.Write("workshop", kind, 40)
	twin := servertest.As(t, s.URL(), a.Me)
	twin.Write("workshop", kind, 40)
	a.Connect()
	twin.Connect()
	a.UntilHas("workshop", 40)
	twin.UntilHas("workshop", 40)
	if got := s.folder.Store.Head("workshop").Seq; got != 40 {
		t.Errorf("%d entries in the book", got)
	}
}

// F7: one phone does not read while another bursts 10,000 entries; the burst is not slowed, and the slow one resumes.
func TestSlowReaderDoesNotHoldUpOthers(t *testing.T) {
	s := start(t, Options{})
	slow, fast := servertest.New(t, s.URL()), servertest.New(t, s.URL())
	slow.Connect()
	slow.UntilAcked("workshop", 0)
	// It holds its own lock and so reads nothing more.
	slow.Mu.Lock()
	fast.Connect()
	for range 20 {
		fast.Write("workshop", kind, 500)
	}
	fast.UntilAcked("workshop", 10_000)
	fast.UntilHas("workshop", 10_000)
	slow.Mu.Unlock()
	slow.Cut()
	slow.Connect()
	slow.UntilHas("workshop", 10_000)
	if !servertest.SameDown(slow, fast, "workshop") {
		t.Errorf("the phones hold different bytes")
	}
}

// F33: 300 devices come back at once, each with something of its own, as after a power cut. All of it is taken and each
// gets all.
func TestManyDevicesReconnectAtOnce(t *testing.T) {
	const devices = 300
	s := start(t, Options{})
	phones := make([]*servertest.Phone, devices)
	for i := range phones {
		phones[i] = servertest.New(t, s.URL())
		phones[i].Write("workshop", kind, 1)
	}
	var all gosync.WaitGroup
	for _, p := range phones {
		all.Go(p.Connect)
	}
	all.Wait()
	for _, p := range phones {
		p.UntilHas("workshop", devices)
		if !servertest.SameDown(phones[0], p, "workshop") {
			t.Fatal("two phones hold different bytes")
		}
	}
	if got := s.folder.Store.Head("workshop").Seq; got != devices {
		t.Errorf("%d entries in the book, want %d", got, devices)
	}
}

// F23: the store ends between the disk and the other phones. What is on disk reaches them after it runs again.
func TestPublishedAfterTheStoreCameBack(t *testing.T) {
	dir := t.TempDir()
	s := start(t, Options{Dir: dir})
	a, b := servertest.New(t, s.URL()), servertest.New(t, s.URL())
	b.Connect()
	b.UntilHas("workshop", 0)
	// Straight to the store: the crash is after its append and before any socket heard of it.
	entries := [][]byte{sync.Entry{Seq: 1, At: 1, Kind: kind, V: 1, Body: []byte("noted")}.Append(nil)}
	b.Cut()
	if _, err := s.folder.Store.Append(t.Context(), "workshop", a.ID, 0, entries, store.Meta{At: 1}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = start(t, Options{Dir: dir})
	b.URL = s.URL()
	b.Connect()
	b.UntilHas("workshop", 1)
}

// F13: a copied phone writes other things under the same numbers.
func TestForkedDeviceIsStoppedAndBothAreKept(t *testing.T) {
	s := start(t, Options{})
	a := servertest.New(t, s.URL())
	clone := servertest.As(t, s.URL(), a.Me)
	a.Connect()
	a.Write("workshop", kind, 3)
	a.UntilAcked("workshop", 3)
	clone.Write("workshop", book.KindBatchWeighed, 4)
	clone.Connect()
	clone.UntilStopped(sync.CodeFork)
	if got := len(clone.Log("workshop", sync.Up).Items); got != 4 {
		t.Errorf("the clone keeps %d entries", got)
	}
	if got := s.folder.Store.Head("workshop").Seq; got != 3 {
		t.Errorf("%d entries in the book", got)
	}
}

// F28, short: a device is taken off the list while it pushes.
func TestRevokedInMidPush(t *testing.T) {
	s := start(t, Options{})
	a := servertest.New(t, s.URL())
	a.Connect()
	a.Write("workshop", kind, 10)
	a.UntilAcked("workshop", 10)
	if err := s.Revoke(a.ID); err != nil {
		t.Fatal(err)
	}
	stop := a.UntilStopped(sync.CodeRevoked)
	if !stop.Fatal {
		t.Errorf("it would try again for ever: %+v", stop)
	}
	a.Write("workshop", kind, 10)
	a.Stops = nil
	a.Connect()
	a.UntilStopped(sync.CodeRevoked)
	if got := s.folder.Store.Head("workshop").Seq; got != 10 {
		t.Errorf("%d entries in the book", got)
	}
	if answer, _ := get(t, s, "/api/labels?batch=X", "Authorization", "Bearer "+a.Me.Token); answer.StatusCode != http.StatusUnauthorized {
		t.Errorf("labels for a revoked device: %d", answer.StatusCode)
	}
}

func TestStallGetsTheShelfAloneAndIsHeld(t *testing.T) {
	s := start(t, Options{})
	owner := servertest.New(t, s.URL())
	d, token, err := s.folder.Devices.Add(book.Stall)
	if err != nil {
		t.Fatal(err)
	}
	stall := servertest.As(t, s.URL(), servertest.Identity{Device: d.Name, Token: token, Letter: d.Letter})
	owner.Connect()
	owner.Write("workshop", kind, 5)
	owner.Write("shelf", book.KindPlaceNamed, 2)
	owner.UntilAcked("workshop", 5)
	owner.UntilAcked("shelf", 2)
	stall.Connect()
	stall.Write("shelf", book.KindCardPublished, 1) // not a stall's to write: kept and held
	stall.UntilAcked("shelf", 1)
	stall.UntilHas("shelf", 3)
	stall.Mu.Lock()
	defer stall.Mu.Unlock()
	if n := len(stall.Log("workshop", sync.Down).Items); n != 0 {
		t.Errorf("a stall was sent %d entries of the workshop", n)
	}
	for i, held := range []bool{false, false, true} {
		if v, err := sync.ParseEnvelope(stall.Log("shelf", sync.Down).Items[i]); err != nil || v.Held != held {
			t.Errorf("envelope %d: held %v, want %v (%v)", i+1, v.Held, held, err)
		}
	}
}

func TestWrongTokenIsRefused(t *testing.T) {
	s := start(t, Options{})
	a, b := servertest.New(t, s.URL()), servertest.New(t, s.URL())
	a.Me.Token = "wrong"
	a.Connect()
	a.UntilStopped(sync.CodeToken)
	// F29: b's own token, but a's name.
	b.ID = a.ID
	b.Write("workshop", kind, 1)
	b.Connect()
	b.UntilStopped(sync.CodeToken)
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
	a := servertest.New(t, s.URL())
	a.Connect()
	a.Write("workshop", kind, 1)
	a.UntilAcked("workshop", 1)
}

func TestClosingSaysSo(t *testing.T) {
	s := start(t, Options{})
	a := servertest.New(t, s.URL())
	a.Connect()
	a.Write("workshop", kind, 1)
	a.UntilAcked("workshop", 1)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if stop := a.UntilStopped(sync.CodeClosing); stop.Fatal {
		t.Errorf("it would not come back: %+v", stop)
	}
}

// BenchmarkPush is 1,000 entries made offline, until every one is acknowledged and so on disk.
func BenchmarkPush(b *testing.B) {
	s := start(b, Options{})
	p := servertest.New(b, s.URL())
	p.Connect()
	total := uint64(0)
	for b.Loop() {
		p.Write("workshop", kind, 1000)
		total += 1000
		p.UntilAcked("workshop", total)
	}
}

// BenchmarkLive is one entry from a phone over the disk to another phone.
func BenchmarkLive(b *testing.B) {
	s := start(b, Options{})
	from, to := servertest.New(b, s.URL()), servertest.New(b, s.URL())
	from.Connect()
	to.Connect()
	total := 0
	for b.Loop() {
		from.Write("workshop", kind, 1)
		total++
		to.UntilHas("workshop", total)
	}
}
