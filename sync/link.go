package sync

// Known is what a phone knows of a stream besides its two logs.
type Known struct {
	Name  string
	Epoch Epoch  // of the store that Down came from; zero when nothing was ever folded
	Acked uint64 // own entries that a store has acknowledged
	// MAC is the store's mark on the end of Down as it was given out, zero when there is none; Steps are hashes of Down
	// at multiples of StepEvery, as many as are kept.
	MAC   [32]byte
	Steps []Head
}

// PhoneConfig is what a phone says of itself.
type PhoneConfig struct {
	Device  DeviceID
	Token   []byte
	Schema  uint32
	Streams []Known // all that it holds or has written to, in any order
}

// StoreConfig is what a store says of itself.
type StoreConfig struct {
	Name   string
	Epoch  Epoch
	Key    []byte // for HeadMAC
	Schema uint32
}

type phase int

const (
	fresh    phase = iota
	greeting       // phone: hello sent; store: waiting for one
	proving        // store: the host is asked about the token
	open
	stopped
)

// Link is one end of one connection, on either side. It has no I/O of its own: inputs are methods, outputs are actions
// to be carried out in order. It is not safe for several goroutines at once. Messages handed to Receive must not be
// changed afterwards, since Persist shares their memory. After a Stop every input gives nothing.
type Link struct {
	src   Source
	store *StoreConfig // nil on a phone
	phone PhoneConfig

	phase  phase
	now    int64
	heard  int64
	sent   int64
	offset int64
	spoken uint32 // the protocol that both sides speak

	hello    Hello
	greeted  []byte // the other side's greeting, by which a duplicate of it is known
	lines    map[string]*line
	inOrder  []string
	outgoing Log
}

// line is one stream of the connection: one log goes out, the other comes in.
type line struct {
	name  string
	epoch Epoch
	out   sender
	in    receiver
	heal  *heal // not nil while the two logs are brought together
}

// Dial is a phone's end.
func Dial(cfg PhoneConfig, src Source) *Link {
	return &Link{src: src, phone: cfg, lines: map[string]*line{}, outgoing: Up}
}

// Accept is the store's end. src is asked nothing before Authenticated.
func Accept(cfg StoreConfig, src Source) *Link {
	return &Link{src: src, store: &cfg, lines: map[string]*line{}, outgoing: Down}
}

// Start begins: a phone says hello, a store waits for it. now is this side's clock, ms since 1970 UTC.
func (l *Link) Start(now int64) []Action {
	if l.phase != fresh {
		return nil
	}
	l.phase, l.now, l.heard, l.sent = greeting, now, now, now
	if l.store != nil {
		return nil
	}
	return l.sayHello()
}

// Receive takes one message as it came. A message that cannot be read ends the connection and takes nothing in.
func (l *Link) Receive(now int64, msg []byte) []Action {
	if l.phase == fresh || l.phase == stopped {
		return nil
	}
	before := l.heard
	l.now, l.heard = now, now
	m, err := ParseMessage(msg)
	if err != nil {
		return l.stop(stopMalformed(err))
	}
	switch m := m.(type) {
	case Beat:
		if l.store != nil && l.phase == greeting {
			l.heard = before // who does not say who it is does not stay by it
		}
		return nil
	case Refuse:
		l.phase = stopped
		return []Action{Stop{Code: m.Code, Says: m.Says, Hint: m.Hint, Fatal: fatal(m.Code)}}
	case Hello:
		return l.onHello(m, msg)
	case Welcome:
		return l.onWelcome(m, msg)
	}
	if l.phase != open {
		if l.phase == greeting && l.store != nil {
			return l.stop(stopOrder("the first one must be a hello"))
		}
		// A welcome that was overtaken: the sender repeats what is not acknowledged.
		return nil
	}
	switch m := m.(type) {
	case Batch:
		if ln := l.lines[m.Stream]; ln != nil && m.Log == Back {
			return l.onBack(ln, m)
		} else if ln != nil && m.Log != l.outgoing {
			return l.onBatch(ln, m)
		}
	case Ack:
		if ln := l.lines[m.Stream]; ln != nil && m.Log == Back {
			return l.onBackAck(ln, m.Seq)
		} else if ln != nil && m.Log == l.outgoing {
			return l.onAck(ln, m.Seq)
		}
	case Return:
		if ln := l.lines[m.Stream]; ln != nil && l.store == nil {
			return l.onReturn(ln, m)
		}
	case Renumber:
		if ln := l.lines[m.Stream]; ln != nil && l.store == nil {
			return l.onRenumber(ln, m)
		}
	case Have:
		if ln := l.lines[m.Stream]; ln != nil && m.Log == l.outgoing {
			return l.onHave(ln, m.Head)
		}
	}
	return l.stop(stopOrder("it names a stream that was not welcomed, or its log goes the other way"))
}

// Stored says that what was asked to Persist is on disk up to seq. Only this makes an acknowledgement.
func (l *Link) Stored(stream string, log Log, seq uint64) []Action {
	ln := l.lines[stream]
	if l.phase != open || ln == nil || log == l.outgoing {
		return nil
	}
	if !ln.in.stored(seq) {
		return nil
	}
	return []Action{l.send(Ack{stream, log, ln.in.durable})}
}

// Grew says that this side's own log of a stream has more on disk than before.
func (l *Link) Grew(stream string, log Log) []Action {
	ln := l.lines[stream]
	if l.phase != open || ln == nil || log != l.outgoing {
		return nil
	}
	return l.pump(ln, nil)
}

// Tick lets time pass; once a second is enough. It sends beats, repeats what got no answer, and ends a dead connection.
func (l *Link) Tick(now int64) []Action {
	if l.phase == fresh || l.phase == stopped {
		return nil
	}
	l.now = now
	// A clock that was set back must not keep a dead connection alive for as long as it was set back.
	l.heard, l.sent = min(l.heard, now), min(l.sent, now)
	if now-l.heard >= DeadAfter {
		l.phase = stopped
		return []Action{stopSilent()}
	}
	var out []Action
	if l.phase == open {
		for _, name := range l.inOrder {
			ln := l.lines[name]
			if ln.heal != nil {
				out = l.tickHeal(ln, out)
			} else {
				out = l.retry(ln, out)
			}
			if l.phase == stopped {
				return out
			}
		}
	}
	if now-l.sent >= BeatEvery && l.phase == open {
		out = append(out, l.send(Beat{}))
	}
	return out
}

// Fail ends the connection for a reason of the caller's, who knows of disks, lists and other connections: one of the
// Code constants and two sentences.
func (l *Link) Fail(code, says, hint string) []Action {
	return l.stop(Stop{Code: code, Says: says, Hint: hint})
}

// Open tells whether both sides have greeted and neither has stopped.
func (l *Link) Open() bool { return l.phase == open }

// stop tells the other side and then the caller.
func (l *Link) stop(s Stop) []Action {
	if l.phase == stopped || l.phase == fresh {
		return nil
	}
	l.phase = stopped
	s.Says, s.Hint, s.Fatal = clip(s.Says), clip(s.Hint), fatal(s.Code)
	return []Action{l.send(Refuse{Code: s.Code, Says: s.Says, Hint: s.Hint}), s}
}

func (l *Link) send(m Message) Send {
	l.sent = l.now
	return Send{m.Append(nil)}
}

// clip keeps a sentence within what a message may carry, and whole characters.
func clip(s string) string {
	if len(s) <= MaxText {
		return s
	}
	n := MaxText
	for n > 0 && s[n]&0xC0 == 0x80 {
		n--
	}
	return s[:n]
}
