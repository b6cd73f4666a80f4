package sync

import (
	"bytes"
	"fmt"
	"slices"
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
	lives byte
	epoch Epoch
	key   []byte
	logs  map[string]*simLog
	names []string
	conns []*simConn
	up    bool
	life  int // events of a former life are void
	// backups are copies of what was on disk, oldest first; revoked are devices off the list.
	backups []map[string]*simLog
	revoked map[DeviceID]bool
}

func newSimStore(w *simWorld, names []string) *simStore {
	s := &simStore{w: w, epoch: Epoch{1, 2, 3}, key: []byte("key"), logs: map[string]*simLog{}, names: names, up: true, revoked: map[DeviceID]bool{}}
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
		s.add(name, Envelope{Device: d, Held: len(g.envelopes)%7 == 6, At: s.w.now, Offset: offset, Entry: item})
	}
	return nil
}

// add puts an envelope at the end of the log.
func (s *simStore) add(name string, v Envelope) {
	g := s.logs[name]
	n := uint64(len(g.envelopes))
	v.Seq = n + 1
	raw := v.Append(nil)
	chain := g.chain(name, v.Device)
	g.envelopes, g.running, g.owner = append(g.envelopes, raw), append(g.running, g.running[n].Next(raw)), append(g.owner, v.Device)
	g.entries[v.Device] = append(g.entries[v.Device], v.Entry)
	g.chains[v.Device] = append(chain, chain[len(chain)-1].Next(v.Entry))
}

// heal takes back the end of another life: what is there stays, what follows keeps its number, the rest comes behind.
func (s *simStore) heal(h Heal) (keep uint64, err error) {
	g, common := s.logs[h.Stream], true
	keep = h.After
	for i, raw := range h.Items {
		n := h.After + uint64(i) + 1
		v, err := ParseEnvelope(raw)
		if err != nil {
			return 0, err
		}
		e, _ := ParseEntry(v.Entry)
		common = common && n <= uint64(len(g.envelopes))+1 && (n > uint64(len(g.envelopes)) || bytes.Equal(g.envelopes[n-1], raw))
		if h.Repair && !common {
			return 0, fmt.Errorf("two histories of one life at %d", n)
		}
		switch have := uint64(len(g.entries[v.Device])); {
		case e.Seq > have+1:
			return 0, fmt.Errorf("a hole before %d of %s", e.Seq, v.Device)
		case e.Seq <= have && !bytes.Equal(g.entries[v.Device][e.Seq-1], v.Entry):
			return 0, fmt.Errorf("fork at %d of %s", e.Seq, v.Device)
		case e.Seq == have+1:
			s.add(h.Stream, v)
			s.w.seen["an entry taken back"]++
			if !common {
				s.w.seen["an entry taken back under another number"]++
			}
		}
		if common {
			keep = n
		}
	}
	return keep, nil
}

// copy is the log as it is on disk.
func (g *simLog) copy() *simLog {
	c := &simLog{envelopes: slices.Clone(g.envelopes[:g.durable]), running: slices.Clone(g.running[:g.durable+1]), owner: slices.Clone(g.owner[:g.durable]),
		durable: g.durable, chains: map[DeviceID][]Hash{}, entries: map[DeviceID][][]byte{}, synced: map[DeviceID]int{}}
	for d, n := range g.synced {
		c.entries[d], c.chains[d], c.synced[d] = slices.Clone(g.entries[d][:n]), slices.Clone(g.chains[d][:n+1]), n
	}
	return c
}

// backup copies what is on disk.
func (s *simStore) backup() {
	logs := map[string]*simLog{}
	for name, g := range s.logs {
		logs[name] = g.copy()
	}
	s.backups = append(s.backups, logs)
}

// restore is the end of this store (F20): another begins a new life from any of the backups, older than what was
// acknowledged.
func (s *simStore) restore() {
	if !s.up || len(s.backups) == 0 {
		return
	}
	s.crash()
	from := s.backups[s.w.rnd.IntN(len(s.backups))]
	for name, g := range from {
		if g.durable < s.logs[name].durable {
			s.w.seen["a restore from an older backup"]++
		}
		s.logs[name] = g.copy()
	}
	s.lives++
	if s.w.broken != keepsEpoch {
		s.epoch = Epoch{1, 2, 3, s.lives}
	}
}

// revoke takes a phone off the list, in the middle of whatever it does (F28).
func (s *simStore) revoke(p *simPhone) {
	s.revoked[p.device] = true
	for _, c := range append([]*simConn(nil), s.conns...) {
		if c.phone == p {
			s.w.seen["a device revoked while connected"]++
			s.do(c, c.link.Fail(CodeRevoked, "off the list", "ask the owner"))
		}
	}
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
			if have := s.logs[stream].synced[p.device]; acked.Epoch == s.epoch && have < int(acked.Seq) {
				s.w.fail("after a crash the store has %d of %s's entries in %s and had acknowledged %d", have, p.device, stream, acked.Seq)
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
			if s.revoked[a.Device] {
				s.do(c, c.link.Rejected(CodeRevoked, "off the list", "ask the owner"))
				continue
			}
			c.device = a.Device
			s.do(c, c.link.Authenticated("maker", "A", s.names))
		case Persist:
			if s.revoked[c.device] {
				continue // asked again at every push
			}
			s.persist(c, a, a.After+uint64(len(a.Items)))
		case Heal:
			s.takeBack(c, a)
		case Stop:
			if a.Fatal && a.Code != CodeRevoked && !c.phone.old {
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

// takeBack puts the end of another life on disk, and then says so.
func (s *simStore) takeBack(c *simConn, a Heal) {
	if a.Repair {
		s.w.seen["a lost end repaired"]++
	}
	if s.w.broken == takesNothingBack {
		s.do(c, c.link.Healed(a.Stream, a.After))
		return
	}
	keep, err := s.heal(a)
	if err != nil {
		s.w.fail("taking back from %s: %v", c.device, err)
		return
	}
	life := s.life
	s.w.in(s.w.within(s.w.faults.sync), func() {
		if s.life != life {
			return
		}
		s.logs[a.Stream].sync()
		if c.alive {
			s.do(c, c.link.Healed(a.Stream, keep))
		}
		for _, o := range append([]*simConn(nil), s.conns...) {
			s.do(o, o.link.Grew(a.Stream, Down))
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
