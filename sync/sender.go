package sync

// sender is the outgoing half of a line.
type sender struct {
	acked    uint64   // durable at the other side
	next     Head     // sent up to here on this connection
	inflight []uint64 // last numbers of the batches sent and not acknowledged
	since    int64    // when there was progress last
	asked    *uint64  // a have that was answered: the rest of the window brings it again
}

// newSender begins after what the other side has.
func newSender(from Head) sender { return sender{acked: from.Seq, next: from} }

// pump sends as many batches as the window has room for.
func (l *Link) pump(ln *line, out []Action) []Action {
	if ln.heal != nil {
		return out // its log is not the other side's: nothing of it means anything yet
	}
	return l.push(ln.name, ln.epoch, l.outgoing, l.src, &ln.out, out)
}

func (l *Link) push(name string, epoch Epoch, log Log, src Source, s *sender, out []Action) []Action {
	for len(s.inflight) < Window {
		items := src.Read(name, log, s.next.Seq, MaxBatchEntries, MaxBatchBytes)
		if len(items) == 0 {
			break
		}
		b := Batch{Stream: name, Log: log, Prev: s.next.Seq, Items: items, Last: s.next.Hash}
		for _, item := range items {
			b.Last = b.Last.Next(item)
		}
		last := b.Prev + uint64(len(items))
		// The hash over what was read is compared with the one that was kept, so that a page that went bad is named here
		// and not spread with a hash that fits it.
		if h, ok := src.HashAt(name, log, last); !ok || h != b.Last {
			return append(out, l.stop(stopUnreadable(name, log, last))...)
		}
		if log == Down {
			b.MAC = HeadMAC(l.store.Key, epoch, name, last, b.Last)
		}
		if len(s.inflight) == 0 {
			s.since = l.now
		}
		s.next = Head{last, b.Last}
		s.inflight = append(s.inflight, last)
		out = append(out, l.send(b))
	}
	return out
}

// onAck moves the window on. An acknowledgement beyond what was sent here is of another connection of the same device:
// the have that comes with it moves next, and a repeat gets it acknowledged.
func (l *Link) onAck(ln *line, seq uint64) []Action {
	if ln.heal != nil {
		return nil // of the log as it was
	}
	s := &ln.out
	if head, _ := l.src.Head(ln.name, l.outgoing); seq > head {
		return l.stop(stopOrder("it acknowledges what was never written"))
	}
	if seq <= s.acked || seq > s.next.Seq {
		return nil
	}
	s.advance(seq, l.now)
	var out []Action
	if l.outgoing == Up {
		out = append(out, Acked{ln.name, seq, ln.epoch})
	}
	return l.pump(ln, out)
}

func (s *sender) advance(seq uint64, now int64) {
	s.acked, s.since, s.asked = seq, now, nil
	for len(s.inflight) > 0 && s.inflight[0] <= seq {
		s.inflight = s.inflight[1:]
	}
}

// onHave goes to where the other side stands.
func (l *Link) onHave(ln *line, have Head) []Action {
	if ln.heal != nil {
		return nil
	}
	s := &ln.out
	if have.Seq < s.acked || have.Seq == s.next.Seq && have.Hash == s.next.Hash {
		return nil
	}
	if head, _ := l.src.Head(ln.name, l.outgoing); have.Seq > head {
		if l.outgoing == Up {
			return l.stop(stopBehind(ln.name, head, have.Seq))
		}
		return l.stop(stopShort(ln.name, head, have.Seq))
	}
	if h, ok := l.src.HashAt(ln.name, l.outgoing, have.Seq); !ok {
		return l.stop(stopUnreadable(ln.name, l.outgoing, have.Seq))
	} else if h != have.Hash {
		return l.stop(stopFork(ln.name, l.outgoing, have.Seq))
	}
	if s.asked != nil && *s.asked == have.Seq {
		return nil
	}
	s.asked = &have.Seq
	s.goTo(have)
	return l.pump(ln, nil)
}

// goTo makes what follows h the next to be sent. Batches up to there are still to be acknowledged.
func (s *sender) goTo(h Head) {
	s.next = h
	n := 0
	for n < len(s.inflight) && s.inflight[n] <= h.Seq {
		n++
	}
	s.inflight = s.inflight[:n]
}

// retry sends again from the last acknowledgement when none came for a while.
func (l *Link) retry(ln *line, out []Action) []Action {
	s := &ln.out
	s.since = min(s.since, l.now)
	if s.acked >= s.next.Seq || l.now-s.since < RetryAfter {
		return out
	}
	h, ok := l.src.HashAt(ln.name, l.outgoing, s.acked)
	if !ok {
		return append(out, l.stop(stopUnreadable(ln.name, l.outgoing, s.acked))...)
	}
	s.asked, s.since = nil, l.now
	s.goTo(Head{s.acked, h})
	return l.pump(ln, out)
}

// cameBack tells the sender that the store has own entries up to h, since they came back in envelopes: as good as an
// acknowledgement, which may have been lost.
func (l *Link) cameBack(stream string, h Head) []Action {
	ln := l.lines[stream]
	if l.phase != open || ln == nil || h.Seq <= ln.out.acked {
		return nil
	}
	if h.Seq > ln.out.next.Seq {
		ln.out.goTo(h)
	}
	ln.out.advance(h.Seq, l.now)
	return l.pump(ln, []Action{Acked{stream, h.Seq, ln.epoch}})
}
