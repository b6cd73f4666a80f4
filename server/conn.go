package server

import (
	"context"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/sync"
)

const (
	// queue bounds what waits for one socket or one disk. A Link never has more than its window under way, so a full
	// queue is a reader that does not keep up, or a sender that ignores the protocol.
	queue = 64
	// writeWithin is how long one message may take to leave; a socket that takes longer is dropped and resumes.
	writeWithin = 10 * time.Second
	// lastWords is how long a connection that is over may take to say why.
	lastWords = time.Second
)

// conn is one device's connection. Its Link is touched by the goroutine of run alone; one goroutine writes to the
// socket, one reads from it, one writes to the book.
type conn struct {
	s      *Server
	ws     *websocket.Conn
	link   *sync.Link
	src    *source
	device atomic.Pointer[sync.DeviceID]
	role   string
	offset int64

	in      chan inbound
	out     chan []byte
	persist chan sync.Persist
	back    chan sync.Heal
	stored  chan written
	healed  chan tookBack
	grew    chan string
	leaving chan reason
	ended   chan struct{}
	stops   []func()
}

type inbound struct {
	bytes  []byte
	binary bool
}

// written is how an Append ended.
type written struct {
	sync.Persist
	err error
}

// tookBack is how the taking back of a log's end ended.
type tookBack struct {
	sync.Heal
	keep uint64
	err  error
}

func newConn(s *Server, ws *websocket.Conn) *conn {
	src := &source{store: s.folder.Store}
	cfg := sync.StoreConfig{Name: "Stillroom", Epoch: s.folder.Store.Epoch(), Key: s.folder.Store.Key(), Schema: book.Schema()}
	return &conn{s: s, ws: ws, src: src, link: sync.Accept(cfg, src),
		in: make(chan inbound), out: make(chan []byte, queue), persist: make(chan sync.Persist, queue), stored: make(chan written, queue),
		back: make(chan sync.Heal, sync.MaxStreams), healed: make(chan tookBack, sync.MaxStreams),
		grew: make(chan string), leaving: make(chan reason, 1), ended: make(chan struct{})}
}

// is tells whether the connection authenticated as a device.
func (c *conn) is(d sync.DeviceID) bool {
	own := c.device.Load()
	return own != nil && *own == d
}

// leave asks the connection to say why and end. It never waits.
func (c *conn) leave(why reason) {
	select {
	case c.leaving <- why:
	default: // it is leaving already
	}
}

// run carries the connection to its end.
func (c *conn) run() {
	writerDone, persisterDone := make(chan struct{}), make(chan struct{})
	go func() { defer close(writerDone); c.write() }()
	go func() { defer close(persisterDone); c.keep() }()
	go c.read()
	c.loop()
	// What was said before the end is still sent, so that the phone learns why; but not to one that does not read.
	hurry := time.AfterFunc(lastWords, func() { c.ws.Close() })
	close(c.out)
	<-writerDone
	hurry.Stop()
	c.ws.Close()
	close(c.ended)
	close(c.persist)
	<-persisterDone
	for _, stop := range c.stops {
		stop()
	}
}

func (c *conn) now() int64 { return c.s.o.Now().UnixMilli() }

// loop feeds the Link with what happens and does what it asks. It waits for nothing but events.
func (c *conn) loop() {
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	if !c.perform(c.link.Start(c.now())) {
		return
	}
	for {
		var actions []sync.Action
		select {
		case m, ok := <-c.in:
			switch {
			case !ok:
				return
			case !m.binary:
				actions = c.link.Fail(sync.CodeMalformed, "A message came as text; this socket speaks in bytes.", "Bring both sides to the same version.")
			default:
				actions = c.link.Receive(c.now(), m.bytes)
			}
		case stream := <-c.grew:
			actions = c.link.Grew(stream, sync.Down)
		case w := <-c.stored:
			if w.err != nil {
				c.s.o.Log.Error("entries were not kept", "stream", w.Stream, "after", w.After, "error", w.err)
				actions = c.fail(reasonFor(w.err))
			} else {
				actions = c.link.Stored(w.Stream, w.Log, w.After+uint64(len(w.Items)))
			}
		case h := <-c.healed:
			if h.err != nil {
				c.s.o.Log.Error("the end of the log was not taken back", "stream", h.Stream, "device", c.name(), "error", h.err)
				actions = c.fail(reasonFor(h.err))
			} else {
				actions = c.link.Healed(h.Stream, h.keep)
			}
		case <-tick.C:
			actions = c.link.Tick(c.now())
		case why := <-c.leaving:
			actions = c.fail(why)
		}
		if !c.perform(actions) {
			return
		}
	}
}

func (c *conn) fail(why reason) []sync.Action { return c.link.Fail(why.code, why.says, why.hint) }

// perform does what the Link asks; false when the connection is over.
func (c *conn) perform(actions []sync.Action) bool {
	for _, a := range actions {
		switch a := a.(type) {
		case sync.Send:
			select {
			case c.out <- a.Bytes:
			default:
				c.s.o.Log.Warn("a reader does not keep up and was dropped", "device", c.name())
				c.ws.Close()
				return false
			}
		case sync.Authenticate:
			if !c.perform(c.authenticate(a)) {
				return false
			}
		case sync.Persist:
			select {
			case c.persist <- a:
			default:
				c.s.o.Log.Warn("a sender does not wait for acknowledgements and was dropped", "device", c.name())
				return false
			}
		case sync.Heal:
			c.back <- a // a line asks for it once
		case sync.Stop:
			c.s.o.Log.Info("a connection ended", "device", c.name(), "code", a.Code, "says", a.Says)
			return false
		}
		if c.unread() {
			return false
		}
	}
	// A read that failed gives the Link nothing to send, so it may be told by no action at all.
	return !c.unread()
}

// unread ends the connection when the book could not be read for it.
func (c *conn) unread() bool {
	if c.src.failed == nil {
		return false
	}
	c.s.o.Log.Error("the book cannot be read", "error", c.src.failed)
	why := reasonFor(c.src.failed)
	c.src.failed = nil
	c.perform(c.fail(why))
	return true
}

func (c *conn) name() string {
	if d := c.device.Load(); d != nil {
		return d.String()
	}
	return "not known yet"
}

// authenticate answers for the device by its token: the device is who the connection authenticated as, never what a
// payload says.
func (c *conn) authenticate(a sync.Authenticate) []sync.Action {
	d, ok := c.s.folder.Devices.ByToken(string(a.Token))
	if !ok || d.ID != a.Device {
		return c.link.Rejected(unknownToken.code, unknownToken.says, unknownToken.hint)
	}
	c.device.Store(&d.ID)
	// Asked again once hub.drop can find this connection, so that a revocation in between is not missed.
	if !c.s.folder.Devices.Listed(d.ID) {
		return c.link.Rejected(revoked.code, revoked.says, revoked.hint)
	}
	if found := c.s.folder.Store.Damage(); found != nil {
		why := damageReason(found)
		return c.link.Rejected(why.code, why.says, why.hint)
	}
	c.src.device, c.role, c.offset = d.ID, d.Role, a.Offset
	reads := book.Reads(d.Role)
	for _, stream := range reads {
		c.watch(stream)
	}
	return c.link.Authenticated(d.Role, d.Letter, reads)
}

// watch passes on that a stream grew on disk.
func (c *conn) watch(stream string) {
	grew, stop := c.s.folder.Store.Watch(stream)
	c.stops = append(c.stops, stop)
	go func() {
		for {
			select {
			case <-grew:
				select {
				case c.grew <- stream:
				case <-c.ended:
					return
				}
			case <-c.ended:
				return
			}
		}
	}()
}

// keep writes to the book in the order in which the device sent. What still waits when the connection ends was not
// acknowledged, so the device sends it again.
func (c *conn) keep() {
	for {
		var p sync.Persist
		var ok bool
		select {
		case p, ok = <-c.persist:
			if !ok {
				return
			}
		case h := <-c.back:
			c.takeBack(h)
			continue
		}
		select {
		case <-c.ended:
			continue
		default:
		}
		if !c.s.folder.Devices.Listed(c.src.device) {
			c.leave(revoked)
			continue
		}
		meta := store.Meta{At: c.now(), Offset: c.offset, Last: p.Hash, Epoch: p.Epoch,
			Held: func(e sync.Entry) bool { return !book.MayWrite(c.role, e.Kind) }}
		_, err := c.s.folder.Store.Append(context.Background(), p.Stream, c.src.device, p.After, p.Items, meta)
		c.stored <- written{p, err} // never full: no more are out than persist holds
	}
}

// takeBack takes in the end of the log that a phone handed back and proved.
func (c *conn) takeBack(h sync.Heal) {
	if !c.s.folder.Devices.Listed(c.src.device) {
		c.leave(revoked)
		return
	}
	keep, added, err := store.TakeBack(context.Background(), c.s.folder.Store, h.Stream, h.After, h.Items, h.Repair)
	c.s.o.Log.Warn("the end of the log came back from a device", "stream", h.Stream, "device", c.name(), "entries", added, "damage", h.Repair)
	c.healed <- tookBack{h, keep, err}
}

// write is the one that writes to the socket.
func (c *conn) write() {
	for message := range c.out {
		if c.ws.SetWriteDeadline(time.Now().Add(writeWithin)) != nil || c.ws.WriteMessage(websocket.BinaryMessage, message) != nil {
			// Reading fails with the socket, and so the loop ends; what still comes is let go.
			c.ws.Close()
			for range c.out {
			}
			return
		}
	}
	c.ws.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(websocket.CloseNormalClosure, ""), time.Now().Add(time.Second))
}

// read hands messages to the loop, one at a time: a phone that sends faster waits on its own socket.
func (c *conn) read() {
	defer close(c.in)
	for {
		kind, bytes, err := c.ws.ReadMessage()
		if err != nil {
			return
		}
		select {
		case c.in <- inbound{bytes, kind == websocket.BinaryMessage}:
		case <-c.ended:
			return
		}
	}
}
