package sync

import "fmt"

// simDisk is what a phone's crash does not lose.
type simDisk struct {
	epoch     Epoch
	mac       [32]byte // of the last envelope's head, as it came
	acked     uint64
	own       [][]byte
	envelopes [][]byte
	first     uint64 // own rows below it are there as envelopes or not at all; 0 when none went
}

// simPhone is a phone's host: a disk whose writes take time and end in order, and a Replica.
type simPhone struct {
	w       *simWorld
	device  DeviceID
	skew    int64 // its clock is wrong by this much (F25)
	disk    map[string]*simDisk
	replica *Replica
	conn    *simConn
	life    int
	busy    int64            // when the last write that was begun ends
	acked   map[string]Acked // the highest acknowledgement of the store's newest life that was heard of
	gone    bool             // lost for good, or taken off the list
	// anew: its log is being swapped; it starts anew when the writes under way are done.
	anew, swapping bool
	applied        map[string]uint64 // by stream: folded in this life
	writing        int
	torn           map[string]bool // copies that are being mended
	lost           bool            // it must go on as a new device
	handed         []handed
	old            bool // it was restored from a copy of its own
}

func newSimPhone(w *simWorld, n int, names []string) *simPhone {
	p := &simPhone{w: w, device: DeviceID{0xA0, byte(n)}, disk: map[string]*simDisk{}, acked: map[string]Acked{}}
	if w.rnd.IntN(3) == 0 {
		p.skew = w.rnd.Int64N(20*365*86_400_000) - 10*365*86_400_000
	}
	for _, s := range names {
		p.disk[s] = &simDisk{}
	}
	p.start()
	return p
}

func (p *simPhone) clock() int64 { return 1_790_000_000_000 + p.w.now + p.skew }

// start reads the disk, as after a crash.
func (p *simPhone) start() {
	var parts []Part
	p.applied = map[string]uint64{}
	for _, name := range p.w.store.names {
		d := p.disk[name]
		part := NewPart(name, p.device)
		part.Epoch, part.Acked = d.epoch, d.acked
		for i, raw := range d.envelopes {
			if _, _, err := part.Take(p.device, raw); err != nil {
				p.w.fail("phone %s, envelope %d of %s: %v", p.device, i+1, name, err)
				return
			}
		}
		part.Mine = d.own[min(part.Own.Seq, uint64(len(d.own))):]
		if p.torn[name] {
			part.Mine, part.Acked = nil, 0
		} else if d.first > part.Own.Seq+1 || part.Acked > max(part.Own.Seq, uint64(len(d.own))) {
			part.Mine, part.Acked, p.lost = nil, 0, true
		}
		if len(d.envelopes) > 0 {
			part.MAC = d.mac
		}
		if p.w.broken == forgetsPending {
			part.Mine = d.own
			part.Mine, part.Acked = part.Mine[:part.Own.Seq], part.Own.Seq
			d.own, d.acked = part.Mine, part.Acked
		}
		p.applied[name] = part.Down.Seq
		parts = append(parts, part)
	}
	r, err := NewReplica(p.device, parts...)
	if err != nil {
		p.w.fail("phone %s does not start: %v", p.device, err)
		return
	}
	p.replica = r
}

// crash loses what is not on disk (F11): writes that were begun, and everything in memory.
func (p *simPhone) crash() {
	p.life++
	p.anew, p.swapping = false, false
	p.w.seen["a crash of a phone"]++
	if p.writing > 0 {
		p.w.seen["an uncommitted entry lost"]++
	}
	p.busy, p.writing = 0, 0
	if p.conn != nil {
		p.w.drop(p.conn)
	}
	p.start()
}

func (p *simPhone) hangUp(c *simConn) {
	if p.conn == c {
		p.conn = nil
		p.replica.Closed()
	}
}

func (p *simPhone) connect() {
	if p.conn != nil || !p.w.store.up || p.replica == nil || p.gone || p.anew || p.shut() {
		return
	}
	c := &simConn{alive: true, phone: p}
	p.conn = c
	p.w.store.accept(c)
	p.do(c, p.replica.Connect(p.clock(), []byte("token of "+p.device.String())))
}

func (p *simPhone) receive(c *simConn, msg []byte) {
	if p.w.broken == blindPhone {
		if m, err := ParseMessage(msg); err == nil {
			if b, ok := m.(Batch); ok {
				d := p.disk[b.Stream]
				d.envelopes = append(d.envelopes, b.Items...)
				p.do(c, []Action{Send{Ack{b.Stream, Down, b.Prev + uint64(len(b.Items))}.Append(nil)}})
				return
			}
		}
	}
	p.do(c, p.replica.Receive(p.clock(), msg))
}

// later runs when the phone's disk has done it, unless the phone crashes before. Writes end in order.
func (p *simPhone) later(run func()) {
	life := p.life
	p.busy = max(p.busy, p.w.now+p.w.within(p.w.faults.disk))
	p.w.in(p.busy-p.w.now, func() {
		if p.life == life {
			run()
		}
	})
}

func (p *simPhone) write(stream string, n int) {
	if p.gone || p.anew || p.shut() {
		return
	}
	e := p.replica.Write(stream, p.clock(), uint32(1+n%9), 1, []byte(fmt.Sprintf("%s %d %s", p.device, n, stream)))
	raw := e.Append(nil)
	p.writing++
	commit := func() { p.do(p.conn, p.replica.Committed(p.clock(), stream, e.Seq)) }
	if p.w.broken == offerBeforeCommit {
		commit()
	}
	p.later(func() {
		p.writing--
		d := p.disk[stream]
		if uint64(len(d.own))+1 != e.Seq {
			p.w.fail("phone %s: own number %d written after %d", p.device, e.Seq, len(d.own))
			return
		}
		d.own = append(d.own, raw)
		p.w.holds(stream, p.device, e.Seq, p)
		if p.w.broken != offerBeforeCommit {
			commit()
		}
		p.begin()
	})
}

// begin starts anew after a swap, when no write is under way.
func (p *simPhone) begin() {
	if p.anew && !p.swapping && p.writing == 0 {
		p.anew = false
		p.start()
	}
}

// swap puts a new end of the log in the place of the old one.
func (p *simPhone) swap(a Swap) {
	d := p.disk[a.Stream]
	if a.Keep > uint64(len(d.envelopes)) {
		p.w.fail("phone %s: keeps %d of %d in %s", p.device, a.Keep, len(d.envelopes), a.Stream)
		return
	}
	if a.Was < uint64(len(d.envelopes)) {
		p.w.seen["a swap put off"]++
		p.swapping = false
		p.begin()
		return
	}
	if a.Keep < uint64(len(d.envelopes)) {
		p.w.seen["a log swapped"]++
	}
	d.envelopes = append(d.envelopes[:a.Keep:a.Keep], a.Items...)
	d.epoch, d.mac, d.acked = a.Epoch, a.MAC, a.Acked
	p.w.held(a.Stream, a.Items, p)
	p.swapping = false
	p.begin()
}

func (p *simPhone) do(c *simConn, todo []Action) {
	for _, a := range todo {
		switch a := a.(type) {
		case Send:
			if c != nil {
				p.w.carry(c, a.Bytes, true)
			}
		case Persist:
			p.later(func() {
				// A write of a connection that is gone still happens; the next one brings the same items again.
				d := p.disk[a.Stream]
				for i, item := range a.Items {
					if n := a.After + uint64(i); n == uint64(len(d.envelopes)) {
						d.envelopes = append(d.envelopes, item)
					} else if n > uint64(len(d.envelopes)) {
						p.w.fail("phone %s: a hole before %d in %s", p.device, n+1, a.Stream)
						return
					}
				}
				d.epoch = a.Epoch
				if a.After+uint64(len(a.Items)) == uint64(len(d.envelopes)) {
					d.mac = a.MAC
				}
				p.w.held(a.Stream, a.Items, p)
				p.do(p.conn, p.replica.Stored(a.Stream, Down, a.After+uint64(len(a.Items))))
				if now := p.replica.Part(a.Stream).Down.Seq; now < p.applied[a.Stream] {
					p.w.fail("phone %s: head of %s went back from %d to %d", p.device, a.Stream, p.applied[a.Stream], now)
				} else {
					p.applied[a.Stream] = now
				}
			})
		case Acked:
			if was := p.acked[a.Stream]; was.Epoch != a.Epoch || was.Seq < a.Seq {
				p.acked[a.Stream] = a
			}
			p.later(func() {
				d := p.disk[a.Stream]
				d.acked, d.epoch = max(d.acked, a.Seq), a.Epoch
			})
		case Fetch:
			p.later(func() {
				d := p.disk[a.Stream]
				if a.Through <= uint64(len(d.envelopes)) {
					p.do(p.conn, p.replica.Fetched(p.clock(), a.Stream, a.After, d.envelopes[a.After:a.Through]))
				}
			})
		case Swap:
			p.anew, p.swapping = true, true
			p.later(func() { p.swap(a) })
		case Stop:
			if a.Fatal && a.Code == CodeRevoked {
				p.gone = true
			} else if a.Fatal && p.old && (a.Code == CodeBehind || a.Code == CodeFork) {
				p.w.seen["a stop of a phone that is an old copy"]++
				p.lost = true
				p.crash()
				return
			} else if a.Fatal {
				p.w.fail("phone %s stopped: %s: %s", p.device, a.Code, a.Says)
			}
			p.w.in(p.w.faults.delay+2, func() { p.w.drop(c) })
		}
	}
}
