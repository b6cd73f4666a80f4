package sync

import (
	"bytes"
	"slices"
)

// The ways back of a phone that cannot go on by itself: a copy that cannot be read from end to end is mended, a phone that
// knows less of itself than the store goes on as a new device. The host does both beside the line (PROTOCOL.md, 13 and 14).

// copy is a disk as it stands now.
func (d *simDisk) copy() *simDisk {
	c := *d
	c.own, c.envelopes = slices.Clone(d.own), slices.Clone(d.envelopes)
	return &c
}

// shut tells that nothing is written and no hello is said.
func (p *simPhone) shut() bool { return p.lost || len(p.torn) > 0 }

// back counts the own entries in a log.
func (p *simPhone) back(log [][]byte) uint64 {
	n := 0
	for _, raw := range log {
		if v, err := ParseEnvelope(raw); err == nil && v.Device == p.device {
			n++
		}
	}
	return uint64(n)
}

// forgets notes that a phone has entries no more: nobody can ask it for them.
func (w *simWorld) forgets(stream string, log [][]byte, p *simPhone) {
	for _, raw := range log {
		if v, err := ParseEnvelope(raw); err == nil {
			e, _ := ParseEntry(v.Entry)
			delete(w.had[address{stream, v.Device, e.Seq}], p)
		}
	}
}

// damage makes a part of a phone's copy unreadable: what follows is put aside at the next start.
func (p *simPhone) damage() {
	name := p.w.store.names[p.w.rnd.IntN(len(p.w.store.names))]
	d := p.disk[name]
	if len(d.envelopes) == 0 || p.gone || p.anew {
		return
	}
	p.w.seen["a copy that cannot be read"]++
	n := p.w.rnd.IntN(len(d.envelopes))
	// Rows that came back are no rows of their own any more.
	d.first = max(d.first, p.back(d.envelopes)+1)
	p.w.forgets(name, d.envelopes[n:], p)
	d.envelopes = d.envelopes[:n:n]
	d.mac = HeadMAC(p.w.store.key, d.epoch, name, uint64(n), chainOver(RunningSeed(name), d.envelopes))
	if p.torn == nil {
		p.torn = map[string]bool{}
	}
	p.torn[name] = true
	p.crash()
}

// turnBack is a phone restored from an old backup of its own (F12).
func (p *simPhone) turnBack(old map[string]*simDisk) {
	if p.gone || p.anew || p.shut() {
		return
	}
	p.w.seen["a phone restored from its own old copy"]++
	for _, by := range p.w.had {
		delete(by, p)
	}
	p.disk, p.old = map[string]*simDisk{}, true
	for name, d := range old {
		p.disk[name] = d.copy()
		p.w.held(name, d.envelopes, p)
		for i := range d.own {
			p.w.holds(name, p.device, uint64(i+1), p)
		}
	}
	p.crash()
}

// wayBack does one step of what a phone that is shut does while the store answers.
func (p *simPhone) wayBack() {
	s := p.w.store
	if !p.shut() || !s.up || p.gone || s.revoked[p.device] {
		return
	}
	if !p.lost && p.mendSome() {
		return
	}
	if p.lost {
		p.goOn()
		return
	}
	p.w.seen["a copy that was mended"]++
	if p.w.broken == mendsFromAnotherLife {
		// It takes for its last number what that store has of it.
		for _, name := range s.names {
			d := p.disk[name]
			if n := p.back(d.envelopes); p.torn[name] && uint64(len(d.own)) < d.first {
				d.own, d.acked, d.first = d.own[:n], 0, 0
			}
		}
	}
	p.torn = nil
	p.start()
}

// mendSome fetches one piece; false when there is none left, or none to be had.
func (p *simPhone) mendSome() bool {
	s := p.w.store
	for _, name := range s.names {
		if !p.torn[name] {
			continue
		}
		g, d, n := s.logs[name], p.disk[name], len(p.disk[name].envelopes)
		if d.epoch != s.epoch && p.w.broken != mendsFromAnotherLife || n > g.durable || g.running[n] != chainOver(RunningSeed(name), d.envelopes) {
			p.w.seen["a copy that another life cannot mend"]++
			p.lost = true
			return false
		}
		if n == g.durable {
			continue
		}
		piece := g.envelopes[n : n+1+p.w.rnd.IntN(g.durable-n)]
		if !p.agrees(name, piece) {
			p.lost = true
			return false
		}
		d.envelopes = append(d.envelopes[:n:n], piece...)
		d.epoch, d.mac = s.epoch, HeadMAC(s.key, s.epoch, name, uint64(n+len(piece)), g.running[n+len(piece)])
		p.w.held(name, piece, p)
		return true
	}
	return false
}

// agrees tells whether own entries in a piece are those that this phone wrote; of those it has no more it learns again.
func (p *simPhone) agrees(name string, piece [][]byte) bool {
	d := p.disk[name]
	for _, raw := range piece {
		v, _ := ParseEnvelope(raw)
		if v.Device != p.device {
			continue
		}
		e, _ := ParseEntry(v.Entry)
		switch n := uint64(len(d.own)); {
		case e.Seq == n+1:
			d.own = append(d.own, v.Entry)
		case e.Seq <= n && e.Seq >= d.first && !bytes.Equal(d.own[e.Seq-1], v.Entry):
			return false
		case e.Seq <= n:
			d.own[e.Seq-1] = v.Entry
		}
	}
	return true
}

// handed is a row that the store took under an earlier name of a phone, which keeps it until it stands in its log.
type handed struct {
	at    address
	raw   []byte
	epoch Epoch
	to    int // of the log that has it
}

// putAside is a row that no book takes: the person is told, and nothing more is claimed of it.
func (p *simPhone) putAside(at address) {
	p.w.seen["a row put aside"]++
	delete(p.w.had[at], p)
}

// handAgain lets go of rows that came back, and hands over once more what a store took that was restored meanwhile.
func (p *simPhone) handAgain() {
	s := p.w.store
	if p.conn == nil || p.gone || s.revoked[p.device] || p.w.broken == letsGoAtOnce {
		return
	}
	p.handed = slices.DeleteFunc(p.handed, func(h handed) bool {
		d := p.disk[h.at.stream]
		return d.epoch == h.epoch && len(d.envelopes) >= h.to
	})
	for i, h := range p.handed {
		if h.epoch == s.epoch || s.append(h.at.stream, h.at.device, h.at.seq-1, [][]byte{h.raw}, 0) != nil {
			continue
		}
		p.w.seen["a row handed over once more"]++
		s.logs[h.at.stream].sync()
		p.handed[i].epoch, p.handed[i].to = s.epoch, len(s.logs[h.at.stream].envelopes)
		for _, o := range append([]*simConn(nil), s.conns...) {
			s.do(o, o.link.Grew(h.at.stream, Down))
		}
	}
}

// goOn is going on as a new device, which may be killed before it begins and behind the hand-over.
func (p *simPhone) goOn() {
	s := p.w.store
	killed := p.w.rnd.IntN(6)
	if killed == 0 && !p.w.calm {
		p.crash()
		return
	}
	kept := map[address]handed{}
	for _, name := range s.names {
		d := p.disk[name]
		if len(d.envelopes) > 0 {
			if d.mac != HeadMAC(s.key, d.epoch, name, uint64(len(d.envelopes)), chainOver(RunningSeed(name), d.envelopes)) {
				p.w.fail("phone %s: its copy of %s bears no mark", p.device, name)
				return
			}
			if _, err := s.heal(Heal{Stream: name, Epoch: d.epoch, Items: d.envelopes, Repair: d.epoch == s.epoch}); err != nil {
				p.w.fail("handing over %s of %s: %v", name, p.device, err)
				return
			}
		}
		for seq := max(p.back(d.envelopes)+1, d.first); seq <= uint64(len(d.own)); seq++ {
			if s.append(name, p.device, seq-1, d.own[seq-1:seq], 0) != nil {
				break // the rest is put aside
			}
			kept[address{name, p.device, seq}] = handed{address{name, p.device, seq}, d.own[seq-1], s.epoch, len(s.logs[name].envelopes)}
		}
		s.logs[name].sync()
	}
	for _, o := range append([]*simConn(nil), s.conns...) {
		for _, name := range s.names {
			s.do(o, o.link.Grew(name, Down))
		}
	}
	if killed == 1 && !p.w.calm {
		p.crash()
		return
	}
	for _, name := range s.names {
		d := p.disk[name]
		for seq := max(p.back(d.envelopes)+1, d.first); seq <= uint64(len(d.own)); seq++ {
			at := address{name, p.device, seq}
			if row, ok := kept[at]; ok {
				p.handed = append(p.handed, row)
			} else {
				p.putAside(at)
			}
		}
		d.own, d.acked, d.first = nil, 0, 0
	}
	p.w.seen["a phone that goes on as a new device"]++
	p.w.renamed++
	p.device = DeviceID{0xA1, byte(p.w.renamed >> 8), byte(p.w.renamed)}
	p.lost, p.old, p.torn, p.acked = false, false, nil, map[string]Acked{}
	p.start()
}
