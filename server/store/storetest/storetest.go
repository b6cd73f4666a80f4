// Package storetest is the conformance suite of store.Store: every implementation runs it, so that what stands above a
// store need not know which one it is.
package storetest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	gosync "sync"
	"testing"

	"stillroom/server/store"
	"stillroom/sync"
)

// Opener gives one test's store. Open opens it, the first time empty; Reopen tells whether Close and Open again must
// find everything, as they must on a disk.
type Opener struct {
	Open   func(t *testing.T) store.Store
	Reopen bool
}

// Device gives the n-th device of the suite.
func Device(n byte) sync.DeviceID { return sync.DeviceID{n, 2, 3, 4, 5, 6, 7, 8} }

// Entries gives canonical entries numbered from to to, of a kind, with bodies that differ.
func Entries(from, to uint64, kind uint32) [][]byte {
	var out [][]byte
	for seq := from; seq <= to; seq++ {
		body := fmt.Appendf(nil, "entry %d of kind %d", seq, kind)
		out = append(out, sync.Entry{Seq: seq, At: int64(seq) * 1000, Kind: kind, V: 1, Body: body}.Append(nil))
	}
	return out
}

// Run runs the suite; make is called once for each test.
func Run(t *testing.T, make func(t *testing.T) Opener) {
	tests := []struct {
		name string
		run  func(t *testing.T, o Opener)
	}{
		{"an empty store has empty heads and an epoch", emptyStore},
		{"entries get dense numbers and come back as they were", appendAndRead},
		{"the same entries again are harmless", duplicates},
		{"half of a batch that was lost is added once", overlap},
		{"a gap is refused and says what is held", gap},
		{"other bytes under one number are a fork", fork},
		{"a batch is taken in whole or not at all", atomic},
		{"another epoch is refused", epoch},
		{"what a role does not allow is held", held},
		{"bad entries are refused by number", malformed},
		{"hashes can be asked at every number", hashes},
		{"reading stops at a size and goes on without a hole", pages},
		{"streams do not touch each other", streams},
		{"a watcher hears of growth and misses none", watch},
		{"many devices at once each keep their order", concurrent},
		{"the end of a log comes back under its numbers", takeBack},
		{"the end of a log comes behind what came meanwhile", movedOn},
		{"an end that does not fit is taken in whole or not at all", takeBackRefused},
		{"after Close nothing is taken", closed},
		{"everything is there after opening again", reopen},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) { test.run(t, make(t)) })
	}
}

const workshop = "workshop"

func open(t *testing.T, o Opener) store.Store {
	t.Helper()
	s := o.Open(t)
	t.Cleanup(func() { s.Close() })
	return s
}

func add(t *testing.T, s store.Store, stream string, d sync.DeviceID, after uint64, entries [][]byte) store.Ack {
	t.Helper()
	ack, err := s.Append(context.Background(), stream, d, after, entries, store.Meta{At: 77, Offset: -5})
	if err != nil {
		t.Fatalf("Append after %d: %v", after, err)
	}
	return ack
}

func refused[E error](t *testing.T, s store.Store, after uint64, entries [][]byte, m store.Meta) E {
	t.Helper()
	before, own := s.Head(workshop), s.DeviceHead(workshop, Device(1))
	_, err := s.Append(context.Background(), workshop, Device(1), after, entries, m)
	var want E
	if !errors.As(err, &want) {
		t.Fatalf("Append after %d: got %v, want %T", after, err, want)
	}
	if s.Head(workshop) != before || s.DeviceHead(workshop, Device(1)) != own {
		t.Fatalf("a refused Append moved the head")
	}
	return want
}

func all(t *testing.T, s store.Store, stream string) []sync.Envelope {
	t.Helper()
	raw, err := s.Read(context.Background(), stream, 0, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	var out []sync.Envelope
	for i, b := range raw {
		v, err := sync.ParseEnvelope(b)
		if err != nil || v.Seq != uint64(i+1) {
			t.Fatalf("envelope %d: %+v %v", i+1, v, err)
		}
		out = append(out, v)
	}
	return out
}

func emptyStore(t *testing.T, o Opener) {
	s := open(t, o)
	if got := s.Head(workshop); got != (store.Head{Hash: sync.RunningSeed(workshop)}) {
		t.Errorf("head of an empty stream: %+v", got)
	}
	if got := s.DeviceHead(workshop, Device(1)); got != (store.Head{Hash: sync.ChainSeed(workshop, Device(1))}) {
		t.Errorf("head of an unknown device: %+v", got)
	}
	if h, ok := s.HashAt(workshop, 0); !ok || h != sync.RunningSeed(workshop) {
		t.Errorf("hash at 0: %x %v", h, ok)
	}
	if _, ok := s.HashAt(workshop, 1); ok {
		t.Errorf("an empty stream has a hash at 1")
	}
	if s.Epoch() == (sync.Epoch{}) || len(s.Key()) != 32 {
		t.Errorf("epoch %x, key of %d bytes", s.Epoch(), len(s.Key()))
	}
	if got, err := s.Read(context.Background(), workshop, 0, 0, 0); len(got) != 0 || err != nil {
		t.Errorf("read: %d %v", len(got), err)
	}
	if len(s.Streams()) != 0 || len(s.Devices(workshop)) != 0 {
		t.Errorf("streams %v, devices %v", s.Streams(), s.Devices(workshop))
	}
}

func appendAndRead(t *testing.T, o Opener) {
	s := open(t, o)
	first := Entries(1, 3, 17)
	ack := add(t, s, workshop, Device(1), 0, first)
	if ack.First != 1 || ack.Last != 3 || ack.Device.Seq != 3 {
		t.Errorf("ack %+v", ack)
	}
	add(t, s, workshop, Device(2), 0, Entries(1, 1, 18))
	ack = add(t, s, workshop, Device(1), 3, Entries(4, 4, 17))
	if ack.First != 5 || ack.Last != 5 {
		t.Errorf("ack %+v", ack)
	}
	got := all(t, s, workshop)
	if len(got) != 5 || got[3].Device != Device(2) || got[4].Device != Device(1) {
		t.Fatalf("read %+v", got)
	}
	if !bytes.Equal(got[1].Entry, first[1]) || got[1].At != 77 || got[1].Offset != -5 || got[1].Held {
		t.Errorf("envelope 2: %+v", got[1])
	}
	running := sync.RunningSeed(workshop)
	raw, _ := s.Read(context.Background(), workshop, 0, 0, 0)
	for _, b := range raw {
		running = running.Next(b)
	}
	if s.Head(workshop) != (store.Head{Seq: 5, Hash: running}) {
		t.Errorf("head %+v is not the hash over what is read", s.Head(workshop))
	}
	if got := s.Devices(workshop); len(got) != 2 || got[0] != Device(1) {
		t.Errorf("devices %v", got)
	}
}

func duplicates(t *testing.T, o Opener) {
	s := open(t, o)
	entries := Entries(1, 10, 17)
	add(t, s, workshop, Device(1), 0, entries)
	head := s.Head(workshop)
	for _, after := range []uint64{0, 3, 9, 10} {
		ack := add(t, s, workshop, Device(1), after, entries[after:])
		if ack.First != 0 || ack.Last != 0 || ack.Device.Seq != 10 {
			t.Errorf("again after %d: %+v", after, ack)
		}
	}
	if s.Head(workshop) != head {
		t.Errorf("head moved from %+v to %+v", head, s.Head(workshop))
	}
}

func overlap(t *testing.T, o Opener) {
	s := open(t, o)
	entries := Entries(1, 9, 17)
	add(t, s, workshop, Device(1), 0, entries[:5])
	ack := add(t, s, workshop, Device(1), 2, entries[2:])
	if ack.First != 6 || ack.Last != 9 || ack.Device.Seq != 9 {
		t.Errorf("ack %+v", ack)
	}
	if got := all(t, s, workshop); len(got) != 9 {
		t.Errorf("%d entries", len(got))
	}
}

func hashes(t *testing.T, o Opener) {
	s := open(t, o)
	entries := Entries(1, 200, 17)
	add(t, s, workshop, Device(1), 0, entries[:70])
	add(t, s, workshop, Device(2), 0, Entries(1, 70, 18))
	add(t, s, workshop, Device(1), 70, entries[70:])
	raw, _ := s.Read(context.Background(), workshop, 0, 0, 0)
	running := sync.RunningSeed(workshop)
	for i, b := range raw {
		running = running.Next(b)
		if h, ok := s.HashAt(workshop, uint64(i+1)); !ok || h != running {
			t.Fatalf("hash at %d: %x %v", i+1, h, ok)
		}
	}
	chain := sync.ChainSeed(workshop, Device(1))
	for i, b := range entries {
		chain = chain.Next(b)
		if h, ok := s.DeviceHashAt(workshop, Device(1), uint64(i+1)); !ok || h != chain {
			t.Fatalf("chain at %d: %x %v", i+1, h, ok)
		}
	}
	if _, ok := s.DeviceHashAt(workshop, Device(1), 201); ok {
		t.Errorf("a hash beyond the head")
	}
}

func pages(t *testing.T, o Opener) {
	s := open(t, o)
	entries := Entries(1, 100, 17)
	add(t, s, workshop, Device(1), 0, entries)
	for _, limit := range []struct{ items, bytes int }{{1, 0}, {3, 0}, {7, 0}, {0, 1}, {0, 300}, {9, 200}} {
		var seq, own uint64
		for seq < 100 {
			got, err := s.Read(context.Background(), workshop, seq, limit.items, limit.bytes)
			if err != nil || len(got) == 0 {
				t.Fatalf("read after %d: %d, %v", seq, len(got), err)
			}
			for _, b := range got {
				seq++
				if v, _ := sync.ParseEnvelope(b); v.Seq != seq {
					t.Fatalf("number %d where %d belongs", v.Seq, seq)
				}
			}
		}
		for own < 100 {
			got, err := s.ReadDevice(context.Background(), workshop, Device(1), own, limit.items, limit.bytes)
			if err != nil || len(got) == 0 {
				t.Fatalf("device after %d: %d, %v", own, len(got), err)
			}
			for _, b := range got {
				if !bytes.Equal(b, entries[own]) {
					t.Fatalf("entry %d differs", own+1)
				}
				own++
			}
		}
	}
}

func streams(t *testing.T, o Opener) {
	s := open(t, o)
	add(t, s, workshop, Device(1), 0, Entries(1, 2, 17))
	add(t, s, "shelf", Device(1), 0, Entries(1, 3, 64))
	if a, b := s.Head(workshop).Seq, s.Head("shelf").Seq; a != 2 || b != 3 {
		t.Errorf("heads %d and %d", a, b)
	}
	if got := s.Streams(); len(got) != 2 || got[0] != "shelf" {
		t.Errorf("streams %v", got)
	}
	all(t, s, "shelf")
}

func watch(t *testing.T, o Opener) {
	s := open(t, o)
	grew, stop := s.Watch(workshop)
	defer stop()
	const total = 40
	go func() {
		for seq := uint64(1); seq <= total; seq++ {
			s.Append(context.Background(), workshop, Device(1), seq-1, Entries(seq, seq, 17), store.Meta{})
		}
	}()
	for at := uint64(0); at < total; {
		<-grew
		got, err := s.Read(context.Background(), workshop, at, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		at += uint64(len(got))
	}
}

func concurrent(t *testing.T, o Opener) {
	s := open(t, o)
	const devices, batches, each = 6, 10, 5
	var wg gosync.WaitGroup
	for d := byte(1); d <= devices; d++ {
		wg.Go(func() {
			for b := uint64(0); b < batches; b++ {
				after := b * each
				if _, err := s.Append(context.Background(), workshop, Device(d), after, Entries(after+1, after+each, uint32(d)), store.Meta{}); err != nil {
					t.Errorf("device %d: %v", d, err)
					return
				}
				if s.DeviceHead(workshop, Device(d)).Seq != after+each {
					t.Errorf("device %d: acknowledged and not shown", d)
				}
			}
		})
	}
	wg.Wait()
	next := map[sync.DeviceID]uint64{}
	for _, v := range all(t, s, workshop) {
		e, err := sync.ParseEntry(v.Entry)
		if next[v.Device]++; err != nil || e.Seq != next[v.Device] {
			t.Fatalf("device %s: number %d where %d belongs", v.Device, e.Seq, next[v.Device])
		}
	}
	if got := s.Head(workshop).Seq; got != devices*batches*each {
		t.Errorf("head %d", got)
	}
}

func closed(t *testing.T, o Opener) {
	s := open(t, o)
	add(t, s, workshop, Device(1), 0, Entries(1, 1, 17))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Errorf("a second Close: %v", err)
	}
	refused[*store.Closed](t, s, 1, Entries(2, 2, 17), store.Meta{})
}

func reopen(t *testing.T, o Opener) {
	if !o.Reopen {
		t.Skip("this store keeps nothing when it ends")
	}
	s := open(t, o)
	epoch, key := s.Epoch(), s.Key()
	for after := uint64(0); after < 150; after += 50 {
		add(t, s, workshop, Device(1), after, Entries(after+1, after+50, 17))
		add(t, s, "shelf", Device(2), after, Entries(after+1, after+50, 64))
	}
	before, head, own := all(t, s, workshop), s.Head(workshop), s.DeviceHead("shelf", Device(2))
	for range 2 {
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		s = open(t, o)
		if s.Epoch() != epoch || !bytes.Equal(s.Key(), key) {
			t.Fatalf("epoch or key changed by opening again")
		}
		if s.Head(workshop) != head || s.DeviceHead("shelf", Device(2)) != own {
			t.Fatalf("heads changed: %+v, was %+v", s.Head(workshop), head)
		}
		after := all(t, s, workshop)
		for i := range before {
			if !bytes.Equal(after[i].Entry, before[i].Entry) {
				t.Fatalf("entry %d changed", i+1)
			}
		}
	}
	refused[*store.Fork](t, s, 149, Entries(150, 150, 99), store.Meta{})
	add(t, s, workshop, Device(1), 150, Entries(151, 151, 17))
}
