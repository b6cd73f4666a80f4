package storetest

import (
	"bytes"
	"context"
	"testing"

	"stillroom/server/store"
	"stillroom/sync"
)

func gap(t *testing.T, o Opener) {
	s := open(t, o)
	add(t, s, workshop, Device(1), 0, Entries(1, 2, 17))
	err := refused[*store.Gap](t, s, 3, Entries(4, 5, 17), store.Meta{})
	if err.Have != s.DeviceHead(workshop, Device(1)) || err.After != 3 {
		t.Errorf("gap %+v", err)
	}
}

func fork(t *testing.T, o Opener) {
	s := open(t, o)
	add(t, s, workshop, Device(1), 0, Entries(1, 4, 17))
	if err := refused[*store.Fork](t, s, 2, Entries(3, 6, 18), store.Meta{}); err.Seq != 3 {
		t.Errorf("fork at %d", err.Seq)
	}
	// The number is new, but what the phone believes to stand before it is not what the book holds.
	refused[*store.Fork](t, s, 4, Entries(5, 5, 17), store.Meta{Last: sync.Hash{1}})
	chain := s.DeviceHead(workshop, Device(1)).Hash
	next := Entries(5, 5, 17)
	if _, err := s.Append(context.Background(), workshop, Device(1), 4, next, store.Meta{Last: chain.Next(next[0])}); err != nil {
		t.Errorf("with the right chain: %v", err)
	}
}

func atomic(t *testing.T, o Opener) {
	s := open(t, o)
	entries := Entries(1, 5, 17)
	entries[4] = []byte{0xff}
	refused[*store.Malformed](t, s, 0, entries, store.Meta{})
	if got := all(t, s, workshop); len(got) != 0 {
		t.Errorf("%d entries of a refused batch", len(got))
	}
}

func epoch(t *testing.T, o Opener) {
	s := open(t, o)
	if err := refused[*store.Epoch](t, s, 0, Entries(1, 1, 17), store.Meta{Epoch: sync.Epoch{9}}); err.Have != s.Epoch() {
		t.Errorf("epoch %+v", err)
	}
	if _, err := s.Append(context.Background(), workshop, Device(1), 0, Entries(1, 1, 17), store.Meta{Epoch: s.Epoch()}); err != nil {
		t.Error(err)
	}
}

func held(t *testing.T, o Opener) {
	s := open(t, o)
	entries := append(Entries(1, 1, 17), Entries(2, 2, 8)...)
	_, err := s.Append(context.Background(), workshop, Device(1), 0, entries, store.Meta{Held: func(e sync.Entry) bool { return e.Kind == 8 }})
	if err != nil {
		t.Fatal(err)
	}
	if got := all(t, s, workshop); got[0].Held || !got[1].Held {
		t.Errorf("held: %v %v", got[0].Held, got[1].Held)
	}
}

func malformed(t *testing.T, o Opener) {
	s := open(t, o)
	big := sync.Entry{Seq: 2, Kind: 1, V: 1, Body: bytes.Repeat([]byte{7}, sync.MaxEntryBytes)}.Append(nil)
	fits := sync.Entry{Seq: 1, Kind: 1, V: 1}.Append(nil)
	fits = sync.Entry{Seq: 1, Kind: 1, V: 1, Body: bytes.Repeat([]byte{7}, sync.MaxEntryBytes-len(fits))}.Append(nil)
	tests := []struct {
		name    string
		entries [][]byte
		seq     uint64
	}{
		{"empty", [][]byte{{}}, 1},
		{"one byte over the limit", [][]byte{Entries(1, 1, 17)[0], big}, 2},
		{"a number left out", append(Entries(1, 1, 17), Entries(3, 3, 17)...), 2},
		{"the first number twice", append(Entries(1, 1, 17), Entries(1, 1, 17)...), 2},
		{"too many", Entries(1, sync.MaxBatchEntries+1, 17), 1},
	}
	for _, test := range tests {
		if err := refused[*store.Malformed](t, s, 0, test.entries, store.Meta{}); err.Seq != test.seq {
			t.Errorf("%s: names entry %d, want %d", test.name, err.Seq, test.seq)
		}
	}
	add(t, s, workshop, Device(1), 0, [][]byte{fits})
}
