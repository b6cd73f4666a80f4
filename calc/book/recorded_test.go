package book

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"stillroom/sync"
)

// recorded is a book of a past version, as a store held it, with what it must fold to for ever.
type recorded struct {
	About   string              `json:"about"`
	Schema  uint32              `json:"schema"`
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
			env := recordedEnvelope(t, text)
			s.Apply(stream, env.Device, &env, mustEntry(t, env.Entry))
		}
	}
	return s
}

// record is all that this program can say, every field of every kind at least once, and beside it what a book meets: a
// held entry and its acceptance, an invented workshop that was removed, a fork, a clash, and what a later program wrote.
func record(t *testing.T) *recorded {
	t.Helper()
	w := newWorld(t)
	put := func(kind uint32, b visitable) Ref {
		t.Helper()
		d, no := draft(kind, b)
		if no != nil {
			t.Fatal(no)
		}
		w.ctx.Now += 60000
		return w.write(d)
	}
	// The samples of a workshop and a place are invented ones: another device writes them, and they are removed at the end.
	w.ctx.Device = device(9)
	for _, b := range samples()[KindWorkshopNamed] {
		put(KindWorkshopNamed, b)
	}
	put(KindPlaceNamed, &PlaceNamed{Key: "home", Name: "home", What: "home", Demo: true})
	w.ctx.Device = device(1)
	put(KindWorkshopNamed, &WorkshopNamed{Maker: "Saltmeadow", Contact: "hello", Region: "EU"})
	r := put(KindFormulaSaved, &FormulaSaved{Key: "FFFF0001", Name: "Whipped base", Lines: []Line{{ID: "1", Ingredient: "glycerin", QS: true}}})
	all := samplesAt(r)
	var weighed, sold Ref
	for _, k := range Kinds() {
		for _, b := range all[k.Number] {
			switch k.Number {
			case KindWorkshopNamed, KindDemoRemoved, KindShelfDemoGone, KindCorrected, KindShelfCorrected, KindAccepted, KindShelfAccepted:
				continue // below, where they find what they speak of
			}
			at := put(k.Number, b)
			switch k.Number {
			case KindBatchStarted:
				weighed = put(KindBatchWeighed, &BatchWeighed{Batch: "7K3QX", Line: "1", Lot: "ABCD1234", Mass: 285000})
			case KindSold:
				sold = at
			}
		}
	}
	inner := func(b visitable) []byte {
		out, err := encode(b)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	put(KindCorrected, &Corrected{weighed, "cup was on it", int64(KindBatchWeighed), 1, inner(&BatchWeighed{Batch: "7K3QX", Line: "1", Lot: "ABCD1234", Mass: 284000})})
	put(KindCorrected, &Corrected{weighed, "as a later program puts it", int64(KindBatchWeighed), 99, []byte("later")})
	put(KindShelfCorrected, &Corrected{sold, "two, not one", int64(KindSold), 1, inner(&Sold{Place: "stall", Product: "Whipped base", Count: 2})})
	for _, b := range []kindBody{{KindBatchNoted, &BatchNoted{Batch: "7K3QX", Text: "a stall note"}}, {KindPriced, &Priced{"Whipped base", 1100, "EUR"}}} {
		w.arrive(kindTable[b.kind].Stream, device(3), sync.Entry{Seq: 1, At: noon, Kind: b.kind, V: 1, Body: inner(b.body)}, true)
	}
	put(KindAccepted, &Accepted{Ref{device(3), 1}, "right"})
	put(KindShelfAccepted, &Accepted{Ref{device(3), 1}, "right"})
	put(KindDemoRemoved, &DemoRemoved{device(9).String()})
	put(KindShelfDemoGone, &DemoRemoved{device(9).String()})
	w.write(Draft{Workshop, 900, 1, []byte("from a later program")})
	w.write(Draft{Workshop, KindBatchNoted, 99, []byte("from a later program")})
	w.write(Draft{Shelf, KindSold, 99, []byte("from a later program")})
	w.ctx.Device = device(2)
	put(KindFormulaSaved, &FormulaSaved{Key: "FFFF0001", Parent: r, Name: "Whipped base, firmer", Lines: []Line{{ID: "1", Ingredient: "glycerin", QS: true}}})
	put(KindBatchWeighed, &BatchWeighed{Batch: "NNNNN", Line: "g", Mass: 5000})

	digest := w.s.Digest()
	out := &recorded{About: "An invented workshop as a store of this schema held it. Never edited: a later program must fold it to the same digest, or carry a rule that says why not.",
		Schema: Schema(), Digest: hex.EncodeToString(digest[:]), Streams: map[string][]string{}}
	for stream, envs := range w.log {
		for _, env := range envs {
			out.Streams[stream] = append(out.Streams[stream], hex.EncodeToString(env.Append(nil)))
		}
	}
	return out
}

// books are the recorded books, the oldest first.
func books(t testing.TB) []*recorded {
	t.Helper()
	var out []*recorded
	for n := 1; ; n++ {
		raw, err := os.ReadFile(bookPath(n))
		if os.IsNotExist(err) && n > 1 {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		r := &recorded{}
		if err := json.Unmarshal(raw, r); err != nil {
			t.Fatalf("%s: %v", bookPath(n), err)
		}
		out = append(out, r)
	}
}

func bookPath(n int) string { return fmt.Sprintf("../../testdata/books/v%d/book.json", n) }

func TestRecordedBooksFoldToTheirDigests(t *testing.T) {
	for n, r := range books(t) {
		for cut := -1; cut < 60; cut++ {
			s := r.fold(t, cut)
			if d := s.Digest(); hex.EncodeToString(d[:]) != r.Digest {
				t.Fatalf("cut at %d, the recorded book %d folds to %x, want %s", cut, n+1, d, r.Digest)
			}
		}
		look(t, r.fold(t, -1))
	}
}

// teller is a visitor that notes which fields say something.
type teller struct {
	fields map[string]bool
	prefix []string
}

func (s *teller) at(name string, says bool) {
	if p := strings.Join(append(s.prefix, name), "."); says || !s.fields[p] {
		s.fields[p] = says
	}
}
func (s *teller) text(name string, p *string, _ int)      { s.at(name, *p != "") }
func (s *teller) whole(name string, p *int64, _, _ int64) { s.at(name, *p != 0) }
func (s *teller) flag(name string, p *bool)               { s.at(name, *p) }
func (s *teller) ref(name string, p *Ref)                 { s.at(name, p.Seq != 0) }
func (s *teller) list(name string, n, _ int) int {
	s.at(name, n > 0)
	s.prefix = append(s.prefix, name)
	return n
}
func (s *teller) item(int)                                     {}
func (s *teller) itemEnd()                                     {}
func (s *teller) listEnd()                                     { s.prefix = s.prefix[:len(s.prefix)-1] }
func (s *teller) nested(name string, _, _ int64, body *[]byte) { s.at(name, len(*body) > 0) }
func (s *teller) since(uint32)                                 {}

// unrecorded are the fields of this program's kinds that no recorded book says, by kind and version.
func unrecorded(t *testing.T, of []*recorded) []string {
	t.Helper()
	said := teller{fields: map[string]bool{}}
	for _, k := range Kinds() {
		for v := uint32(1); v <= k.V; v++ {
			said.fields[fmt.Sprintf("%s version %d", k.Name, v)] = false
		}
		if k.V > 0 { // every list with one item, so that fields of items are asked for too
			s := scribe{}
			k.blank().visit(&s)
			for _, line := range strings.Split(strings.TrimSpace(s.out.String()), "\n") {
				field := strings.ReplaceAll(strings.TrimSpace(strings.Split(line, "|")[1]), "[]", "")
				said.fields[k.Name+"."+field] = false
			}
		}
	}
	for _, r := range of {
		for stream, texts := range r.Streams {
			for _, text := range texts {
				env := recordedEnvelope(t, text)
				e := mustEntry(t, env.Entry)
				body, err := open(e.Kind, e.V, e.Body)
				if err != nil {
					continue // of a later program
				}
				k, _ := KindOf(e.Kind)
				if k.Stream != stream {
					t.Errorf("%s stands in %s", k.Name, stream)
				}
				said.fields[fmt.Sprintf("%s version %d", k.Name, e.V)] = true
				said.prefix = []string{k.Name}
				body.visit(&said)
			}
		}
	}
	var out []string
	for _, f := range slices.Sorted(maps.Keys(said.fields)) {
		if !said.fields[f] {
			out = append(out, f)
		}
	}
	return out
}

// Every version of every kind, with every field, stands in a recorded book: what people's books hold is opened for ever.
// With -update what no book says yet is recorded as a further one; those that are there are never written again.
func TestRecordedBooksSayEverything(t *testing.T) {
	all := books(t)
	missing := unrecorded(t, all)
	if len(missing) > 0 && *update {
		r := record(t)
		if left := unrecorded(t, append(all, r)); len(left) > 0 {
			t.Fatalf("the samples never say %v", left)
		}
		text, err := json.MarshalIndent(r, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		golden(t, bookPath(len(all)+1), append(text, '\n'))
		return
	}
	if len(missing) > 0 {
		t.Errorf("no recorded book says %v: run go test ./calc/book -run Recorded -update, which records a further one", missing)
	}
}

// recordedEnvelope reads one line of a recorded book.
func recordedEnvelope(t *testing.T, text string) sync.Envelope {
	t.Helper()
	raw, err := hex.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	env, err := sync.ParseEnvelope(raw)
	if err != nil {
		t.Fatal(err)
	}
	return env
}
