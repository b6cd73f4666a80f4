package book

import (
	"encoding/hex"
	"encoding/json"
	"os"
	"testing"

	"stillroom/sync"
)

// recorded is a book of a past version, as a store held it, with what it must fold to for ever.
type recorded struct {
	About   string              `json:"about"`
	Schema  int                 `json:"schema"`
	Digest  string              `json:"digest"`
	Streams map[string][]string `json:"streams"` // envelopes in hexadecimal, in the store's order
}

func (r *recorded) fold(t *testing.T, cut int) *State {
	t.Helper()
	s := New()
	n := 0
	for _, stream := range []string{Workshop, Shelf} {
		for _, text := range r.Streams[stream] {
			if n == cut {
				s = s.Overlay()
			}
			n++
			raw, err := hex.DecodeString(text)
			if err != nil {
				t.Fatal(err)
			}
			env, err := sync.ParseEnvelope(raw)
			if err != nil {
				t.Fatal(err)
			}
			s.Apply(stream, env.Device, &env, mustEntry(t, env.Entry))
		}
	}
	return s
}

// record is what version 1 could say: the demo's workshop, and beside it a held entry and its acceptance, a clash, a
// kind from a later program, and a fork.
func record(t *testing.T) *recorded {
	t.Helper()
	w := newWorld(t)
	s, out := demo(t)
	w.s = s
	for _, x := range out {
		env := sync.Envelope{Seq: uint64(len(w.log[x.Stream]) + 1), Device: device(9), At: x.Entry.At + 900, Offset: -900, Entry: x.Entry.Append(nil)}
		w.log[x.Stream] = append(w.log[x.Stream], env)
	}
	done := view[[]BatchRow](w, "batches", nil)[1]
	noted, no := draft(KindBatchNoted, &BatchNoted{Batch: done.Key, Text: "a stall note"})
	if no != nil {
		t.Fatal(no)
	}
	w.arrive(Workshop, device(3), entryOf(noted, 1), true)
	for _, b := range []kindBody{
		{KindAccepted, &Accepted{Ref{device(3), 1}, "right"}},
		{KindBatchWeighed, &BatchWeighed{Batch: done.Key, Line: "2", Mass: 5000}},
	} {
		d, no := draft(b.kind, b.body)
		if no != nil {
			t.Fatal(no)
		}
		w.write(d)
	}
	w.write(Draft{Workshop, 900, 1, []byte("from a later program")})
	f := view[[]FormulaRow](w, "formulas", nil)[0]
	d := view[FormulaView](w, "formula", m{"key": f.Key}).Draft
	d.Name = "Hearth balm, softer"
	w.do("formula.save", d, "revision")
	w.ctx.Device = device(2)
	d.Name = "Hearth balm, firmer"
	w.do("formula.save", d, "revision")
	if len(view[FormulaView](w, "formula", m{"key": f.Key}).Revisions) != 3 || w.s.UpdateNeeded() != 1 {
		t.Fatal("the recorded book lacks its fork or its later kind")
	}
	digest := w.s.Digest()
	r := &recorded{About: "An invented workshop as a store of schema 1 held it. Never edited: a later program must fold it to the same digest, or carry a rule that says why not.",
		Schema: 1, Digest: hex.EncodeToString(digest[:]), Streams: map[string][]string{}}
	for stream, envs := range w.log {
		for _, env := range envs {
			r.Streams[stream] = append(r.Streams[stream], hex.EncodeToString(env.Append(nil)))
		}
	}
	return r
}

func TestRecordedBookFoldsToItsDigest(t *testing.T) {
	const path = "../../testdata/books/v1/book.json"
	if _, err := os.Stat(path); err != nil && *update {
		text, err := json.MarshalIndent(record(t), "", " ")
		if err != nil {
			t.Fatal(err)
		}
		golden(t, path, append(text, '\n'))
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := &recorded{}
	if err := json.Unmarshal(raw, r); err != nil {
		t.Fatal(err)
	}
	for cut := -1; cut < 60; cut++ {
		s := r.fold(t, cut)
		if d := s.Digest(); hex.EncodeToString(d[:]) != r.Digest {
			t.Fatalf("cut at %d, the recorded book folds to %x, want %s", cut, d, r.Digest)
		}
	}
	look(t, r.fold(t, -1))
}
