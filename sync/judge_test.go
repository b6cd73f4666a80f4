package sync

import (
	"strings"
	"testing"
)

// Each side compares for itself: a stranger on the other one may not.

// twoEach is a phone and a store that agree on two entries.
func twoEach(t *testing.T) *ends {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "one")
	e.write("workshop", "two")
	e.settle()
	e.agree("workshop", 2)
	return e
}

func TestStoreJudgesAHello(t *testing.T) {
	e := twoEach(t)
	g := e.store.logs["workshop"]
	down := func(n uint64) Head { return Head{n, g.running[n]} }
	up := func(n uint64) Head { return Head{n, g.chains[phoneA][n]} }
	bad := Hash{1}
	for name, c := range map[string]struct {
		s    HelloStream
		code string
	}{
		"as it is":                 {HelloStream{"workshop", e.store.epoch, down(2), up(2), [32]byte{}}, ""},
		"less of the store's log":  {HelloStream{"workshop", e.store.epoch, down(1), up(2), [32]byte{}}, ""},
		"more of its own":          {HelloStream{"workshop", e.store.epoch, down(2), Head{9, bad}, [32]byte{}}, ""},
		"head without epoch":       {HelloStream{"workshop", Epoch{}, down(2), up(2), [32]byte{}}, CodeMalformed},
		"another epoch":            {HelloStream{"workshop", Epoch{9}, down(2), up(2), [32]byte{}}, CodeEpoch},
		"another epoch, no head":   {HelloStream{"workshop", Epoch{9}, down(0), up(2), [32]byte{}}, CodeEpoch},
		"above the store":          {HelloStream{"workshop", e.store.epoch, Head{3, bad}, up(2), [32]byte{}}, CodeDamaged},
		"another running hash":     {HelloStream{"workshop", e.store.epoch, Head{2, bad}, up(2), [32]byte{}}, CodeFork},
		"another seed":             {HelloStream{"workshop", Epoch{}, Head{0, bad}, up(2), [32]byte{}}, CodeFork},
		"less of its own":          {HelloStream{"workshop", e.store.epoch, down(2), up(1), [32]byte{}}, CodeBehind},
		"another chain":            {HelloStream{"workshop", e.store.epoch, down(2), Head{2, bad}, [32]byte{}}, CodeFork},
		"less and another chain":   {HelloStream{"workshop", e.store.epoch, down(2), Head{1, bad}, [32]byte{}}, CodeFork},
		"silent about the stream":  {HelloStream{"shelf", e.store.epoch, Head{0, RunningSeed("shelf")}, Head{0, ChainSeed("shelf", phoneA)}, [32]byte{}}, CodeBehind},
		"a stream nobody welcomes": {HelloStream{"market", Epoch{9}, Head{7, bad}, Head{7, bad}, [32]byte{}}, CodeBehind},
	} {
		e.connect()
		e.up = nil
		e.atStore(e.link.Receive(e.now, Hello{Lo: 1, Hi: 1, Device: phoneA, Token: []byte("token"), Streams: []HelloStream{c.s}}.Append(nil)))
		switch {
		case name == "above the store" && !strings.Contains(e.refused[0].Says, "up to number 2, and this phone was given it up to 3"):
			t.Errorf("%s: %s", name, e.refused[0].Says)
		case c.code == "" && (len(e.refused) > 0 || e.down[0][0] != typeWelcome):
			t.Errorf("%s: %+v", name, e.refused)
		case c.code != "" && (len(e.refused) != 1 || e.refused[0].Code != c.code):
			t.Errorf("%s: %+v, want %s", name, e.refused, c.code)
		case c.code != "" && (len(e.down) != 1 || e.down[0][0] != typeRefuse):
			t.Errorf("%s: something else than a refusal was sent", name)
		}
	}
}

func TestPhoneJudgesAWelcome(t *testing.T) {
	bad := Hash{1}
	for name, c := range map[string]struct {
		change func(*WelcomeStream)
		code   string
	}{
		"as it is":             {func(*WelcomeStream) {}, ""},
		"the store has more":   {func(s *WelcomeStream) { s.Down = Head{9, bad} }, ""},
		"no epoch":             {func(s *WelcomeStream) { s.Epoch = Epoch{} }, CodeMalformed},
		"another epoch":        {func(s *WelcomeStream) { s.Epoch = Epoch{9} }, CodeEpoch},
		"the store has less":   {func(s *WelcomeStream) { s.Down.Seq = 1 }, CodeDamaged},
		"another running hash": {func(s *WelcomeStream) { s.Down.Hash = bad }, CodeFork},
		"lost acknowledged":    {func(s *WelcomeStream) { s.Up.Seq = 1 }, CodeDamaged},
		"knows more of me":     {func(s *WelcomeStream) { s.Up.Seq = 4 }, CodeBehind},
		"another chain":        {func(s *WelcomeStream) { s.Up.Hash = bad }, CodeFork},
	} {
		e := twoEach(t)
		e.phone.Closed()
		e.write("workshop", "three")
		p := e.phone.Part("workshop")
		s := WelcomeStream{Name: "workshop", Epoch: e.store.epoch, Down: p.Down, Up: p.Own}
		c.change(&s)
		e.connect()
		e.up = nil
		e.onPhone(e.phone.Receive(e.now, Welcome{Protocol: 1, Streams: []WelcomeStream{s}}.Append(nil)))
		switch {
		case c.code == "" && (len(e.stops) > 0 || e.sent(typeBatch) != 1):
			t.Errorf("%s: %+v", name, e.stops)
		case c.code != "" && (len(e.stops) != 1 || e.stops[0].Code != c.code || e.sent(typeBatch) != 0 || e.sent(typeRefuse) != 1):
			t.Errorf("%s: %+v, want %s", name, e.stops, c.code)
		}
		if len(e.phone.Pending("workshop")) != 1 || e.phone.Unsent() != 1 {
			t.Errorf("%s: the unsent entry is gone", name)
		}
	}
}

func TestPhoneTakesNoOtherProtocol(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.onPhone(e.phone.Receive(e.now, Welcome{Protocol: 3}.Append(nil)))
	if len(e.stops) != 1 || e.stops[0].Code != CodeProtocol {
		t.Fatalf("%+v", e.stops)
	}
}

func upBatch(prev Head, items ...[]byte) Batch {
	b := Batch{Stream: "workshop", Log: Up, Prev: prev.Seq, Items: items, Last: prev.Hash}
	for _, item := range items {
		b.Last = b.Last.Next(item)
	}
	return b
}

// F13: the same numbers again with other bytes, on the connection that brought the first ones, stored or not yet.
func TestF13OtherBytesUnderTheSameNumbers(t *testing.T) {
	for _, stored := range []bool{true, false} {
		e := newEnds(t, nil, phoneA)
		e.connect()
		e.settle()
		seed := Head{0, ChainSeed("workshop", phoneA)}
		first := upBatch(seed, Entry{Seq: 1, Body: []byte("a")}.Append(nil))
		todo := e.link.Receive(e.now, first.Append(nil))
		if stored {
			e.atStore(todo)
		}
		e.atStore(e.link.Receive(e.now, upBatch(seed, Entry{Seq: 1, Body: []byte("b")}.Append(nil)).Append(nil)))
		if len(e.refused) != 1 || e.refused[0].Code != CodeFork {
			t.Fatalf("stored %v: %+v", stored, e.refused)
		}
	}
}

// F7: a stranger who keeps no window fills no memory, and Stored of some acknowledges those and no more.
func TestF7SenderBeyondItsWindow(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	at := Head{0, ChainSeed("workshop", phoneA)}
	taken := 0
	for i := range 30 {
		b := upBatch(at, Entry{Seq: uint64(i + 1)}.Append(nil))
		at = Head{uint64(i + 1), b.Last}
		for _, a := range e.link.Receive(e.now, b.Append(nil)) {
			if _, ok := a.(Persist); ok {
				taken++
			}
		}
	}
	if taken != 2*Window {
		t.Fatalf("%d batches taken in", taken)
	}
	todo := e.link.Stored("workshop", Up, 3)
	if len(todo) != 1 {
		t.Fatalf("%+v", todo)
	}
	same(t, todo[0].(Send).Bytes, Ack{"workshop", Up, 3}.Append(nil))
	if again := e.link.Stored("workshop", Up, 2); len(again) != 0 {
		t.Fatalf("an older word makes an acknowledgement: %+v", again)
	}
}

// An ack of what was written and not sent on this connection changes nothing; a have with another hash is a fork.
func TestSenderBelievesOnlyWhatFits(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	body := strings.Repeat("x", MaxBodyBytes)
	for range 3 * Window {
		e.write("workshop", body)
	}
	e.connect()
	e.step() // hello
	welcome := e.down[0]
	e.down = nil
	e.onPhone(e.phone.Receive(e.now, welcome))
	e.onPhone(e.phone.Receive(e.now, Ack{"workshop", Up, 3 * Window}.Append(nil)))
	if e.phone.Unsent() != 3*Window || len(e.stops) > 0 {
		t.Fatalf("%d unsent, %v", e.phone.Unsent(), e.stops)
	}
	e.onPhone(e.phone.Receive(e.now, Have{"workshop", Up, Head{2, Hash{1}}}.Append(nil)))
	if len(e.stops) != 1 || e.stops[0].Code != CodeFork {
		t.Fatalf("%+v", e.stops)
	}
	e.connect()
	e.step()
	e.onPhone(e.phone.Receive(e.now, welcome))
	e.onPhone(e.phone.Receive(e.now, Have{"workshop", Up, Head{99, Hash{1}}}.Append(nil)))
	if len(e.stops) != 1 || e.stops[0].Code != CodeBehind {
		t.Fatalf("%+v", e.stops)
	}
}

// Envelopes of this device that it did not write, or wrote otherwise, are not taken in.
func TestPhoneKnowsItsOwnEntries(t *testing.T) {
	for name, c := range map[string]struct {
		entry Entry
		code  string
	}{
		"not on its disk": {Entry{Seq: 2}, CodeBehind},
		"never written":   {Entry{Seq: 3}, CodeBehind},
		"other bytes":     {Entry{Seq: 1, Body: []byte("not mine")}, CodeFork},
		"out of order":    {Entry{}, CodeDamaged},
	} {
		e := newEnds(t, nil, phoneA)
		e.write("workshop", "mine")
		e.phone.Write("workshop", e.now, 1, 1, nil)
		if name == "out of order" {
			c.entry = e.write("workshop", "mine too")
		}
		e.connect()
		e.step()
		e.onPhone(e.phone.Receive(e.now, e.down[0]))
		raw := Envelope{Seq: 1, Device: phoneA, Entry: c.entry.Append(nil)}.Append(nil)
		b := Batch{Stream: "workshop", Log: Down, Items: [][]byte{raw}, Last: RunningSeed("workshop").Next(raw)}
		e.onPhone(e.phone.Receive(e.now, b.Append(nil)))
		if len(e.stops) != 1 || e.stops[0].Code != c.code || len(e.writes) != 0 {
			t.Errorf("%s: %+v, %d writes", name, e.stops, len(e.writes))
		}
		if len(e.phone.Pending("workshop")) == 0 {
			t.Errorf("%s: the pending entry is gone", name)
		}
	}
}

// Committed of one entry says nothing of a later one that is still being written.
func TestCommittedIsNumberByNumber(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	first := e.phone.Write("workshop", e.now, 1, 1, nil)
	e.phone.Write("workshop", e.now, 1, 1, nil)
	e.connect()
	e.settle()
	e.onPhone(e.phone.Committed(e.now, "workshop", first.Seq))
	e.settle()
	if n := e.store.logs["workshop"].durable; n != 1 {
		t.Fatalf("%d entries at the store, one is on the phone's disk", n)
	}
}
