package server

import (
	"bytes"
	"fmt"
	"net/http"
	"strings"
	gosync "sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"stillroom/calc/book"
	"stillroom/sync"
)

// testPhone is a phone over a real WebSocket: its memory stands for a disk and outlives its connections.
type testPhone struct {
	t  testing.TB
	s  *Server
	me phone
	id sync.DeviceID

	mu    gosync.Mutex
	logs  map[sync.Log]map[string]*memLog
	epoch sync.Epoch
	acked map[string]uint64
	stops []sync.Stop
	// deaf makes the phone lose everything that it is sent, as when an acknowledgement is lost.
	deaf bool

	ws   *websocket.Conn
	link *sync.Link
	gone chan struct{}
}

type memLog struct {
	items  [][]byte
	hashes []sync.Hash
}

func (l *memLog) add(item []byte) {
	l.items = append(l.items, item)
	l.hashes = append(l.hashes, l.hashes[len(l.hashes)-1].Next(item))
}

func newPhone(t testing.TB, s *Server) *testPhone {
	t.Helper()
	me := register(t, s)
	id, err := sync.ParseDeviceID(me.Device)
	if err != nil {
		t.Fatal(err)
	}
	p := &testPhone{t: t, s: s, me: me, id: id, acked: map[string]uint64{}, logs: map[sync.Log]map[string]*memLog{sync.Up: {}, sync.Down: {}}}
	t.Cleanup(p.cut)
	return p
}

func (p *testPhone) log(stream string, log sync.Log) *memLog {
	l := p.logs[log][stream]
	if l == nil {
		seed := sync.RunningSeed(stream)
		if log == sync.Up {
			seed = sync.ChainSeed(stream, p.id)
		}
		l = &memLog{hashes: []sync.Hash{seed}}
		p.logs[log][stream] = l
	}
	return l
}

func (p *testPhone) Head(stream string, log sync.Log) (uint64, sync.Hash) {
	l := p.log(stream, log)
	return uint64(len(l.items)), l.hashes[len(l.items)]
}

func (p *testPhone) HashAt(stream string, log sync.Log, seq uint64) (sync.Hash, bool) {
	l := p.log(stream, log)
	if seq >= uint64(len(l.hashes)) {
		return sync.Hash{}, false
	}
	return l.hashes[seq], true
}

func (p *testPhone) Read(stream string, log sync.Log, after uint64, maxItems, maxBytes int) [][]byte {
	var out [][]byte
	n := 0
	for _, item := range p.log(stream, log).items[after:] {
		if n += len(item); len(out) > 0 && (len(out) == maxItems || n > maxBytes) {
			break
		}
		out = append(out, item)
	}
	return out
}

// write keeps n more entries of a kind on the phone and offers them when there is a connection.
func (p *testPhone) write(stream string, kind uint32, n int) {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	l := p.log(stream, sync.Up)
	for range n {
		seq := uint64(len(l.items) + 1)
		body := fmt.Appendf(nil, "%s wrote %d", p.me.Letter, seq)
		l.add(sync.Entry{Seq: seq, At: noon.UnixMilli(), Kind: kind, V: 1, Body: body}.Append(nil))
	}
	if p.link != nil {
		p.do(p.link.Grew(stream, sync.Up))
	}
}

// connect opens a socket and greets.
func (p *testPhone) connect() {
	p.t.Helper()
	p.cut()
	ws, answer, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(p.s.URL(), "http")+"ws", http.Header{"Origin": {strings.TrimSuffix(p.s.URL(), "/")}})
	if err != nil {
		p.t.Fatalf("%v %+v", err, answer)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	cfg := sync.PhoneConfig{Device: p.id, Token: []byte(p.me.Token)}
	for _, stream := range streams {
		cfg.Streams = append(cfg.Streams, sync.Known{Name: stream, Epoch: p.epoch, Acked: p.acked[stream]})
	}
	p.ws, p.link, p.gone = ws, sync.Dial(cfg, p), make(chan struct{})
	p.do(p.link.Start(noon.UnixMilli()))
	go p.listen(p.ws, p.link, p.gone)
}

func (p *testPhone) listen(ws *websocket.Conn, link *sync.Link, gone chan struct{}) {
	defer close(gone)
	for {
		_, message, err := ws.ReadMessage()
		if err != nil {
			return
		}
		p.mu.Lock()
		if p.link == link && !p.deaf {
			p.do(link.Receive(noon.UnixMilli(), message))
		}
		p.mu.Unlock()
	}
}

// do carries out what the Link asks; the lock is held.
func (p *testPhone) do(actions []sync.Action) {
	for _, a := range actions {
		switch a := a.(type) {
		case sync.Send:
			p.ws.WriteMessage(websocket.BinaryMessage, a.Bytes)
		case sync.Persist:
			l := p.log(a.Stream, a.Log)
			if uint64(len(l.items)) != a.After {
				p.t.Errorf("phone %s was given %s after %d and holds %d", p.me.Letter, a.Stream, a.After, len(l.items))
				return
			}
			for _, item := range a.Items {
				l.add(item)
			}
			p.epoch = a.Epoch
			p.do(p.link.Stored(a.Stream, a.Log, a.After+uint64(len(a.Items))))
		case sync.Acked:
			p.acked[a.Stream] = max(p.acked[a.Stream], a.Seq)
		case sync.Stop:
			p.stops = append(p.stops, a)
			p.ws.Close()
		}
	}
}

// cut ends the connection without a word.
func (p *testPhone) cut() {
	p.mu.Lock()
	ws, gone := p.ws, p.gone
	p.ws, p.link = nil, nil
	p.mu.Unlock()
	if ws != nil {
		ws.Close()
		<-gone
	}
}

// until waits for something to become true of the phone.
func (p *testPhone) until(what string, is func() bool) {
	p.t.Helper()
	for deadline := time.Now().Add(20 * time.Second); ; time.Sleep(time.Millisecond) {
		p.mu.Lock()
		ok := is()
		p.mu.Unlock()
		if ok {
			return
		}
		if time.Now().After(deadline) {
			p.t.Fatalf("phone %s: never came to: %s (acked %v, %d and %d down, stops %v)", p.me.Letter, what, p.acked,
				len(p.log("workshop", sync.Down).items), len(p.log("shelf", sync.Down).items), p.stops)
		}
	}
}

func (p *testPhone) untilAcked(stream string, seq uint64) {
	p.t.Helper()
	p.until(fmt.Sprintf("%s acknowledged to %d", stream, seq), func() bool { return p.acked[stream] == seq })
}

func (p *testPhone) untilHas(stream string, seq int) {
	p.t.Helper()
	p.until(fmt.Sprintf("%s held to %d", stream, seq), func() bool { return len(p.log(stream, sync.Down).items) == seq })
}

func (p *testPhone) untilStopped(code string) sync.Stop {
	p.t.Helper()
	p.until("stopped with "+code, func() bool { return len(p.stops) > 0 })
	got := p.stops[len(p.stops)-1]
	if got.Code != code || got.Says == "" || got.Hint == "" {
		p.t.Errorf("stopped with %+v, want %s", got, code)
	}
	return got
}

// sameDown tells whether two phones hold the same bytes of a stream.
func sameDown(a, b *testPhone, stream string) bool {
	x, y := a.log(stream, sync.Down), b.log(stream, sync.Down)
	for i := range x.items {
		if i >= len(y.items) || !bytes.Equal(x.items[i], y.items[i]) {
			return false
		}
	}
	return len(x.items) == len(y.items)
}

const kind = book.KindBatchNoted
