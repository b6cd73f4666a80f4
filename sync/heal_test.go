package sync

import (
	"fmt"
	"strings"
	"testing"
)

// restored is a store that begins a new life with the first n entries of another's workshop.
func restored(s *simStore, n int) *simStore {
	r := newSimStore(&simWorld{seen: map[string]int{}}, s.names)
	r.epoch = Epoch{9}
	for _, raw := range s.logs["workshop"].envelopes[:n] {
		v, err := ParseEnvelope(raw)
		if err != nil {
			panic(err)
		}
		r.add("workshop", v)
	}
	r.logs["workshop"].sync()
	return r
}

// old is a store with entries of A and B, and A as it stands then: B is gone afterwards.
func old(t *testing.T, n int) (*ends, []Part) {
	t.Helper()
	b := newEnds(t, nil, phoneB)
	b.write("workshop", "of B, in the backup")
	b.connect()
	b.settle()
	for i := range n {
		b.write("workshop", fmt.Sprint("of B, after the backup ", i))
		b.settle()
	}
	a := newEnds(t, b.store, phoneA)
	a.write("workshop", "of A")
	a.connect()
	a.settle()
	a.agree("workshop", n+2)
	return a, a.parts()
}

// meet joins a phone's disk with another store.
func meet(t *testing.T, a *ends, parts []Part, s *simStore) *ends {
	t.Helper()
	e := newEnds(t, s, phoneA, parts...)
	e.kept = map[string][][]byte{"workshop": a.disk("workshop"), "shelf": a.disk("shelf")}
	return e
}

// swapped is the phone as it begins anew after its swap.
func (e *ends) swapped(t *testing.T) *ends {
	t.Helper()
	if len(e.swaps) != 1 || len(e.stops) != 1 || e.stops[0].Code != CodeHealed || e.stops[0].Fatal {
		t.Fatalf("swaps %+v, stops %+v, store %+v", e.swaps, e.stops, e.refused)
	}
	s := e.swaps[0]
	var parts []Part
	kept := map[string][][]byte{}
	for _, name := range e.phone.Streams() {
		was := e.phone.Part(name)
		p := NewPart(name, phoneA)
		p.Epoch, p.Acked, kept[name] = was.Epoch, was.Acked, e.disk(name)
		if name == s.Stream {
			p.Epoch, p.Acked, kept[name] = s.Epoch, s.Acked, append(e.disk(name)[:s.Keep:s.Keep], s.Items...)
		}
		for _, raw := range kept[name] {
			if _, _, err := p.Take(phoneA, raw); err != nil {
				t.Fatal(err)
			}
		}
		if p.MAC = was.MAC; name == s.Stream {
			p.MAC = s.MAC
		}
		for _, m := range e.phone.Pending(name) {
			if one, _ := ParseEntry(m); one.Seq > p.Own.Seq {
				p.Mine = append(p.Mine, m)
			}
		}
		parts = append(parts, p)
	}
	n := newEnds(t, e.store, phoneA, parts...)
	n.kept = kept
	return n
}

// heal connects and begins anew until nothing is left to bring together, and gives the phone and the swap of the workshop.
func (e *ends) heal(t *testing.T) (*ends, Swap) {
	t.Helper()
	var of Swap
	for range 4 {
		e.connect()
		e.settle()
		if len(e.swaps) == 0 {
			return e, of
		}
		if e.swaps[0].Stream == "workshop" {
			of = e.swaps[0]
		}
		e = e.swapped(t)
	}
	t.Fatal("it never ends")
	return nil, of
}

// alone is a phone of which only the workshop is apart, so that one connection is enough.
func alone(parts []Part) (out []Part) {
	for _, p := range parts {
		if p.Stream == "workshop" {
			out = append(out, p)
		}
	}
	return out
}

// F20: a store restored from a backup gets its end back from a phone, also what a gone device wrote, under the same
// numbers and byte for byte.
func TestF20TailComesBackUnderItsNumbers(t *testing.T) {
	a, parts := old(t, 5)
	was := a.store.logs["workshop"]
	s := restored(a.store, 1)
	e := meet(t, a, parts, s)
	e.write("workshop", "written while the store was away")
	after, swap := e.heal(t)
	after.agree("workshop", 8)
	if at := differ(s.logs["workshop"].envelopes[:7], was.envelopes); at >= 0 {
		t.Fatalf("number %d is not what it was", at+1)
	}
	if swap.Keep != 7 || len(swap.Items) != 0 {
		t.Fatalf("the phone's log was touched: %+v", swap)
	}
}

// F20: where the store has moved on, the end is appended in its old order and the phone's log is numbered anew.
func TestF20TailBehindWhatCameMeanwhile(t *testing.T) {
	a, parts := old(t, 3)
	s := restored(a.store, 1)
	c := newEnds(t, s, DeviceID{0xC})
	c.write("workshop", "in the new life")
	c.connect()
	c.settle()
	after, swap := meet(t, a, parts, s).heal(t)
	after.agree("workshop", 6)
	if swap.Keep != 1 || len(swap.Items) != 5 {
		t.Fatalf("kept to %d, %d items", swap.Keep, len(swap.Items))
	}
	var order []string
	for _, raw := range s.logs["workshop"].envelopes {
		v, _ := ParseEnvelope(raw)
		one, _ := ParseEntry(v.Entry)
		order = append(order, string(one.Body))
	}
	if got := strings.Join(order, "; "); got != "of B, in the backup; in the new life; of B, after the backup 0; of B, after the backup 1; of B, after the backup 2; of A" {
		t.Fatal(got)
	}
	c.connect()
	c.settle()
	c.agree("workshop", 6)
}

// A long log is compared at checkpoints, and only what follows the last common one travels.
func TestOnlyTheEndTravels(t *testing.T) {
	a, parts := old(t, 2*StepEvery)
	s := restored(a.store, StepEvery+10)
	e := meet(t, a, alone(parts), s)
	e.connect()
	for e.step() {
		for _, m := range e.up {
			if m[0] == typeBatch {
				if b, err := ParseMessage(m); err != nil || b.(Batch).Prev < StepEvery {
					t.Fatalf("sent again from the beginning: %v", err)
				}
			}
		}
	}
	after, _ := e.swapped(t).heal(t)
	after.agree("workshop", 2*StepEvery+2)
}

// What was not marked by this store's key is not taken: a phone cannot put words into the mouths of others.
func TestUnprovedTailIsRefused(t *testing.T) {
	a, parts := old(t, 2)
	for name, change := range map[string]func(*Part){
		"no mark":         func(p *Part) { p.MAC = [32]byte{} },
		"of another head": func(p *Part) { p.MAC[0] ^= 1 },
		"another epoch":   func(p *Part) { p.Epoch = Epoch{77} },
	} {
		s := restored(a.store, 1)
		p := append([]Part(nil), parts...)
		for i := range p {
			change(&p[i])
		}
		e := meet(t, a, p, s)
		e.connect()
		e.settle()
		e.stopped(CodeEpoch)
		if s.logs["workshop"].durable != 1 {
			t.Errorf("%s: taken", name)
		}
	}
}

// The mark proves the end alone: what does not add up to it is not taken.
func TestForgedTailIsRefused(t *testing.T) {
	a, parts := old(t, 2)
	s := restored(a.store, 1)
	e := meet(t, a, alone(parts), s)
	e.connect()
	for e.step() {
		for i, m := range e.up {
			if b, err := ParseMessage(m); err == nil && m[0] == typeBatch {
				forged := b.(Batch)
				v, _ := ParseEnvelope(forged.Items[1])
				v.Entry = Entry{Seq: 2, Kind: 3, V: 1, Body: []byte("never written by B")}.Append(nil)
				forged.Items[1] = v.Append(nil)
				forged.Last = chainOver(RunningSeed("workshop"), forged.Items)
				e.up[i] = forged.Append(nil)
			}
		}
	}
	e.stopped(CodeDamaged)
	if s.logs["workshop"].durable != 1 {
		t.Fatal("taken")
	}
}

// A store that lost its end within one life is damaged; the phone that has it under the store's mark repairs it.
func TestLostEndIsRepaired(t *testing.T) {
	a, parts := old(t, 3)
	s := restored(a.store, 2)
	s.epoch = a.store.epoch
	e := meet(t, a, parts, s)
	after, _ := e.heal(t)
	after.agree("workshop", 5)
	if s.w.seen["an entry taken back"] != 3 {
		t.Fatalf("%v", s.w.seen)
	}
}

// What was acknowledged and had not come back cannot be repaired by sending it again as though nothing were wrong.
func TestForgottenAcknowledgementIsDamage(t *testing.T) {
	a, parts := old(t, 1)
	for i := range parts {
		if parts[i].Stream == "workshop" {
			parts[i].Mine = [][]byte{Entry{Seq: 2, Kind: 3, V: 1}.Append(nil)}
			parts[i].Acked = 2
		}
	}
	s := restored(a.store, 1)
	s.epoch = a.store.epoch
	e := meet(t, a, parts, s)
	e.connect()
	e.settle()
	e.stopped(CodeDamaged)
	if len(e.swaps) != 0 {
		t.Fatal("swapped all the same")
	}
}

// A copied book that went on under the same epoch is two histories.
func TestF21TwoHistoriesOfOneLife(t *testing.T) {
	a, parts := old(t, 2)
	s := restored(a.store, 1)
	s.epoch = a.store.epoch
	c := newEnds(t, s, DeviceID{0xC})
	c.write("workshop", "in the copy")
	c.connect()
	c.settle()
	e := meet(t, a, parts, s)
	e.connect()
	e.settle()
	e.stopped(CodeFork)
	if s.logs["workshop"].durable != 2 || len(e.swaps) != 0 {
		t.Fatal("mixed")
	}
}

// A phone lets go of nothing that the store's new log does not hold.
func TestStoreThatTakesNothingBackIsNoticed(t *testing.T) {
	a, parts := old(t, 2)
	s := restored(a.store, 1)
	e := meet(t, a, alone(parts), s)
	e.connect()
	for e.step() {
		for i, m := range e.down {
			if m[0] == typeRenumber {
				e.down[i] = Renumber{Stream: "workshop", Epoch: s.epoch, Keep: 1, Through: Head{1, s.logs["workshop"].running[1]}, Up: Head{Hash: ChainSeed("workshop", phoneA)}}.Append(nil)
			}
		}
	}
	e.stopped(CodeDamaged)
	if len(e.swaps) != 0 || e.phone.Part("workshop").Down.Seq != 4 {
		t.Fatal("the phone gave its log away")
	}
}

// Each question is repeated until it is answered, and every message may come twice.
func TestHealingSurvivesLoss(t *testing.T) {
	for lost := range 12 {
		a, parts := old(t, 3)
		s := restored(a.store, 1)
		c := newEnds(t, s, DeviceID{0xC})
		c.write("workshop", "in the new life")
		c.connect()
		c.settle()
		e := meet(t, a, alone(parts), s)
		e.connect()
		n := 0
		for round := 0; round < 40 && len(e.swaps) == 0; round++ {
			for len(e.up)+len(e.down) > 0 {
				if n++; n == lost+3 { // hello and welcome are the transport's to bring
					if len(e.up) > 0 {
						e.up = e.up[1:]
					} else {
						e.down = e.down[1:]
					}
					continue
				}
				if len(e.up) > 0 { // everything that goes up comes twice
					e.atStore(e.link.Receive(e.now, e.up[0]))
				}
				e.step()
			}
			e.now += 2000
			e.atStore(e.link.Tick(e.now))
			e.onPhone(e.phone.Tick(e.now))
		}
		if len(e.swaps) != 1 {
			t.Fatalf("message %d lost: never healed (%+v %+v)", lost, e.stops, e.refused)
		}
		after, _ := e.swapped(t).heal(t)
		after.agree("workshop", 6)
	}
}

// F26: a phone of protocol 1 is told, keeps everything, and heals after its update.
func TestF26ProtocolOneIsToldOfTheEpoch(t *testing.T) {
	a, parts := old(t, 2)
	s := restored(a.store, 1)
	e := meet(t, a, parts, s)
	e.connect()
	m, err := ParseMessage(e.up[0])
	if err != nil {
		t.Fatal(err)
	}
	h := m.(Hello)
	h.Hi = 1
	e.up[0] = h.Append(nil)
	e.settle()
	e.stopped(CodeEpoch)
	if e.phone.Part("workshop").Down.Seq != 4 {
		t.Fatal("the log is gone")
	}
}
