package sync

import (
	"math/rand"
	"testing"
)

// A home store that renumbers before the phone's log was read back must not make the phone let go of what only it has: what
// was not compared is not given up.
func TestNothingIsSwappedBeforeItWasCompared(t *testing.T) {
	a, parts := old(t, 3)
	s := restored(a.store, 1)
	p, err := NewReplica(phoneA, alone(parts)...)
	if err != nil {
		t.Fatal(err)
	}
	todo := p.Connect(a.now, []byte("token"))
	g := s.logs["workshop"]
	head := Head{1, g.running[1]}
	for _, m := range []Message{
		Welcome{Protocol: 2, Store: "Book", Role: "maker", Letter: "A", Clock: a.now, Streams: []WelcomeStream{{Name: "workshop", Epoch: s.epoch, Down: head, Up: Head{0, ChainSeed("workshop", phoneA)}}}},
		Return{Stream: "workshop", Every: StepEvery},
		// The phone's host is still reading.
		Renumber{Stream: "workshop", Epoch: s.epoch, Keep: 0, Through: head, Up: Head{0, ChainSeed("workshop", phoneA)}},
		Batch{Stream: "workshop", Log: Back, Items: g.envelopes[:1], Last: head.Hash},
	} {
		todo = append(todo, p.Receive(a.now, m.Append(nil))...)
	}
	stopped := false
	for _, act := range todo {
		switch act := act.(type) {
		case Swap:
			t.Fatalf("everything after number %d is let go of, and %d entries come", act.Keep, len(act.Items))
		case Stop:
			stopped = act.Code == CodeOrder
		}
	}
	if !stopped {
		t.Fatal("the line went on")
	}
}

// A socket that never says who it is does not stay by sending beats.
func TestBeatsAreNoGreeting(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	link := Accept(StoreConfig{Name: "Book", Epoch: e.store.epoch, Key: e.store.key}, simSource{e.store, &simConn{device: phoneA}})
	link.Start(e.now)
	for at := int64(1000); at < DeadAfter; at += 1000 {
		if out := append(link.Receive(e.now+at, Beat{}.Append(nil)), link.Tick(e.now+at)...); len(out) > 0 {
			t.Fatalf("after %d ms: %v", at, out)
		}
	}
	out := link.Tick(e.now + DeadAfter)
	if len(out) != 1 || out[0].(Stop).Code != CodeSilent {
		t.Fatalf("after %d ms without a hello: %v", DeadAfter, out)
	}
}

// Whatever messages a store of this or of another life sends, in any order and however slow the phone's disk is, the phone
// swaps nothing away that does not come back, and goes on without a fault.
func TestAStoreInDoubtTakesNothingAway(t *testing.T) {
	swaps := 0
	for seed := range int64(1500) {
		d := newDoubt(t, seed)
		for range 25 {
			if d.ended {
				break
			}
			d.step()
		}
		swaps += d.swaps
	}
	if swaps == 0 {
		t.Error("no phone ever swapped, so nothing was shown")
	}
}

// doubt is a phone whose log is the beginning of one store's, and the log of a store that went on otherwise.
type doubt struct {
	t     *testing.T
	seed  int64
	r     *rand.Rand
	now   int64
	phone *Replica
	disk  [][]byte
	chain []Hash // of the phone's own entries
	log   *simLog
	epoch Epoch

	writes  []Persist
	fetches []Fetch
	ended   bool
	swaps   int
}

func newDoubt(t *testing.T, seed int64) *doubt {
	d := &doubt{t: t, seed: seed, r: rand.New(rand.NewSource(seed)), now: 1_790_000_000_000, chain: []Hash{ChainSeed("workshop", phoneA)}}
	var mine, others [][]byte
	for i := range uint64(10) {
		mine = append(mine, Entry{Seq: i + 1, Kind: 3, V: 1, Body: []byte("of A")}.Append(nil))
		others = append(others, Entry{Seq: i + 1, Kind: 3, V: 1, Body: []byte("of B")}.Append(nil))
		d.chain = append(d.chain, d.chain[i].Next(mine[i]))
	}
	w := &simWorld{seen: map[string]int{}}
	one, other := newSimStore(w, []string{"workshop"}), newSimStore(w, []string{"workshop"})
	a, b := 0, 0
	for range 10 {
		if d.r.Intn(2) == 0 && a < 5 {
			one.add("workshop", Envelope{Device: phoneA, Entry: mine[a]})
			a++
		} else {
			one.add("workshop", Envelope{Device: phoneB, Entry: others[b]})
			b++
		}
	}
	log := one.logs["workshop"].envelopes
	d.disk = append(d.disk, log[:d.r.Intn(11)]...)
	p := NewPart("workshop", phoneA)
	for _, raw := range d.disk {
		if _, _, err := p.Take(phoneA, raw); err != nil {
			t.Fatal(err)
		}
	}
	p.Mine, p.Epoch, p.Acked = mine[:6], Epoch{1}, p.Own.Seq
	var err error
	if d.phone, err = NewReplica(phoneA, p); err != nil {
		t.Fatal(err)
	}
	// The other store has a beginning of it, perhaps something new, and some or all of the rest.
	common, rest := d.r.Intn(11), d.r.Intn(3)
	for i, raw := range log {
		if i == common && d.r.Intn(2) == 0 {
			other.add("workshop", Envelope{Device: DeviceID{0xC}, Entry: mine[0]})
		}
		if i < common || rest > 0 {
			v, err := ParseEnvelope(raw)
			if err != nil {
				t.Fatal(err)
			}
			other.add("workshop", v)
		}
	}
	d.log, d.epoch = other.logs["workshop"], Epoch{byte(1 + d.r.Intn(2))}
	d.do(d.phone.Connect(d.now, []byte("token")))
	d.receive(Welcome{Protocol: 2, Store: "Book", Role: "maker", Letter: "A", Clock: d.now, Streams: []WelcomeStream{{Name: "workshop", Epoch: d.epoch, Down: d.head(), Up: d.own()}}})
	return d
}

func (d *doubt) head() Head {
	n := d.r.Intn(len(d.log.running))
	return Head{uint64(n), d.log.running[n]}
}

func (d *doubt) own() Head {
	n := d.r.Intn(7)
	return Head{uint64(n), d.chain[n]}
}

func (d *doubt) receive(m Message) { d.do(d.phone.Receive(d.now, m.Append(nil))) }

func (d *doubt) do(todo []Action) {
	for _, a := range todo {
		switch a := a.(type) {
		case Persist:
			d.writes = append(d.writes, a)
		case Fetch:
			d.fetches = append(d.fetches, a)
		case Stop:
			d.ended = true
		case Swap:
			d.swaps++
			if seq := missing(d.disk[a.Keep:min(a.Was, uint64(len(d.disk)))], a.Items); seq > 0 {
				d.t.Fatalf("seed %d: number %d is swapped away and does not come back", d.seed, seq)
			}
		}
	}
}

// step is one message of the store, or something that the phone's disk was asked for before.
func (d *doubt) step() {
	d.now += int64(d.r.Intn(3000))
	switch d.r.Intn(8) {
	case 0:
		d.receive(Ack{"workshop", []Log{Up, Back}[d.r.Intn(2)], uint64(d.r.Intn(7))})
	case 1:
		d.receive(Have{"workshop", Up, d.own()})
	case 2, 3:
		if from, all := d.r.Intn(len(d.log.envelopes)+1), len(d.log.envelopes); from < all {
			to := from + 1 + d.r.Intn(all-from)
			d.receive(Batch{Stream: "workshop", Log: []Log{Down, Back}[d.r.Intn(2)], Prev: uint64(from), Items: d.log.envelopes[from:to], Last: d.log.running[to]})
		}
	case 4:
		d.receive(Return{Stream: "workshop", Every: StepEvery})
	case 5:
		through := d.head()
		d.receive(Renumber{Stream: "workshop", Epoch: d.epoch, Keep: uint64(d.r.Intn(int(through.Seq) + 1)), Through: through, Up: d.own()})
	case 6:
		if len(d.writes) > 0 {
			p := d.writes[0]
			d.writes = d.writes[1:]
			if p.After == uint64(len(d.disk)) {
				d.disk = append(d.disk, p.Items...)
			}
			d.do(d.phone.Stored("workshop", Down, p.After+uint64(len(p.Items))))
		}
	case 7:
		if len(d.fetches) > 0 {
			f := d.fetches[0]
			d.fetches = d.fetches[1:]
			if f.Through <= uint64(len(d.disk)) {
				d.do(d.phone.Fetched(d.now, f.Stream, f.After, d.disk[f.After:f.Through]))
			}
		}
		d.do(d.phone.Tick(d.now))
	}
}
