package sync

import (
	"container/heap"
	"fmt"
	"math/rand/v2"
)

// simFaults is how rough a run is. Probabilities are per message, delays in ms.
type simFaults struct {
	lose, double float64
	delay        int64 // at most; messages overtake one another
	cut          int64 // mean ms between cuts of a connection; half of them go dark without closing (F4)
	phoneCrash   int64 // mean ms between crashes of each phone (F11)
	storeCrash   int64 // mean ms between crashes of the store (F16, F17, F23)
	cutAtSync    float64
	backup       int64 // mean ms between backups of the store
	restore      int64 // mean ms between restores from any of them (F20)
	damage       int64 // mean ms between damages of a phone's copy
	old          int64 // mean ms between a phone's own backups, and until it is restored from one; 0 never
	gone         int64 // mean ms until a phone is lost for good or taken off the list (F28)
	sync         int64 // mean ms that the store's disk takes
	disk         int64 // mean ms that a phone's disk takes
}

// sabotage breaks one rule on purpose, to show that the simulation notices.
type sabotage int

const (
	sound                sabotage = iota
	ackBeforeSync                 // the store says Stored before its disk has it
	blindStore                    // the store appends what arrives without comparing numbers
	blindPhone                    // a phone persists what arrives without comparing numbers
	offerBeforeCommit             // a phone offers an entry before its own disk has it
	forgetsPending                // a phone throws unsent entries away when it starts
	keepsEpoch                    // a restored store goes on in its old epoch
	takesNothingBack              // a restored store says that it took back what it did not
	mendsFromAnotherLife          // a phone's copy is mended by a store that was restored
	letsGoAtOnce                  // a phone lets go of what it handed over before that came back
)

type simEvent struct {
	at  int64
	n   int // ties go in the order of scheduling, so that a seed replays
	run func()
}

type simQueue []simEvent

func (q simQueue) Len() int { return len(q) }
func (q simQueue) Less(i, j int) bool {
	return q[i].at < q[j].at || q[i].at == q[j].at && q[i].n < q[j].n
}
func (q simQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *simQueue) Push(x any)   { *q = append(*q, x.(simEvent)) }
func (q *simQueue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// simWorld is a store, its phones, the network between them, and time.
type simWorld struct {
	seed   uint64
	rnd    *rand.Rand
	faults simFaults
	broken sabotage
	now    int64
	queue  simQueue
	n      int
	store  *simStore
	phones []*simPhone
	failed []string
	// had tells which phones ever had an entry on their disks.
	had     map[address]map[*simPhone]bool
	renamed int            // how many phones went on as new devices
	calm    bool           // no more faults: what is left must come together
	seen    map[string]int // how often each thing happened, so that a run that meets nothing is noticed
}

// address is where an entry belongs.
type address struct {
	stream string
	device DeviceID
	seq    uint64
}

// holds notes that a phone has an entry on its disk.
func (w *simWorld) holds(stream string, device DeviceID, seq uint64, p *simPhone) {
	at := address{stream, device, seq}
	if w.had[at] == nil {
		w.had[at] = map[*simPhone]bool{}
	}
	w.had[at][p] = true
}

func (w *simWorld) held(stream string, items [][]byte, p *simPhone) {
	for _, raw := range items {
		if v, err := ParseEnvelope(raw); err == nil {
			e, _ := ParseEntry(v.Entry)
			w.holds(stream, v.Device, e.Seq, p)
		}
	}
}

// simConn is one connection. Messages in flight die with it.
type simConn struct {
	alive, dark bool
	phone       *simPhone
	link        *Link // the store's end
	device      DeviceID
}

func (w *simWorld) in(ms int64, run func()) {
	w.n++
	heap.Push(&w.queue, simEvent{w.now + ms, w.n, run})
}

// within gives a time around a mean, at least 1 ms.
func (w *simWorld) within(mean int64) int64 { return 1 + w.rnd.Int64N(2*mean) }

func (w *simWorld) fail(format string, args ...any) {
	if len(w.failed) < 5 {
		w.failed = append(w.failed, fmt.Sprintf("t=%d ms: ", w.now)+fmt.Sprintf(format, args...))
	}
}

// run lets events happen until the time is up, something failed, or done says so.
func (w *simWorld) run(until int64, done func() bool) {
	for len(w.queue) > 0 && w.queue[0].at <= until && len(w.failed) == 0 {
		e := heap.Pop(&w.queue).(simEvent)
		w.now = e.at
		e.run()
		if done != nil && done() {
			return
		}
	}
}

// carry takes one message over the network. toStore says which way.
func (w *simWorld) carry(c *simConn, msg []byte, toStore bool) {
	times := 1
	if !w.calm {
		switch p := w.rnd.Float64(); {
		case p < w.faults.lose:
			w.seen["a message lost"]++
			return
		case p < w.faults.lose+w.faults.double:
			w.seen["a message twice"]++
			times = 2
		}
	}
	switch msg[0] {
	case typeHave:
		w.seen["a have"]++
	case typeRefuse:
		w.seen["a refusal"]++
	}
	for range times {
		delay := int64(1)
		if !w.calm && w.faults.delay > 0 {
			delay += w.rnd.Int64N(w.faults.delay)
		}
		w.in(delay, func() {
			if !c.alive || c.dark {
				return
			}
			if toStore {
				w.store.receive(c, msg)
			} else {
				c.phone.receive(c, msg)
			}
		})
	}
}

// drop ends a connection; each side that is still there hears of it.
func (w *simWorld) drop(c *simConn) {
	if !c.alive {
		return
	}
	c.alive = false
	c.phone.hangUp(c)
	w.store.hangUp(c)
}

// weather schedules what goes wrong.
func (w *simWorld) weather() {
	if w.faults.storeCrash > 0 {
		w.again(w.faults.storeCrash, func() { w.store.crash() })
	}
	w.again(w.faults.backup, func() { w.store.backup() })
	w.again(w.faults.gone, func() {
		// One phone at least stays.
		switch p := w.phones[w.rnd.IntN(len(w.phones))]; {
		case p == w.phones[0] || p.gone:
		case w.rnd.IntN(2) == 0:
			w.store.revoke(p)
		default:
			w.seen["a phone gone for good"]++
			p.gone = true
			if p.conn != nil {
				w.drop(p.conn)
			}
		}
	})
	if w.faults.old == 0 {
		w.again(w.faults.restore, func() { w.store.restore() })
	}
	for _, p := range w.phones {
		w.again(w.faults.damage, p.damage)
		if w.faults.old > 0 {
			w.again(w.faults.old, func() {
				old := map[string]*simDisk{}
				for name, d := range p.disk {
					old[name] = d.copy()
				}
				was := p.device
				w.in(w.within(w.faults.old), func() {
					if p.device == was && !w.calm {
						p.turnBack(old)
					}
				})
			})
		}
		if w.faults.phoneCrash > 0 {
			w.again(w.faults.phoneCrash, p.crash)
		}
		if w.faults.cut > 0 {
			w.again(w.faults.cut, func() {
				if c := p.conn; c != nil && w.rnd.IntN(2) == 0 {
					w.seen["a dark socket"]++
					c.dark = true
				} else if c != nil {
					w.seen["a cut"]++
					w.drop(c)
				}
			})
		}
	}
}

func (w *simWorld) again(mean int64, run func()) {
	w.in(w.within(mean), func() {
		if w.calm {
			return
		}
		run()
		w.again(mean, run)
	})
}
