package sync

// heal is a line whose two logs do not meet: the store began a new life, or lost its end. Nothing else travels on it until
// the phone's log is the store's again.
type heal struct {
	phone Head  // the end of the phone's log, in the life that it names
	epoch Epoch // of that life
	// ask is the store's last question, repeated until it is answered.
	ask   Message
	asked int64

	give *tail // what this side hands over
	out  sender
	// got is how far the other side's tail came in, items what came.
	got   Head
	begun bool
	items [][]byte
	bytes int
	// done is that the host was asked to heal; another batch is a late one.
	done bool

	fetching bool
	renumber *Renumber
}

// beginHeal is the store's first step. A phone whose whole log is in the store's needs nothing but the new epoch.
func (l *Link) beginHeal(ln *line, theirs HelloStream) []Action {
	ln.heal = &heal{phone: theirs.Down, epoch: theirs.Epoch}
	if l.holds(ln.name, theirs.Down) {
		return l.sayRenumber(ln, theirs.Down.Seq)
	}
	m := Return{Stream: ln.name, Every: StepEvery}
	most := min(l.head(ln.name, Down).Seq, theirs.Down.Seq)
	for most/m.Every > MaxSteps {
		m.Every *= 2
	}
	for n := m.Every; n <= most; n += m.Every {
		h, ok := l.src.HashAt(ln.name, Down, n)
		if !ok {
			return l.stop(stopUnreadable(ln.name, Down, n))
		}
		m.Hashes = append(m.Hashes, h)
	}
	return l.ask(ln.heal, m)
}

func (l *Link) ask(k *heal, m Message) []Action {
	k.ask, k.asked = m, l.now
	return []Action{l.send(m)}
}

// holds tells whether a phone's head is one that the store's log passes through.
func (l *Link) holds(stream string, h Head) bool {
	own, ok := l.src.HashAt(stream, Down, h.Seq)
	return ok && own == h.Hash
}

// onBack takes in a batch of a tail. Only its end proves it, so nothing of it is used before.
func (l *Link) onBack(ln *line, b Batch) []Action {
	k := ln.heal
	if k == nil || k.done || l.store == nil && k.renumber == nil {
		return nil // late, or overtaken: it comes again
	}
	until := k.phone
	if l.store == nil {
		until = k.renumber.Through
	}
	if !k.begun {
		h, ok := k.got.Hash, b.Prev == k.got.Seq
		if l.store != nil && b.Prev%StepEvery == 0 {
			h, ok = l.src.HashAt(ln.name, Down, b.Prev)
		}
		if !ok || chainOver(h, b.Items) != b.Last {
			return nil // not where the tail begins: what belongs before it comes again
		}
		k.got, k.begun = Head{b.Prev, h}, true
	}
	if b.Prev != k.got.Seq {
		return []Action{l.send(Ack{ln.name, Back, k.got.Seq})}
	}
	if err := dense(b); err != nil {
		return l.stop(stopMalformed(err))
	}
	for _, item := range b.Items {
		k.bytes += len(item)
	}
	last := Head{b.Prev + uint64(len(b.Items)), chainOver(k.got.Hash, b.Items)}
	switch {
	case last.Hash != b.Last, last.Seq == until.Seq && last.Hash != until.Hash:
		return l.stop(stopHash(ln.name, Back, b.Prev))
	case last.Seq > until.Seq || k.bytes > MaxReturnBytes:
		return l.stop(stopMalformed(malformed("more of %s is handed back than was asked for", ln.name)))
	}
	k.items, k.got = append(k.items, b.Items...), last
	out := []Action{l.send(Ack{ln.name, Back, last.Seq})}
	if last.Seq < until.Seq {
		return out
	}
	if l.store == nil {
		return append(out, l.finish(ln)...)
	}
	k.done, k.ask = true, nil
	return append(out, Heal{Stream: ln.name, Epoch: k.epoch, After: last.Seq - uint64(len(k.items)), Items: k.items, Repair: k.epoch == l.store.Epoch})
}

func chainOver(h Hash, items [][]byte) Hash {
	for _, item := range items {
		h = h.Next(item)
	}
	return h
}

// onBackAck moves the sender of a tail on.
func (l *Link) onBackAck(ln *line, seq uint64) []Action {
	if ln.heal == nil || ln.heal.give == nil {
		return nil
	}
	s := &ln.heal.out
	if seq <= s.acked || seq > s.next.Seq {
		return nil
	}
	s.advance(seq, l.now)
	return l.push(ln.name, Epoch{}, Back, ln.heal.give, s, nil)
}

// Healed is the host's answer to Heal, when everything that was handed back is on disk: the phone's log and the store's
// are the same up to number keep. What a phone must let go of beyond it is in the store's log under other numbers.
func (l *Link) Healed(stream string, keep uint64) []Action {
	ln := l.lines[stream]
	if l.phase != open || l.store == nil || ln == nil || ln.heal == nil {
		return nil
	}
	return l.sayRenumber(ln, keep)
}

func (l *Link) sayRenumber(ln *line, keep uint64) []Action {
	k := ln.heal
	through := k.phone
	if keep < k.phone.Seq {
		through = l.head(ln.name, Down)
	}
	from, ok := l.src.HashAt(ln.name, Down, keep)
	if !ok {
		return l.stop(stopUnreadable(ln.name, Down, keep))
	}
	var items [][]byte
	for n := keep; n < through.Seq; n = keep + uint64(len(items)) {
		more := l.src.Read(ln.name, Down, n, int(through.Seq-n), MaxReturnBytes)
		if len(more) == 0 {
			return l.stop(stopUnreadable(ln.name, Down, n+1))
		}
		items = append(items, more...)
	}
	k.give, k.out = newTail(Head{keep, from}, items), newSender(Head{keep, from})
	if k.give.end() != through {
		return l.stop(stopUnreadable(ln.name, Down, through.Seq))
	}
	out := l.ask(k, Renumber{Stream: ln.name, Epoch: ln.epoch, Keep: keep, Through: through,
		MAC: HeadMAC(l.store.Key, ln.epoch, ln.name, through.Seq, through.Hash), Up: l.head(ln.name, Up)})
	return l.push(ln.name, Epoch{}, Back, k.give, &k.out, out)
}

// tickHeal repeats what got no answer.
func (l *Link) tickHeal(ln *line, out []Action) []Action {
	k := ln.heal
	k.asked, k.out.since = min(k.asked, l.now), min(k.out.since, l.now)
	answered := k.begun
	if _, renumber := k.ask.(Renumber); renumber {
		answered = k.out.acked > k.give.from.Seq
	}
	if k.ask != nil && !answered && l.now-k.asked >= RetryAfter {
		out = append(out, l.ask(k, k.ask)...)
	}
	if k.give == nil || k.out.acked >= k.out.next.Seq || l.now-k.out.since < RetryAfter {
		return out
	}
	h, _ := k.give.HashAt("", Back, k.out.acked)
	k.out.since = l.now
	k.out.goTo(Head{k.out.acked, h})
	k.out.inflight = nil
	return l.push(ln.name, Epoch{}, Back, k.give, &k.out, out)
}
