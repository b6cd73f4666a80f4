package sync

import (
	"strings"
	"testing"
)

// F1: whatever message is the last one before a cut, and whatever is cut inside it, the next connection ends it.
func TestF1CutAtEveryMessageAndInsideEach(t *testing.T) {
	for cut := 0; ; cut++ {
		for _, inside := range []bool{false, true} {
			e := newEnds(t, nil, phoneA)
			for _, b := range bodies(3) {
				e.write("workshop", b)
			}
			e.write("shelf", "jar")
			e.connect()
			n := 0
			for n < cut && e.step() {
				n++
			}
			over := n < cut
			if inside && len(e.up) > 0 {
				e.up[0] = e.up[0][:len(e.up[0])-1]
				e.step()
				if len(e.refused) != 1 || e.refused[0].Code != CodeMalformed {
					t.Fatalf("cut inside message %d: %+v", cut, e.refused)
				}
			}
			e.phone.Closed()
			e.connect()
			e.settle()
			e.agree("workshop", 3)
			e.agree("shelf", 1)
			if over {
				return
			}
		}
	}
}

// F2: the store has it on disk and the acknowledgement is lost.
func TestF2AcknowledgementLostAfterTheDurableWrite(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "weighed")
	e.step() // to the store
	if e.store.logs["workshop"].durable != 1 || e.phone.Unsent() != 1 {
		t.Fatal("the store has it and the phone does not know")
	}
	e.down = nil
	e.phone.Closed()
	e.connect()
	e.settle()
	e.agree("workshop", 1)
	if e.acked != 1 {
		t.Fatalf("acknowledged up to %d", e.acked)
	}
}

// F2: only the ack is lost, and the entry comes back in its envelope: that is an acknowledgement too.
func TestF2EnvelopeComesBackWithoutTheAcknowledgement(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "weighed")
	e.step()
	if e.down[0][0] != typeAck {
		t.Fatal("the acknowledgement comes first")
	}
	e.down = e.down[1:]
	e.settle()
	e.agree("workshop", 1)
	if e.acked != 1 {
		t.Fatal("the caller was not told")
	}
}

// F3: a batch twice is persisted once and acknowledged again; one that came too early is answered by what is there.
func TestF3TwiceAndOutOfOrder(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "one")
	e.write("workshop", "two")
	first, second := e.up[0], e.up[1]
	e.up = [][]byte{second, first, first, second, second}
	e.step()
	if e.sent(typeHave) != 1 || e.store.logs["workshop"].durable != 0 {
		t.Fatal("a hole must be answered by what is there")
	}
	e.settle()
	e.agree("workshop", 2)
}

// F3: what is lost without a cut is sent again after a while.
func TestF3LostBatchIsRepeated(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.write("workshop", "one")
	e.up = nil
	e.onPhone(e.phone.Tick(e.now + RetryAfter - 1))
	if len(e.up) != 0 {
		t.Fatal("repeated too early")
	}
	e.onPhone(e.phone.Tick(e.now + RetryAfter))
	e.settle()
	e.agree("workshop", 1)
}

// F4: a dark socket, and a phone that slept for eight hours; F25: a clock set back does not keep it alive.
func TestF4DarkSocket(t *testing.T) {
	for name, c := range map[string]struct {
		ticks []int64
		beats int
		dead  bool
	}{
		"just under":      {[]int64{24_999}, 1, false},
		"beats":           {[]int64{9_999, 10_000, 19_999, 20_000}, 2, false},
		"dead":            {[]int64{10_000, 25_000}, 1, true},
		"asleep 8 h":      {[]int64{8 * 3_600_000}, 0, true},
		"clock back 1 h":  {[]int64{-3_600_000, -3_600_000 + 24_999}, 1, false},
		"back and silent": {[]int64{-3_600_000, -3_600_000 + 25_000}, 0, true},
	} {
		t.Run(name, func(t *testing.T) {
			e := newEnds(t, nil, phoneA)
			e.connect()
			e.settle()
			for _, at := range c.ticks {
				e.onPhone(e.phone.Tick(e.now + at))
			}
			if got := e.sent(typeBeat); got != c.beats {
				t.Errorf("%d beats, want %d", got, c.beats)
			}
			if dead := len(e.stops) == 1 && e.stops[0].Code == CodeSilent && !e.stops[0].Fatal; dead != c.dead {
				t.Errorf("dead %v, want %v: %v", dead, c.dead, e.stops)
			}
		})
	}
}

// F5: a captive portal, and other things that are no message, end the connection by name and lose nothing.
func TestF5WhatIsNoMessageLosesNothing(t *testing.T) {
	for name, bad := range map[string]struct{ msg, code string }{
		"html":          {"<html><body>Sign in to the network</body></html>", CodeMalformed},
		"nothing":       {"", CodeMalformed},
		"type 0":        {"\x00", CodeMalformed},
		"cut off":       {"\x02\x01", CodeMalformed},
		"too long":      {"\x03" + strings.Repeat("a", MaxMessageBytes), CodeMalformed},
		"beat and more": {"\x06\x06", CodeMalformed},
		"snapshot":      {"\x21", CodeLater},
		"return":        {"\x10", CodeMalformed},
		"renumbered":    {"\x13", CodeLater},
		"hello":         {string(Hello{Lo: 1, Hi: 1}.Append(nil)), CodeOrder},
	} {
		t.Run(name, func(t *testing.T) {
			e := newEnds(t, nil, phoneA)
			e.write("workshop", "kept")
			e.connect()
			e.down = [][]byte{[]byte(bad.msg)}
			e.up = nil
			e.settle()
			if len(e.stops) != 1 || e.stops[0].Code != bad.code || e.stops[0].Fatal {
				t.Fatalf("%+v", e.stops)
			}
			if e.onPhone(e.phone.Tick(e.now + 1)); len(e.stops) != 1 {
				t.Fatal("a stopped link goes on")
			}
			if e.phone.Unsent() != 1 || len(e.phone.Pending("workshop")) != 1 {
				t.Fatal("the entry is gone")
			}
			e.connect()
			e.settle()
			e.agree("workshop", 1)
		})
	}
}

// F7: never more than a window under way, and acknowledgements move it on.
func TestF7WindowIsKept(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	body := strings.Repeat("x", MaxBodyBytes)
	for range 40 {
		e.write("workshop", body)
	}
	e.connect()
	for e.step() {
		if n := e.sent(typeBatch); n > 2*Window {
			t.Fatalf("%d batches on the way", n)
		}
	}
	e.agree("workshop", 40)
}

// Only Stored makes an acknowledgement, on either side.
func TestAcknowledgementWaitsForTheDisk(t *testing.T) {
	e := newEnds(t, nil, phoneA)
	e.connect()
	e.settle()
	e.slow = true
	e.write("workshop", "one")
	e.settle()
	if len(e.writes) != 1 || len(e.phone.Pending("workshop")) != 1 || e.phone.Part("workshop").Down.Seq != 0 {
		t.Fatal("something counts as kept that is not")
	}
	if got := e.phone.Write("workshop", e.now, 1, 1, nil); got.Seen.Seq != 0 || got.Seen.Epoch != e.store.epoch {
		t.Fatalf("seen %v", got.Seen)
	}
	e.onPhone(e.phone.Stored("workshop", Down, 1))
	if e.sent(typeAck) != 1 || len(e.phone.Pending("workshop")) != 0 {
		t.Fatal("kept and not acknowledged")
	}
	if got := e.phone.Write("workshop", e.now, 1, 1, nil); got.Seen.Seq != 1 {
		t.Fatalf("seen %v", got.Seen)
	}
}

// F32: exactly at each limit, and one over.
func TestF32Limits(t *testing.T) {
	entry := func(seq uint64, size int) []byte {
		e := Entry{Seq: seq, Kind: 1, V: 1}
		e.Body = make([]byte, size-len(e.Append(nil)))
		return e.Append(nil)
	}
	many := func(n, size int) (out [][]byte) {
		for i := range n {
			out = append(out, entry(uint64(i+1), size))
		}
		return out
	}
	for name, c := range map[string]struct {
		items [][]byte
		kept  int
	}{
		"an entry at the limit":      {many(1, MaxEntryBytes), 1},
		"an entry one byte over":     {many(1, MaxEntryBytes+1), 0},
		"500 items":                  {many(500, 20), 500},
		"501 items":                  {many(501, 20), 0},
		"a batch at the limit":       {many(2, MaxBatchBytes/2), 2},
		"a batch one byte over":      {append(many(2, MaxBatchBytes/2)[:1], entry(2, MaxBatchBytes/2-20), entry(3, 21)), 0},
		"no items":                   {nil, 0},
		"a number that is not dense": {append(many(1, 20), entry(3, 20)), 0},
		"an empty item":              {[][]byte{{}}, 0},
		"an entry of another layout": {[][]byte{append([]byte{2}, entry(1, 20)[1:]...)}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			e := newEnds(t, nil, phoneA)
			e.connect()
			e.settle()
			b := Batch{Stream: "workshop", Log: Up, Items: c.items, Last: ChainSeed("workshop", phoneA)}
			for _, item := range c.items {
				b.Last = b.Last.Next(item)
			}
			e.atStore(e.link.Receive(e.now, b.Append(nil)))
			if got := e.store.logs["workshop"].durable; got != c.kept {
				t.Fatalf("%d kept, want %d: %v", got, c.kept, e.refused)
			}
			if c.kept == 0 && (len(e.refused) != 1 || e.refused[0].Code != CodeMalformed) {
				t.Fatalf("%+v", e.refused)
			}
		})
	}
}

// F31: none, one, many; a second phone gets all.
func TestF31NoneOneMany(t *testing.T) {
	for _, n := range []int{0, 1, 499, 500, 501, 10_000} {
		a := newEnds(t, nil, phoneA)
		for _, b := range bodies(n) {
			a.write("workshop", b)
		}
		a.connect()
		a.settle()
		a.agree("workshop", n)
		b := newEnds(t, a.store, phoneB)
		b.connect()
		b.settle()
		b.agree("workshop", n)
	}
}

// What was read and does not fit the kept hash is named, and not passed on with a hash that fits it.
func TestDamagedReadIsNotSpread(t *testing.T) {
	a := newEnds(t, nil, phoneA)
	a.write("workshop", "one")
	a.connect()
	a.settle()
	raw := a.store.logs["workshop"].envelopes[0]
	raw[len(raw)-1] ^= 1
	b := newEnds(t, a.store, phoneB)
	b.connect()
	b.settle()
	b.stopped(CodeDamaged)
	if len(b.writes) != 0 {
		t.Fatal("the damage was passed on")
	}
}
