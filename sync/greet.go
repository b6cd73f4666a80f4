package sync

import (
	"bytes"
	"sort"
)

// sayHello is a phone's first message.
func (l *Link) sayHello() []Action {
	m := Hello{Lo: Lowest, Hi: Protocol, Schema: l.phone.Schema, Device: l.phone.Device, Token: l.phone.Token, Clock: asClock(l.now)}
	known := append([]Known(nil), l.phone.Streams...)
	sort.Slice(known, func(i, j int) bool { return known[i].Name < known[j].Name })
	for _, k := range known {
		m.Streams = append(m.Streams, HelloStream{Name: k.Name, Epoch: k.Epoch, Down: l.head(k.Name, Down), Up: l.head(k.Name, Up), MAC: k.MAC})
	}
	return []Action{l.send(m)}
}

func (l *Link) head(stream string, log Log) Head {
	seq, h := l.src.Head(stream, log)
	return Head{seq, h}
}

// again tells whether a greeting came before: the same one is a harmless duplicate, another one is not.
func (l *Link) again(msg []byte) (bool, []Action) {
	if l.greeted == nil {
		l.greeted = append([]byte(nil), msg...)
		return false, nil
	}
	if bytes.Equal(l.greeted, msg) {
		return true, nil
	}
	return true, l.stop(stopOrder("a second, different greeting"))
}

func (l *Link) onHello(m Hello, msg []byte) []Action {
	if l.store == nil {
		return l.stop(stopOrder("a hello from a store"))
	}
	if dup, out := l.again(msg); dup {
		return out
	}
	if m.Lo > Protocol || m.Hi < Lowest || m.Lo > m.Hi {
		return l.stop(stopProtocol(m.Lo, m.Hi, Protocol))
	}
	l.phase, l.hello, l.spoken = proving, m, min(m.Hi, Protocol)
	if m.Clock != 0 {
		l.offset = m.Clock - asClock(l.now)
	}
	return []Action{Authenticate{Device: m.Device, Token: m.Token, Schema: m.Schema, Offset: l.offset}}
}

// Rejected is the host's answer to Authenticate when it does not let the device in.
func (l *Link) Rejected(code, says, hint string) []Action { return l.Fail(code, says, hint) }

// Authenticated is the host's answer to Authenticate when the token proves the device. From now on src answers for that
// device. streams are those that its role may hold.
func (l *Link) Authenticated(role, letter string, streams []string) []Action {
	if l.phase != proving {
		return nil
	}
	held := map[string]HelloStream{}
	for _, h := range l.hello.Streams {
		held[h.Name] = h
	}
	m := Welcome{Protocol: l.spoken, Schema: l.store.Schema, Store: clip(l.store.Name), Role: clip(role), Letter: clip(letter), Clock: asClock(l.now)}
	l.inOrder = append([]string(nil), streams...)
	sort.Strings(l.inOrder)
	heals := map[string]HelloStream{}
	for _, name := range l.inOrder {
		theirs, down, up := held[name], l.head(name, Down), l.head(name, Up)
		if theirs.Name == "" {
			theirs.Down.Hash = RunningSeed(name)
			theirs.Up.Hash = ChainSeed(name, l.hello.Device)
		}
		if s, bad := l.judge(name, theirs, down, up); bad {
			return l.stop(s)
		}
		if theirs.Epoch != l.store.Epoch && !theirs.Epoch.IsZero() || theirs.Down.Seq > down.Seq {
			heals[name] = theirs
		}
		m.Streams = append(m.Streams, WelcomeStream{Name: name, Epoch: l.store.Epoch, Down: down, MAC: HeadMAC(l.store.Key, l.store.Epoch, name, down.Seq, down.Hash), Up: up})
		l.lines[name] = &line{name: name, epoch: l.store.Epoch, out: newSender(theirs.Down), in: newReceiver(up)}
	}
	l.phase = open
	out := []Action{l.send(m)}
	for _, name := range l.inOrder {
		if theirs, ok := heals[name]; ok {
			out = append(out, l.beginHeal(l.lines[name], theirs)...)
		} else {
			out = l.pump(l.lines[name], out)
		}
		if l.phase == stopped {
			break
		}
	}
	return out
}

// judge compares what a phone says that it holds with what the store holds.
func (l *Link) judge(name string, theirs HelloStream, down, up Head) (Stop, bool) {
	if theirs.Epoch.IsZero() && theirs.Down.Seq > 0 {
		return stopMalformed(malformed("a head in %s without an epoch", name)), true
	}
	other := !theirs.Epoch.IsZero() && theirs.Epoch != l.store.Epoch
	if other && l.spoken < healing {
		return stopEpoch(name), true
	}
	// What a phone has and this store has not is taken back when the store's own mark is on it.
	if other && !l.holds(name, theirs.Down) && !l.proved(theirs) {
		return stopEpoch(name), true
	}
	if !other && theirs.Down.Seq > down.Seq && (l.spoken < healing || !l.proved(theirs)) {
		return stopShort(name, down.Seq, theirs.Down.Seq), true
	}
	if other || theirs.Down.Seq > down.Seq {
		// The two logs are compared when the phone's comes.
	} else if h, ok := l.src.HashAt(name, Down, theirs.Down.Seq); !ok {
		return stopUnreadable(name, Down, theirs.Down.Seq), true
	} else if h != theirs.Down.Hash {
		return stopFork(name, Down, theirs.Down.Seq), true
	}
	if theirs.Up.Seq > up.Seq {
		return Stop{}, false // what is new; the phone compares the rest, since only it has both hashes
	}
	if h, ok := l.src.HashAt(name, Up, theirs.Up.Seq); !ok {
		return stopUnreadable(name, Up, theirs.Up.Seq), true
	} else if h != theirs.Up.Hash {
		return stopFork(name, Up, theirs.Up.Seq), true
	}
	if theirs.Up.Seq < up.Seq {
		return stopBehind(name, theirs.Up.Seq, up.Seq), true
	}
	return Stop{}, false
}

func (l *Link) onWelcome(m Welcome, msg []byte) []Action {
	if l.store != nil {
		return l.stop(stopOrder("a welcome from a phone"))
	}
	if dup, out := l.again(msg); dup {
		return out
	}
	if m.Protocol < Lowest || m.Protocol > Protocol {
		return l.stop(stopProtocol(m.Protocol, m.Protocol, Protocol))
	}
	l.spoken = m.Protocol
	l.offset = asClock(l.now) - m.Clock
	known := map[string]Known{}
	for _, k := range l.phone.Streams {
		known[k.Name] = k
	}
	acked := []Action{}
	for _, s := range m.Streams {
		if bad, is := l.judgeWelcome(known[s.Name], s); is {
			return l.stop(bad)
		}
		l.inOrder = append(l.inOrder, s.Name)
		ln := &line{name: s.Name, epoch: s.Epoch, out: newSender(s.Up), in: newReceiver(l.head(s.Name, Down))}
		l.lines[s.Name] = ln
		if k := known[s.Name]; l.apart(k, s) {
			ln.heal = &heal{phone: l.head(s.Name, Down), epoch: k.Epoch}
		} else if s.Up.Seq > 0 {
			acked = append(acked, Acked{s.Name, s.Up.Seq, s.Epoch})
		}
	}
	l.phase = open
	out := append([]Action{Welcomed{Store: m.Store, Role: m.Role, Letter: m.Letter, Schema: m.Schema, Offset: l.offset, Streams: m.Streams}}, acked...)
	for _, name := range l.inOrder {
		if out = l.pump(l.lines[name], out); l.phase == stopped {
			break
		}
	}
	return out
}

// apart tells whether the phone's log of the store is not, or not wholly, this store's.
func (l *Link) apart(known Known, s WelcomeStream) bool {
	return !known.Epoch.IsZero() && (known.Epoch != s.Epoch || l.head(s.Name, Down).Seq > s.Down.Seq)
}

// judgeWelcome compares what the store says that it holds with what this phone holds.
func (l *Link) judgeWelcome(known Known, s WelcomeStream) (Stop, bool) {
	if s.Epoch.IsZero() {
		return stopMalformed(malformed("stream %s without an epoch", s.Name)), true
	}
	down, up := l.head(s.Name, Down), l.head(s.Name, Up)
	if l.apart(known, s) && l.spoken >= healing {
		// The store asks for its end, and only then has what it acknowledged.
		if s.Up.Seq > up.Seq {
			return stopBehind(s.Name, up.Seq, s.Up.Seq), true
		}
		if h, ok := l.src.HashAt(s.Name, Up, s.Up.Seq); ok && h != s.Up.Hash {
			return stopFork(s.Name, Up, s.Up.Seq), true
		}
		return Stop{}, false
	}
	switch {
	case !known.Epoch.IsZero() && known.Epoch != s.Epoch:
		return stopEpoch(s.Name), true
	case down.Seq > s.Down.Seq:
		return stopShort(s.Name, s.Down.Seq, down.Seq), true
	case down.Seq == s.Down.Seq && down.Hash != s.Down.Hash:
		return stopFork(s.Name, Down, down.Seq), true
	case s.Up.Seq < known.Acked:
		return stopUnacked(s.Name, s.Up.Seq, known.Acked), true
	case s.Up.Seq > up.Seq:
		return stopBehind(s.Name, up.Seq, s.Up.Seq), true
	}
	if h, ok := l.src.HashAt(s.Name, Up, s.Up.Seq); !ok {
		return stopUnreadable(s.Name, Up, s.Up.Seq), true
	} else if h != s.Up.Hash {
		return stopFork(s.Name, Up, s.Up.Seq), true
	}
	return Stop{}, false
}
