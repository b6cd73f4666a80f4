// Package servertest is a phone for tests of the home store: the real protocol over a real WebSocket, with a memory that
// stands for a disk.
package servertest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	gosync "sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"stillroom/sync"
)

// noon is the phone's clock; it stands still.
var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// Streams are those that the phone holds.
var Streams = []string{"workshop", "shelf"}

// Identity is what the store answers to a new device.
type Identity struct{ Device, Token, Letter, Role string }

// Register makes a new device known to the store at url.
func Register(t testing.TB, url string) Identity {
	t.Helper()
	r, err := http.NewRequest("POST", url+"api/devices", strings.NewReader("{}"))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", strings.TrimSuffix(url, "/"))
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	var me Identity
	if err := json.NewDecoder(answer.Body).Decode(&me); err != nil || answer.StatusCode != http.StatusCreated {
		t.Fatalf("%s %v", answer.Status, err)
	}
	return me
}

// Phone is a phone over a real WebSocket: its memory stands for a disk and outlives its connections.
type Phone struct {
	t   testing.TB
	URL string
	Me  Identity
	ID  sync.DeviceID

	// Mu guards what follows.
	Mu    gosync.Mutex
	logs  map[sync.Log]map[string]*Log
	epoch map[string]sync.Epoch   // by stream, of the store that Down came from
	macs  map[string]sync.Persist // by stream, the newest of its marks
	life  sync.Epoch              // of the store that welcomed it last
	Swaps int                     // how often the end of a log was swapped
	Acked map[string]uint64
	Stops []sync.Stop
	// Deaf makes the phone lose everything that it is sent, as when an acknowledgement is lost.
	Deaf bool

	ws   *websocket.Conn
	link *sync.Link
	gone chan struct{}
}

// Log is one log in memory.
type Log struct {
	Items  [][]byte
	hashes []sync.Hash
}

func (l *Log) add(item []byte) {
	l.Items = append(l.Items, item)
	l.hashes = append(l.hashes, l.hashes[len(l.hashes)-1].Next(item))
}

// New registers a phone at a store; it is not connected yet.
func New(t testing.TB, url string) *Phone {
	t.Helper()
	return As(t, url, Register(t, url))
}

// As is a phone with an identity that is known already and nothing in its memory: a copy, or one of another role.
func As(t testing.TB, url string, me Identity) *Phone {
	t.Helper()
	id, err := sync.ParseDeviceID(me.Device)
	if err != nil {
		t.Fatal(err)
	}
	p := &Phone{t: t, URL: url, Me: me, ID: id, Acked: map[string]uint64{}, logs: map[sync.Log]map[string]*Log{sync.Up: {}, sync.Down: {}},
		epoch: map[string]sync.Epoch{}, macs: map[string]sync.Persist{}}
	t.Cleanup(p.Cut)
	return p
}

// Log is one of the phone's logs; Mu is held.
func (p *Phone) Log(stream string, log sync.Log) *Log {
	l := p.logs[log][stream]
	if l == nil {
		seed := sync.RunningSeed(stream)
		if log == sync.Up {
			seed = sync.ChainSeed(stream, p.ID)
		}
		l = &Log{hashes: []sync.Hash{seed}}
		p.logs[log][stream] = l
	}
	return l
}

// Head is sync.Source's; Mu is held.
func (p *Phone) Head(stream string, log sync.Log) (uint64, sync.Hash) {
	l := p.Log(stream, log)
	return uint64(len(l.Items)), l.hashes[len(l.Items)]
}

// HashAt is sync.Source's; Mu is held.
func (p *Phone) HashAt(stream string, log sync.Log, seq uint64) (sync.Hash, bool) {
	l := p.Log(stream, log)
	if seq >= uint64(len(l.hashes)) {
		return sync.Hash{}, false
	}
	return l.hashes[seq], true
}

// Read is sync.Source's; Mu is held.
func (p *Phone) Read(stream string, log sync.Log, after uint64, maxItems, maxBytes int) [][]byte {
	var out [][]byte
	n := 0
	for _, item := range p.Log(stream, log).Items[after:] {
		if n += len(item); len(out) > 0 && (len(out) == maxItems || n > maxBytes) {
			break
		}
		out = append(out, item)
	}
	return out
}

// Write keeps n more entries of a kind on the phone and offers them when there is a connection.
func (p *Phone) Write(stream string, kind uint32, n int) {
	p.t.Helper()
	for range n {
		p.keep(stream, kind, 1, func(seq uint64) []byte { return fmt.Appendf(nil, "%s wrote %d", p.Me.Letter, seq) })
	}
	p.offer(stream)
}

// WriteBody keeps one entry of a kind and version with a body, and offers it when there is a connection.
func (p *Phone) WriteBody(stream string, kind, v uint32, body []byte) {
	p.t.Helper()
	p.keep(stream, kind, v, func(uint64) []byte { return body })
	p.offer(stream)
}

func (p *Phone) keep(stream string, kind, v uint32, body func(seq uint64) []byte) {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	l := p.Log(stream, sync.Up)
	seq := uint64(len(l.Items) + 1)
	l.add(sync.Entry{Seq: seq, At: noon.UnixMilli(), Kind: kind, V: v, Body: body(seq)}.Append(nil))
}

func (p *Phone) offer(stream string) {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	if p.link != nil {
		p.do(p.link.Grew(stream, sync.Up))
	}
}

// Connect opens a socket and greets.
func (p *Phone) Connect() {
	p.t.Helper()
	p.Cut()
	ws, answer, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(p.URL, "http")+"ws", http.Header{"Origin": {strings.TrimSuffix(p.URL, "/")}})
	if err != nil {
		p.t.Fatalf("%v %+v", err, answer)
	}
	p.Mu.Lock()
	defer p.Mu.Unlock()
	cfg := sync.PhoneConfig{Device: p.ID, Token: []byte(p.Me.Token)}
	for _, stream := range Streams {
		cfg.Streams = append(cfg.Streams, p.known(stream))
	}
	p.ws, p.link, p.gone = ws, sync.Dial(cfg, p), make(chan struct{})
	p.do(p.link.Start(noon.UnixMilli()))
	go p.listen(p.ws, p.link, p.gone)
}

// known is what the phone says of a stream besides its logs; the lock is held.
func (p *Phone) known(stream string) sync.Known {
	k := sync.Known{Name: stream, Epoch: p.epoch[stream], Acked: p.Acked[stream]}
	l, m := p.Log(stream, sync.Down), p.macs[stream]
	if m.After+uint64(len(m.Items)) == uint64(len(l.Items)) {
		k.MAC = m.MAC
	}
	for n := sync.StepEvery; n <= len(l.Items); n += sync.StepEvery {
		k.Steps = append(k.Steps, sync.Head{Seq: uint64(n), Hash: l.hashes[n]})
	}
	return k
}

// Heal connects, and again after every swap, until the phone's logs are the store's.
func (p *Phone) Heal() {
	p.t.Helper()
	for range 2*len(Streams) + 1 {
		p.Mu.Lock()
		before := p.Swaps
		p.life = sync.Epoch{}
		p.Mu.Unlock()
		p.Connect()
		whole := false
		p.Until("healed", func() bool {
			whole = p.life != sync.Epoch{} && p.Swaps == before // after a swap it begins anew
			for _, e := range p.epoch {
				whole = whole && e == p.life
			}
			return p.Swaps > before || whole || len(p.Stops) > 0
		})
		if whole || len(p.Stops) > 0 {
			return
		}
	}
	p.t.Fatalf("phone %s: never whole", p.Me.Letter)
}

func (p *Phone) listen(ws *websocket.Conn, link *sync.Link, gone chan struct{}) {
	defer close(gone)
	for {
		_, message, err := ws.ReadMessage()
		if err != nil {
			return
		}
		p.Mu.Lock()
		if p.link == link && !p.Deaf {
			p.do(link.Receive(noon.UnixMilli(), message))
		}
		p.Mu.Unlock()
	}
}

// do carries out what the Link asks; the lock is held.
func (p *Phone) do(actions []sync.Action) {
	for _, a := range actions {
		switch a := a.(type) {
		case sync.Send:
			p.ws.WriteMessage(websocket.BinaryMessage, a.Bytes)
		case sync.Persist:
			l := p.Log(a.Stream, a.Log)
			if uint64(len(l.Items)) != a.After {
				p.t.Errorf("phone %s was given %s after %d and holds %d", p.Me.Letter, a.Stream, a.After, len(l.Items))
				return
			}
			for _, item := range a.Items {
				l.add(item)
			}
			p.epoch[a.Stream], p.macs[a.Stream] = a.Epoch, a
			p.do(p.link.Stored(a.Stream, a.Log, a.After+uint64(len(a.Items))))
		case sync.Acked:
			p.Acked[a.Stream], p.epoch[a.Stream] = max(p.Acked[a.Stream], a.Seq), a.Epoch
		case sync.Welcomed:
			for _, s := range a.Streams {
				p.life = s.Epoch
			}
		case sync.Fetch:
			p.do(p.link.Fetched(a.Stream, a.After, p.Log(a.Stream, sync.Down).Items[a.After:a.Through]))
		case sync.Swap:
			l := p.Log(a.Stream, sync.Down)
			l.Items, l.hashes = l.Items[:a.Keep:a.Keep], l.hashes[:a.Keep+1:a.Keep+1]
			for _, item := range a.Items {
				l.add(item)
			}
			p.epoch[a.Stream], p.Acked[a.Stream] = a.Epoch, a.Acked
			p.macs[a.Stream] = sync.Persist{After: a.Keep, Items: a.Items, MAC: a.MAC}
			p.Swaps++
		case sync.Stop:
			if a.Code != sync.CodeHealed {
				p.Stops = append(p.Stops, a)
			}
			p.ws.Close()
		}
	}
}

// Cut ends the connection without a word.
func (p *Phone) Cut() {
	p.Mu.Lock()
	ws, gone := p.ws, p.gone
	p.ws, p.link = nil, nil
	p.Mu.Unlock()
	if ws != nil {
		ws.Close()
		<-gone
	}
}

// Gone tells whether the connection was lost.
func (p *Phone) Gone() bool {
	p.Mu.Lock()
	gone := p.gone
	p.Mu.Unlock()
	select {
	case <-gone:
		return true
	default:
		return false
	}
}

// Own is how many entries the phone wrote in a stream.
func (p *Phone) Own(stream string) int {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	return len(p.Log(stream, sync.Up).Items)
}

// Holds is how many entries of a device the store has passed to this phone. Mu is held.
func (p *Phone) Holds(stream string, device sync.DeviceID) int {
	n := 0
	for _, item := range p.Log(stream, sync.Down).Items {
		if v, err := sync.ParseEnvelope(item); err == nil && v.Device == device {
			n++
		}
	}
	return n
}

// Pending is how many of them were not acknowledged.
func (p *Phone) Pending(stream string) int {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	return len(p.Log(stream, sync.Up).Items) - int(p.Acked[stream])
}

// Until waits for something to become true of the phone.
func (p *Phone) Until(what string, is func() bool) {
	p.t.Helper()
	for deadline := time.Now().Add(20 * time.Second); ; time.Sleep(time.Millisecond) {
		p.Mu.Lock()
		ok := is()
		p.Mu.Unlock()
		if ok {
			return
		}
		if time.Now().After(deadline) {
			p.t.Fatalf("phone %s: never came to: %s (acked %v, %d and %d down, stops %v)", p.Me.Letter, what, p.Acked,
				len(p.Log("workshop", sync.Down).Items), len(p.Log("shelf", sync.Down).Items), p.Stops)
		}
	}
}

// UntilAcked waits until the store has the phone's own entries up to seq on its disk.
func (p *Phone) UntilAcked(stream string, seq uint64) {
	p.t.Helper()
	p.Until(fmt.Sprintf("%s acknowledged to %d", stream, seq), func() bool { return p.Acked[stream] == seq })
}

// UntilHas waits until the phone holds the store's log up to seq.
func (p *Phone) UntilHas(stream string, seq int) {
	p.t.Helper()
	p.Until(fmt.Sprintf("%s held to %d", stream, seq), func() bool { return len(p.Log(stream, sync.Down).Items) == seq })
}

// UntilStopped waits until the connection was ended for a reason, which must be code.
func (p *Phone) UntilStopped(code string) sync.Stop {
	p.t.Helper()
	p.Until("stopped with "+code, func() bool { return len(p.Stops) > 0 })
	got := p.Stops[len(p.Stops)-1]
	if got.Code != code || got.Says == "" || got.Hint == "" {
		p.t.Errorf("stopped with %+v, want %s", got, code)
	}
	return got
}

// SameDown tells whether two phones hold the same bytes of a stream.
func SameDown(a, b *Phone, stream string) bool {
	x, y := a.Log(stream, sync.Down), b.Log(stream, sync.Down)
	for i := range x.Items {
		if i >= len(y.Items) || !bytes.Equal(x.Items[i], y.Items[i]) {
			return false
		}
	}
	return len(x.Items) == len(y.Items)
}
