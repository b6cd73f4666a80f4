package sync

import (
	"strings"
	"testing"
)

// F10: a write that the disk refused is forgotten, and its number is given to the next entry.
func TestF10ForgottenNumbersAreFree(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	first := e.write("workshop", "kept")
	if lost := e.phone.Write("workshop", e.now, 1, 1, nil); lost.Seq != first.Seq+1 || e.phone.Unsent() != 1 {
		t.Fatal("what is being written counts")
	}
	e.phone.Forget()
	if next := e.phone.Write("workshop", e.now, 1, 1, nil); next.Seq != first.Seq+1 {
		t.Fatalf("number %d after %d", next.Seq, first.Seq)
	}
}

// F11: what was handed out to persist and never stored is handed out again by the next connection, and counts once.
func TestF11KilledBetweenReceivingAndCommit(t *testing.T) {
	a := newEnds(t, nil, phoneB)
	for _, b := range bodies(3) {
		a.write("workshop", b)
	}
	a.connect()
	a.settle()
	e := newEnds(t, a.store, phoneA)
	e.slow = true
	e.connect()
	e.settle()
	if len(e.writes) != 1 {
		t.Fatalf("%d writes", len(e.writes))
	}
	e.connect()
	e.settle()
	e.onPhone(e.phone.Stored("workshop", Down, 2)) // the first connection's write, which ended after all, in part
	e.onPhone(e.phone.Stored("workshop", Down, 3))
	e.onPhone(e.phone.Stored("workshop", Down, 3))
	e.agree("workshop", 3)
}

// F11: the same when what was handed out holds own entries: coming back twice is not coming back wrongly.
func TestF11OwnEntriesHandedOutTwice(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.write("workshop", "mine")
	e.slow = true
	e.connect()
	e.settle()
	e.connect()
	e.settle()
	if len(e.writes) != 2 || len(e.phone.Pending("workshop")) != 1 {
		t.Fatalf("%d writes, stops %+v", len(e.writes), e.stops)
	}
	e.onPhone(e.phone.Stored("workshop", Down, 1))
	e.agree("workshop", 1)
}

// A replica begins again from its parts as it was.
func TestPartsBringBackTheReplica(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "in the book")
	e.settle()
	e.phone.Closed()
	e.write("workshop", "on this phone")
	again := newEnds(t, e.store, phoneA, e.parts()...)
	if again.phone.Unsent() != 1 || len(again.phone.Pending("workshop")) != 1 {
		t.Fatalf("%d unsent", again.phone.Unsent())
	}
	same(t, again.phone.Pending("workshop")[0], e.phone.Pending("workshop")[0])

	// The same from all envelopes and all own entries, as a start without a snapshot reads them.
	p := NewPart("workshop", phoneA)
	for _, raw := range e.store.logs["workshop"].envelopes {
		if _, _, err := p.Take(phoneA, raw); err != nil {
			t.Fatal(err)
		}
	}
	p.Epoch = e.store.epoch
	p.Mine = append([][]byte{e.store.logs["workshop"].entries[phoneA][0]}, e.phone.Pending("workshop")...)
	if have := e.phone.Part("workshop"); p.Down != have.Down || p.Own != have.Own {
		t.Fatalf("%+v\n%+v", p, have)
	}
	third := newEnds(t, e.store, phoneA, p)
	third.connect()
	third.settle()
	if third.phone.Unsent() != 0 || third.store.logs["workshop"].durable != 2 {
		t.Fatal("the pending entry did not get through")
	}
}

// A disk that does not fit together is said at once, before a number is given away twice.
func TestPartsThatDoNotFitAreRefused(t *testing.T) {
	one, two, three := Entry{Seq: 1}.Append(nil), Entry{Seq: 2}.Append(nil), Entry{Seq: 3}.Append(nil)
	for name, p := range map[string]struct {
		part Part
		says string
	}{
		"a hole":               {Part{Stream: "workshop", Mine: [][]byte{one, three}}, "number 3"},
		"not from the first":   {Part{Stream: "workshop", Mine: [][]byte{two}}, "number 2"},
		"garbage":              {Part{Stream: "workshop", Mine: [][]byte{{7}}}, "entry"},
		"acknowledged is gone": {Part{Stream: "workshop", Acked: 2, Mine: [][]byte{one}}, "up to 2"},
		"no name":              {Part{}, "not at all"},
	} {
		if _, err := NewReplica(phoneA, p.part); err == nil || !strings.Contains(err.Error(), p.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// F25: a clock that is wrong is never a reason to refuse honest work.
func TestF25AnyClockWrites(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	for _, at := range []int64{-1 << 63, -1, 0, 1<<63 - 1} {
		e.now = at
		e.write("workshop", "work")
	}
	e.now = 0
	e.connect()
	e.settle()
	e.agree("workshop", 4)
}
