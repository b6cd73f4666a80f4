package book

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"slices"

	"stillroom/sync"
)

// Digest is a hash over all that the entries add up to, walked in the order of the fold. Two states that folded the
// same entries of each stream in the same order have the same digest, on every machine, however the fold was cut and
// however the streams came beside each other. Whether a row
// is in the book or on this phone alone is not part of it.
func (s *State) Digest() [32]byte {
	w := digester{h: sha256.New()}
	w.text("book 1")
	s.named.each(func(_ string, v *named) bool { w.part(2).from(v.from).body(&v.body); return true })
	s.formulas.each(func(k string, v *formula) bool {
		w.part(3).text(k)
		for _, r := range v.revs {
			w.from(r.from).num(int64(r.number)).bytes(r.body)
		}
		return true
	})
	s.lots.each(func(k string, v *lot) bool {
		w.part(4).from(v.from).body(&v.body).flag(v.held).text(v.reason).ref(v.heldBy).num(v.used)
		for _, b := range v.into {
			u := s.use(k, b)
			w.text(b).num(u.mass, int64(u.rows))
		}
		return true
	})
	s.batches.each(func(k string, v *batch) bool {
		w.part(5).from(v.from).body(&v.body).text(v.state).text(v.why).text(v.by).ref(v.set).ref(v.fill)
		w.rows(v.rows)
		return true
	})
	s.strays.each(func(k string, v *strays) bool { w.part(6).text(k).rows(v.rows); return true })
	s.minted.each(func(k string, v *minted) bool {
		w.part(7).from(v.from).body(&v.body)
		if v.now != v.from.ref {
			w.ref(v.now)
		}
		return true
	})
	s.jarKeys.each(func(k string, v *text) bool { w.part(8).text(k).text(v.s); return true })
	s.cards.each(func(k string, v *card) bool { w.part(9).from(v.from).body(&v.body); return true })
	s.bars.each(func(k string, v *bar) bool { w.part(10).from(v.from).body(&v.body); return true })
	s.places.each(func(k string, v *place) bool { w.part(11).from(v.from).body(&v.body); return true })
	s.ingredients.each(func(k string, v *defined) bool { w.part(30).from(v.from).body(&v.body); return true })
	s.containers.each(func(k string, v *container) bool { w.part(31).from(v.from).body(&v.body); return true })
	s.challenges.each(func(_ Ref, v *challenge) bool {
		w.part(37).from(v.from).body(&v.body).ref(v.now)
		return true
	})
	s.chosen.each(func(_ string, v *chosen) bool { w.part(40).from(v.from).body(&v.body); return true })
	s.pictures.each(func(k string, v *pictures) bool { w.part(36).text(k).rows(v.rows); return true })
	s.moves.each(func(_ Ref, v *move) bool { w.part(32).rows([]row{v.row}); return true })
	s.prices.each(func(k string, v *priced) bool { w.part(33).from(v.from).body(&v.body); return true })
	s.letters.each(func(k deviceID, v *text) bool { w.part(15).bytes(k[:]).text(v.s); return true })
	for _, stream := range s.streams() {
		s.digestStream(&w, stream)
	}
	var out [32]byte
	w.h.Sum(out[:0])
	return out
}

// streams are the names of the streams of which something was folded, sorted. Streams fold alone, so the digest must
// not tell in which order their entries came beside each other: tables that hold several are walked stream by stream.
func (s *State) streams() []string {
	var out []string
	s.heads.each(func(k headKey, _ *head) bool {
		if !slices.Contains(out, k.stream) {
			out = append(out, k.stream)
		}
		return true
	})
	slices.Sort(out)
	return out
}

func (s *State) digestStream(w *digester, stream string) {
	w.part(16).text(stream)
	s.heads.each(func(k headKey, v *head) bool {
		if k.stream == stream {
			w.part(1).bytes(k.device[:]).num(int64(v.seq), int64(v.missing))
		}
		return true
	})
	s.gone.each(func(k streamDevice, v *gone) bool {
		if k.stream == stream {
			w.part(35).bytes(k.device[:]).from(v.from)
		}
		return true
	})
	if stream == Shelf {
		s.lives.each(func(k sync.Epoch, v *gone) bool { w.part(38).bytes(k[:]).from(v.from); return true })
	}
	s.held.each(func(k streamRef, v *waiting) bool {
		if k.stream == stream {
			w.part(12).ref(k.ref).num(v.entry.At, int64(v.entry.Kind), int64(v.entry.V)).bytes(v.entry.Body).flag(v.done)
		}
		return true
	})
	s.clashes.each(func(k streamRef, v *Clash) bool {
		if k.stream == stream {
			w.part(13).ref(k.ref).text(v.Kind).text(v.Says)
		}
		return true
	})
	s.unknown.each(func(k kindV, v *count) bool {
		if k.stream == stream {
			w.part(14).num(int64(k.kind), int64(k.v), int64(v.n))
		}
		return true
	})
}

// digester writes fields in a form that cannot be read in two ways: every text stands behind its length.
type digester struct{ h hash.Hash }

func (w *digester) part(n byte) *digester { w.h.Write([]byte{0xff, n}); return w }

func (w *digester) num(xs ...int64) *digester {
	for _, x := range xs {
		var b [8]byte
		binary.BigEndian.PutUint64(b[:], uint64(x))
		w.h.Write(b[:])
	}
	return w
}

func (w *digester) bytes(b []byte) *digester { w.num(int64(len(b))); w.h.Write(b); return w }
func (w *digester) text(s string) *digester  { return w.bytes([]byte(s)) }
func (w *digester) flag(f bool) *digester {
	if f {
		return w.num(1)
	}
	return w.num(0)
}
func (w *digester) ref(r Ref) *digester     { w.h.Write(r.Device[:]); return w.num(int64(r.Seq)) }
func (w *digester) from(o origin) *digester { return w.ref(o.ref).num(o.at) }

func (w *digester) body(b visitable) *digester {
	out, err := encode(b)
	if err != nil { // a body in a table was decoded, so it encodes; were it ever not so, the digest must still differ
		out = []byte("unreadable: " + err.Error())
	}
	return w.bytes(out)
}

func (w *digester) rows(rows []row) *digester {
	w.num(int64(len(rows)))
	for _, r := range rows {
		w.from(r.from).num(int64(r.kind), int64(r.v)).bytes(r.body).ref(r.of).flag(r.struck).text(r.reason).ref(r.now).text(r.clash)
	}
	return w
}
