package sync

// onReturn finds the last checkpoint that this phone's log passes through and fetches what follows it.
func (l *Link) onReturn(ln *line, m Return) []Action {
	k := ln.heal
	if k == nil || k.fetching {
		return nil // a repeat
	}
	k.fetching = true
	from := Head{Hash: RunningSeed(ln.name)}
	for _, own := range l.known(ln.name).Steps {
		if i := own.Seq / m.Every; own.Seq%m.Every == 0 && i >= 1 && i <= uint64(len(m.Hashes)) && m.Hashes[i-1] == own.Hash {
			from = own
		}
	}
	k.give = newTail(from, nil)
	return []Action{Fetch{Stream: ln.name, After: from.Seq, Through: k.phone.Seq}}
}

func (l *Link) known(stream string) Known {
	for _, k := range l.phone.Streams {
		if k.Name == stream {
			return k
		}
	}
	return Known{}
}

// Fetched is the host's answer to Fetch: the envelopes after number after as they lie on the phone's disk.
func (l *Link) Fetched(stream string, after uint64, items [][]byte) []Action {
	ln := l.lines[stream]
	if l.phase != open || l.store != nil || ln == nil || ln.heal == nil || !ln.heal.fetching || ln.heal.give.from.Seq != after {
		return nil
	}
	k := ln.heal
	if more := k.phone.Seq - after; uint64(len(items)) > more {
		items = items[:more] // an earlier connection's write came in behind the head that was named
	}
	k.give = newTail(k.give.from, items)
	if end := k.give.end(); end != k.phone {
		return l.stop(stopUnreadable(stream, Down, end.Seq))
	}
	k.out = newSender(k.give.from)
	return l.push(stream, Epoch{}, Back, k.give, &k.out, nil)
}

// onRenumber begins to gather what takes the place of the end of this phone's log.
func (l *Link) onRenumber(ln *line, m Renumber) []Action {
	k := ln.heal
	if k == nil || k.renumber != nil {
		return nil // a repeat
	}
	known := l.known(ln.name)
	from, ok := k.phone.Hash, m.Keep == k.phone.Seq
	if !ok && k.give != nil && k.give.end() == k.phone { // what was not read back yet cannot be compared with what comes
		from, ok = k.give.HashAt(ln.name, Back, m.Keep)
	}
	switch {
	case !ok:
		return l.stop(stopOrder("it takes from this phone's log what was never asked for"))
	case m.Keep == m.Through.Seq && m.Through.Hash != from:
		return l.stop(stopFork(ln.name, Down, m.Keep))
	case m.Epoch == known.Epoch && m.Up.Seq < known.Acked:
		// The store forgot in one life what it had acknowledged in it.
		return l.stop(stopUnacked(ln.name, m.Up.Seq, known.Acked))
	}
	k.renumber, k.got = &m, Head{m.Keep, from}
	if m.Keep == m.Through.Seq {
		return l.finish(ln)
	}
	return nil
}

// finish hands over the new end of the log once all of it is here and nothing that goes is missing in it.
func (l *Link) finish(ln *line) []Action {
	k := ln.heal
	k.done = true
	m := k.renumber
	given := 0
	if k.give != nil && m.Keep < k.phone.Seq {
		old := k.give.items[m.Keep-k.give.from.Seq:]
		if seq := missing(old, k.items); seq > 0 {
			return l.stop(stopNotTakenBack(ln.name, seq))
		}
	}
	if k.give != nil {
		given = len(k.give.items)
	}
	l.phase = stopped
	return []Action{Swap{Stream: ln.name, Epoch: m.Epoch, Was: k.phone.Seq, Keep: m.Keep, Items: k.items, Hash: m.Through.Hash, MAC: m.MAC, Acked: m.Up.Seq}, stopHealed(given)}
}
