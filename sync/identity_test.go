package sync

import (
	"testing"
)

// part gives what a phone has on disk, as though it had been copied.
func (e *ends) parts() (out []Part) {
	for _, s := range e.phone.Streams() {
		out = append(out, e.phone.Part(s))
	}
	return out
}

// F12: a phone restored from its own old backup knows less of itself than the store, and must not write on.
func TestF12PhoneRestoredFromItsOldBackup(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "one")
	e.settle()
	old := e.parts()
	e.write("workshop", "two")
	e.settle()
	again := newEnds(t, e.store, phoneA, old...)
	again.connect()
	again.settle()
	again.stopped(CodeBehind)
	evicted := newEnds(t, e.store, phoneA) // F9, with the id kept by mistake
	evicted.connect()
	evicted.settle()
	evicted.stopped(CodeBehind)
}

// F13: the same identity with other bytes. Both are kept and the second is stopped, when it greets and in mid-connection.
func TestF13ClonedProfile(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "shared")
	e.settle()
	clone := newEnds(t, e.store, phoneA, e.parts()...)
	live := newEnds(t, e.store, phoneA, e.parts()...)
	live.connect()
	live.settle()
	e.write("workshop", "mine")
	e.settle()

	clone.write("workshop", "mine as well")
	clone.connect()
	clone.settle()
	clone.stopped(CodeFork)
	live.write("workshop", "and mine")
	live.settle()
	live.stopped(CodeFork)
	for _, c := range []*ends{clone, live} {
		if c.phone.Unsent() != 1 || len(c.phone.Pending("workshop")) != 1 {
			t.Fatal("the clone's entry is gone")
		}
	}
	if e.store.logs["workshop"].durable != 2 {
		t.Fatal("the store took both")
	}
}

// F20: a store that is older than what it gave out, in the same epoch, is damaged; in another epoch it was restored. A
// phone that cannot prove what it holds stops: neither is synced over.
func TestF20StoreIsOlderOrAnother(t *testing.T) {
	full := newEnds(t, nil, phoneA)
	full.connect()
	full.settle()
	full.write("workshop", "one")
	full.write("workshop", "two")
	full.settle()
	disk := full.parts()
	for i := range disk {
		disk[i].MAC = [32]byte{}
	}

	empty := newSimStore(&simWorld{seen: map[string]int{}}, []string{"shelf", "workshop"})
	short := newEnds(t, empty, phoneA, disk...)
	short.write("workshop", "three")
	short.connect()
	short.settle()
	short.stopped(CodeDamaged)

	restored := newSimStore(&simWorld{seen: map[string]int{}}, []string{"shelf", "workshop"})
	restored.epoch = Epoch{9}
	other := newEnds(t, restored, phoneA, disk...)
	other.write("workshop", "three")
	other.connect()
	other.settle()
	other.stopped(CodeEpoch)
	for _, e := range []*ends{short, other} {
		if e.phone.Unsent() != 1 || e.phone.Part("workshop").Down.Seq != 2 || e.store.logs["workshop"].durable != 0 {
			t.Fatal("something was deleted or sent")
		}
	}
}

// A store that lost acknowledged entries which had not come back yet is damaged as well.
func TestF20StoreLostWhatItAcknowledged(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.slow = true
	e.write("workshop", "one")
	e.settle()
	if e.phone.Unsent() != 0 || len(e.phone.Pending("workshop")) != 1 {
		t.Fatal("acknowledged and not back")
	}
	g := e.store.logs["workshop"]
	g.durable, g.synced[phoneA] = 0, 0
	e.connect()
	e.settle()
	e.stopped(CodeDamaged)
	if len(e.phone.Pending("workshop")) != 1 {
		t.Fatal("the entry is gone")
	}
}

// A running hash that differs at the same number: two histories.
func TestForkedStoreIsStopped(t *testing.T) {
	a := newEnds(t, nil, phoneA)
	a.write("workshop", "one")
	a.connect()
	a.settle()
	b := newEnds(t, nil, phoneB)
	b.write("workshop", "another")
	b.connect()
	b.settle()
	moved := newEnds(t, b.store, phoneA, a.parts()...)
	moved.connect()
	moved.settle()
	moved.stopped(CodeFork)
}

// F26: an unknown kind and version travels through unchanged; a greeting with later fields is understood; no protocol
// in common is said by name.
func TestF26OldAndNew(t *testing.T) {
	a := newEnds(t, nil, phoneA)
	w := a.phone.Write("workshop", a.now, 4_000_000_000, 77, []byte{0xFF, 0, 1})
	a.onPhone(a.phone.Committed(a.now, "workshop", w.Seq))
	a.connect()
	a.up[0] = append(a.up[0], "later fields"...)
	a.step()
	a.down[0] = append(a.down[0], "later fields"...)
	a.settle()
	a.agree("workshop", 1)
	b := newEnds(t, a.store, phoneB)
	b.connect()
	b.settle()
	b.agree("workshop", 1)
	v, err := ParseEnvelope(b.writes[0].Items[0])
	if err != nil || v.Device != phoneA {
		t.Fatal(v, err)
	}
	same(t, v.Entry, w.Append(nil))

	for _, r := range [][2]uint32{{3, 9}, {0, 0}} {
		e := newEnds(t, nil, phoneA)
		e.connect()
		e.up = [][]byte{Hello{Lo: r[0], Hi: r[1], Device: phoneA, Token: []byte("token")}.Append(nil)}
		e.settle()
		e.stopped(CodeProtocol)
	}
}

// F28: revoked in mid-push: the entries stay on the phone.
func TestF28RevokedInMidPush(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "one")
	e.atStore(e.link.Fail(CodeRevoked, "This phone was taken off the list.", "Ask the owner."))
	e.settle()
	e.stopped(CodeRevoked)
	if e.phone.Unsent() != 1 || e.store.logs["workshop"].durable != 0 {
		t.Fatal("taken in, or gone")
	}
}

// F29: the device is who the token proves. A wrong token gets nothing, and no entry can name another device.
func TestF29PayloadClaimsAnotherDevice(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.up = [][]byte{Hello{Lo: 1, Hi: 1, Device: phoneB, Token: []byte("stolen")}.Append(nil)}
	e.settle()
	e.stopped(CodeToken)

	// An honest token, and a chain that was begun for another device: the seed binds the device in.
	e.connect()
	e.settle()
	entry := Entry{Seq: 1, Kind: 1, V: 1}.Append(nil)
	b := Batch{Stream: "workshop", Log: Up, Items: [][]byte{entry}, Last: ChainSeed("workshop", phoneB).Next(entry)}
	e.atStore(e.link.Receive(e.now, b.Append(nil)))
	e.settle()
	e.stopped(CodeDamaged)
	if e.store.logs["workshop"].durable != 0 {
		t.Fatal("taken in")
	}
}

// F30: a hello that comes again changes nothing; another one ends the connection; a replayed session adds nothing.
func TestF30HelloReplayed(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.write("workshop", "one")
	e.connect()
	hello := e.up[0]
	e.settle()
	e.atStore(e.link.Receive(e.now, hello))
	if len(e.down) != 0 {
		t.Fatal("a second answer to one hello")
	}
	e.atStore(e.link.Receive(e.now, Hello{Lo: 1, Hi: 1, Device: phoneB, Token: []byte("token")}.Append(nil)))
	e.settle()
	e.stopped(CodeOrder)

	// The hello of before the push, on a new connection: it says that the phone has less than it wrote.
	e.connect()
	g := e.store.logs["workshop"]
	before := Batch{Stream: "workshop", Log: Up, Items: [][]byte{g.entries[phoneA][0]}, Last: g.chains[phoneA][1]}.Append(nil)
	e.up = [][]byte{hello, before}
	e.settle()
	if g.durable != 1 {
		t.Fatalf("%d entries after a replay of one", g.durable)
	}
}

// What comes before a hello, and what runs the wrong way, is refused by name.
func TestMessagesOutOfTurn(t *testing.T) {
	up := Batch{Stream: "workshop", Log: Up, Items: [][]byte{Entry{Seq: 1}.Append(nil)}}
	down := up
	down.Log = Down
	far := up
	far.Stream = "market"
	for name, m := range map[string]Message{"first of all": up, "down to a store": down, "unknown stream": far,
		"welcome to a store": Welcome{Protocol: 1}, "ack of its own log": Ack{"workshop", Up, 1}, "ack of nothing": Ack{"workshop", Down, 5}} {
		t.Run(name, func(t *testing.T) {
			e := newEnds(t, nil, phoneA)
			e.connect()
			if name != "first of all" {
				e.settle()
			}
			e.atStore(e.link.Receive(e.now, m.Append(nil)))
			if len(e.refused) != 1 || e.refused[0].Code != CodeOrder {
				t.Fatalf("%+v", e.refused)
			}
		})
	}
}
