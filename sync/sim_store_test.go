package sync

import (
	"bytes"
	"fmt"
)

// simLog is one stream at the store. What is beyond durable is in the page cache: a crash may lose it.
type simLog struct {
	envelopes [][]byte
	running   []Hash // running[i] is the hash after number i
	owner     []DeviceID
	chains    map[DeviceID][]Hash
	entries   map[DeviceID][][]byte
	durable   int
	synced    map[DeviceID]int // of chains, as of the last sync
}

// simStore is a store's host: a log with a sync that takes time, and a Link for each connection.
type simStore struct {
	w     *simWorld
	epoch Epoch
	key   []byte
	logs  map[string]*simLog
	names []string
	conns []*simConn
	up    bool
	life  int // events of a former life are void
}

func newSimStore(w *simWorld, names []string) *simStore {
	s := &simStore{w: w, epoch: Epoch{1, 2, 3}, key: []byte("key"), logs: map[string]*simLog{}, names: names, up: true}
	for _, n := range names {
		s.logs[n] = &simLog{running: []Hash{RunningSeed(n)}, chains: map[DeviceID][]Hash{}, entries: map[DeviceID][][]byte{}, synced: map[DeviceID]int{}}
	}
	return s
}

func (g *simLog) chain(name string, d DeviceID) []Hash {
	if g.chains[d] == nil {
		g.chains[d] = []Hash{ChainSeed(name, d)}
	}
	return g.chains[d]
}

// append is the store's contract: atomic, idempotent, or it says what is wrong.
func (s *simStore) append(name string, d DeviceID, after uint64, items [][]byte, offset int64) error {
	g := s.logs[name]
	for i, item := range items {
		chain := g.chain(name, d)
		seq := after + uint64(i) + 1
		if have := uint64(len(chain) - 1); s.w.broken != blindStore {
			if seq > have+1 {
				return fmt.Errorf("gap: %d after %d", seq, have)
			}
			if seq <= have {
				if !bytes.Equal(g.entries[d][seq-1], item) {
					return fmt.Errorf("fork at %d", seq)
				}
				s.w.seen["an entry that the store had already"]++
				continue
			}
		}
		n := uint64(len(g.envelopes) + 1)
		v := Envelope{Seq: n, Device: d, Held: n%7 == 0, At: s.w.now, Offset: offset, Entry: item}.Append(nil)
		g.envelopes = append(g.envelopes, v)
		g.running = append(g.running, g.running[n-1].Next(v))
		g.owner = append(g.owner, d)
		g.entries[d] = append(g.entries[d], item)
		g.chains[d] = append(chain, chain[len(chain)-1].Next(item))
	}
	return nil
}

func (g *simLog) sync() {
	g.durable = len(g.envelopes)
	for d := range g.entries {
		g.synced[d] = len(g.entries[d])
	}
}

// crash loses what was not synced (F17) and every connection.
func (s *simStore) crash() {
	if !s.up {
		return
	}
	s.up = false
	s.life++
	s.w.seen["a crash of the store"]++
	for _, g := range s.logs {
		if g.durable < len(g.envelopes) {
			s.w.seen["an unsynced tail lost"]++
		}
		g.envelopes, g.running, g.owner = g.envelopes[:g.durable], g.running[:g.durable+1], g.owner[:g.durable]
		for d := range g.entries {
			g.entries[d], g.chains[d] = g.entries[d][:g.synced[d]], g.chains[d][:g.synced[d]+1]
		}
	}
	for _, p := range s.w.phones {
		for stream, acked := range p.acked {
			if have := s.logs[stream].synced[p.device]; have < int(acked) {
				s.w.fail("after a crash the store has %d of %s's entries in %s and had acknowledged %d", have, p.device, stream, acked)
			}
		}
	}
	for _, c := range append([]*simConn(nil), s.conns...) {
		s.w.drop(c)
	}
	s.w.in(s.w.within(2000), func() { s.up = true })
}

func (s *simStore) hangUp(c *simConn) {
	for i, o := range s.conns {
		if o == c {
			s.conns = append(s.conns[:i:i], s.conns[i+1:]...)
		}
	}
}

func (s *simStore) accept(c *simConn) {
	c.link = Accept(StoreConfig{Name: "Book", Epoch: s.epoch, Key: s.key}, simSource{s, c})
	s.conns = append(s.conns, c)
	s.do(c, c.link.Start(s.w.now))
}

func (s *simStore) receive(c *simConn, msg []byte) {
	if s.w.broken == blindStore {
		if m, err := ParseMessage(msg); err == nil {
			if b, ok := m.(Batch); ok && c.link.Open() {
				s.persist(c, Persist{Stream: b.Stream, Log: Up, After: b.Prev, Items: b.Items}, b.Prev+uint64(len(b.Items)))
				return
			}
		}
	}
	s.do(c, c.link.Receive(s.w.now, msg))
}

func (s *simStore) tick() {
	for _, c := range append([]*simConn(nil), s.conns...) {
		s.do(c, c.link.Tick(s.w.now))
	}
}

func (s *simStore) do(c *simConn, todo []Action) {
	for _, a := range todo {
		switch a := a.(type) {
		case Send:
			s.w.carry(c, a.Bytes, false)
		case Authenticate:
			if c.phone.device != a.Device || string(a.Token) != "token of "+a.Device.String() {
				s.do(c, c.link.Rejected(CodeToken, "no", "no"))
				continue
			}
			c.device = a.Device
			s.do(c, c.link.Authenticated("maker", "A", s.names))
		case Persist:
			s.persist(c, a, a.After+uint64(len(a.Items)))
		case Stop:
			if a.Fatal {
				s.w.fail("the store stopped %s: %s: %s", c.phone.device, a.Code, a.Says)
			}
			// What was sent before is still on its way; the socket closes behind it.
			s.w.in(s.w.faults.delay+2, func() { s.w.drop(c) })
		}
	}
}

func (s *simStore) persist(c *simConn, p Persist, last uint64) {
	if err := s.append(p.Stream, c.device, p.After, p.Items, c.link.offset); err != nil {
		s.w.fail("append for %s: %v", c.device, err)
		return
	}
	if s.w.broken == ackBeforeSync {
		s.stored(c, p.Stream, last)
	}
	life, g := s.life, s.logs[p.Stream]
	s.w.in(s.w.within(s.w.faults.sync), func() {
		if s.life != life {
			return
		}
		g.sync()
		if !s.w.calm && s.w.rnd.Float64() < s.w.faults.cutAtSync {
			s.w.seen["an acknowledgement cut off after the sync"]++
			s.w.drop(c) // F2: on disk, and the acknowledgement never leaves
		}
		s.stored(c, p.Stream, last)
		for _, o := range append([]*simConn(nil), s.conns...) {
			s.do(o, o.link.Grew(p.Stream, Down))
		}
	})
}

func (s *simStore) stored(c *simConn, stream string, last uint64) {
	if !c.alive {
		return
	}
	if s.w.broken == blindStore {
		s.do(c, []Action{Send{Ack{stream, Up, last}.Append(nil)}})
		return
	}
	s.do(c, c.link.Stored(stream, Up, last))
}

// simSource answers with what is on disk.
type simSource struct {
	s *simStore
	c *simConn
}

func (o simSource) Head(stream string, log Log) (uint64, Hash) {
	g := o.s.logs[stream]
	if log == Down {
		return uint64(g.durable), g.running[g.durable]
	}
	n := g.synced[o.c.device]
	return uint64(n), g.chain(stream, o.c.device)[n]
}

func (o simSource) HashAt(stream string, log Log, seq uint64) (Hash, bool) {
	if head, _ := o.Head(stream, log); seq > head {
		return Hash{}, false
	}
	if log == Down {
		return o.s.logs[stream].running[seq], true
	}
	return o.s.logs[stream].chain(stream, o.c.device)[seq], true
}

func (o simSource) Read(stream string, log Log, after uint64, maxItems, maxBytes int) [][]byte {
	g := o.s.logs[stream]
	return cutItems(g.envelopes[:g.durable], after, maxItems, maxBytes)
}

func cutItems(all [][]byte, after uint64, maxItems, maxBytes int) [][]byte {
	var out [][]byte
	for _, item := range all[min(int(after), len(all)):] {
		if maxBytes -= len(item); len(out) > 0 && (len(out) == maxItems || maxBytes < 0) {
			break
		}
		out = append(out, item)
	}
	return out
}
