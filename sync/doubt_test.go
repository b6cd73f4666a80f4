package sync

import "testing"

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
