package storetest

import (
	"bytes"
	"context"
	"errors"
	"testing"

	"stillroom/server/store"
	"stillroom/sync"
)

// ended is a log of n envelopes, of two devices by turns.
func ended(n int) (log [][]byte) {
	own := map[sync.DeviceID]uint64{}
	for i := range n {
		d := Device(byte(1 + i%2))
		own[d]++
		log = append(log, sync.Envelope{Seq: uint64(i + 1), Device: d, Held: i%3 == 0, At: int64(i), Offset: -7, Entry: Entries(own[d], own[d], 5)[0]}.Append(nil))
	}
	return log
}

func raw(t *testing.T, s store.Store) [][]byte {
	t.Helper()
	out, err := s.Read(context.Background(), workshop, 0, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func equal(a, b [][]byte) bool {
	for i := range a {
		if i >= len(b) || !bytes.Equal(a[i], b[i]) {
			return false
		}
	}
	return len(a) == len(b)
}

func takeBack(t *testing.T, o Opener) {
	ctx, log := context.Background(), ended(1200)
	s := open(t, o)
	for _, part := range []int{700, 1200, 1200, 1100} {
		keep, _, err := store.TakeBack(ctx, s, workshop, 0, log[:part], false)
		if err != nil || keep != uint64(part) {
			t.Fatalf("%d: kept to %d, %v", part, keep, err)
		}
	}
	if !equal(raw(t, s), log) {
		t.Error("the log is not what it was")
	}
	own := s.DeviceHead(workshop, Device(2))
	if h, ok := s.DeviceHashAt(workshop, Device(2), own.Seq); own.Seq != 600 || !ok || h != own.Hash {
		t.Errorf("the second device's line: %+v", own)
	}
	if _, _, err := store.TakeBack(ctx, s, "shelf", 0, log[:3], true); err != nil || s.Head("shelf").Seq != 3 {
		t.Errorf("repair: %v", err)
	}
}

func takeBackRefused(t *testing.T, o Opener) {
	ctx, log, s := context.Background(), ended(45), open(t, o)
	if _, _, err := store.TakeBack(ctx, s, workshop, 0, log[:40], false); err != nil {
		t.Fatal(err)
	}
	add(t, s, workshop, Device(3), 0, Entries(1, 1, 8))
	before := s.Head(workshop)
	forked := append([][]byte(nil), log...)
	v, _ := sync.ParseEnvelope(log[30])
	v.Entry = Entries(16, 16, 9)[0]
	forked[30] = v.Append(nil)
	var fork *store.Fork
	var gap *store.Gap
	var bad *store.Malformed
	if _, err := s.TakeBack(ctx, store.Tail{Stream: workshop, Envelopes: forked}); !errors.As(err, &fork) {
		t.Errorf("another entry under one address: %v", err)
	}
	if _, err := s.TakeBack(ctx, store.Tail{Stream: workshop, Envelopes: log, Common: true, Repair: true}); !errors.As(err, &fork) {
		t.Errorf("two histories of one life: %v", err)
	}
	if _, err := s.TakeBack(ctx, store.Tail{Stream: "shelf", After: 20, Envelopes: log[20:]}); !errors.As(err, &gap) {
		t.Errorf("without what came before: %v", err)
	}
	if _, err := s.TakeBack(ctx, store.Tail{Stream: workshop, After: 1, Envelopes: log}); !errors.As(err, &bad) {
		t.Errorf("at another place: %v", err)
	}
	if s.Head(workshop) != before || s.Head("shelf").Seq != 0 {
		t.Error("something was taken in")
	}
}

// movedOn takes an end back behind what came meanwhile.
func movedOn(t *testing.T, o Opener) {
	ctx, s, log := context.Background(), open(t, o), ended(1200)
	if _, _, err := store.TakeBack(ctx, s, workshop, 0, log[:520], false); err != nil {
		t.Fatal(err)
	}
	add(t, s, workshop, Device(3), 0, Entries(1, 2, 8))
	// One of the two devices was there itself before the other's phone came.
	add(t, s, workshop, Device(1), 260, Entries(261, 270, 5))
	for range 2 {
		keep, _, err := store.TakeBack(ctx, s, workshop, 512, log[512:], false)
		if err != nil || keep != 520 {
			t.Fatalf("kept to %d, %v", keep, err)
		}
	}
	if got := s.Head(workshop).Seq; got != 1202 {
		t.Fatalf("%d entries", got)
	}
	all(t, s, workshop)
	for _, d := range []byte{1, 2} {
		if got := s.DeviceHead(workshop, Device(d)).Seq; got != 600 {
			t.Errorf("device %d: %d entries", d, got)
		}
	}
}
