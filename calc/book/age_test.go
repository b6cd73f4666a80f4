package book

import (
	"encoding/hex"
	"testing"

	"stillroom/sync"
)

// older makes this program one that has a kind only up to a version, or not at all when v is below 0, until the end of
// the test.
func older(t *testing.T, kind uint32, v int) {
	t.Helper()
	was := kindTable[kind]
	t.Cleanup(func() { kindTable[kind] = was })
	if v < 0 {
		delete(kindTable, kind)
		return
	}
	is := was
	is.V = uint32(v)
	kindTable[kind] = is
}

// F26: for each kind a program that does not know it, and one that knows it in its earlier versions alone, counts what it
// cannot read, shows the rest, and after the update the book is what it is to a program that always knew it.
func TestRecordedBooksWaitForTheUpdate(t *testing.T) {
	all := books(t)
	r := all[len(all)-1]
	waiting := r.fold(t, -1).UpdateNeeded()
	for _, k := range Kinds() {
		for v := int(k.V) - 1; v >= -1 && k.V > 0; v-- {
			t.Run(k.Name, func(t *testing.T) {
				older(t, k.Number, v)
				s := r.fold(t, 20)
				if s.UpdateNeeded() <= waiting {
					t.Errorf("up to version %d, %d entries wait for the update, and %d wait for ever", v, s.UpdateNeeded(), waiting)
				}
				for _, c := range s.Clashes() {
					if c.Kind == k.Name {
						t.Errorf("what is not known is told as a clash: %+v", c)
					}
				}
				look(t, s)
			})
			if d := r.fold(t, -1).Digest(); hex.EncodeToString(d[:]) != r.Digest {
				t.Fatalf("%s: after the update the book folds to %x", k.Name, d)
			}
		}
	}
}

// F26: what stands in a correction may be of a later version while the correction is not: it waits as well, and the row
// that it corrects stands until then.
func TestCorrectionOfALaterVersionWaits(t *testing.T) {
	for _, shelf := range []bool{false, true} {
		w := newWorld(t)
		w.lot("glycerin", "G-17")
		_, b := w.start()
		d, _ := draft(KindBatchNoted, &BatchNoted{Batch: b, Text: "as it was"})
		kind, corrected := KindBatchNoted, KindCorrected
		if shelf {
			d, _ = draft(KindSold, &Sold{Place: "stall", Product: "rinse", Count: 1})
			kind, corrected = KindSold, KindShelfCorrected
		}
		ref := w.write(d)
		c, _ := draft(corrected, &Corrected{ref, "as a later program puts it", int64(kind), int64(kindTable[kind].V) + 1, []byte("later")})
		w.write(c)
		if w.s.UpdateNeeded() != 1 || len(w.s.Clashes()) != 0 {
			t.Fatalf("shelf %v: %d need an update, %d clash", shelf, w.s.UpdateNeeded(), len(w.s.Clashes()))
		}
		if m := w.s.moves.get(ref); shelf && (m == nil || m.struck) {
			t.Error("a sale was struck by what cannot be read")
		}
		if rows := view[BatchView](w, "batch", m{"key": b}).Rows; !shelf && (len(rows) != 1 || rows[0].Struck) {
			t.Errorf("a row was struck by what cannot be read: %s", pretty(rows))
		}
	}
}

// F26: a phone whose app went back to an older one must not write the shelf's half of a filling a second time because it
// cannot read the first.
func TestOlderProgramCompletesNothingThatItCannotRead(t *testing.T) {
	w := newWorld(t)
	w.lot("glycerin", "G-17")
	_, b := w.start()
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	fold := func() *State {
		s := New()
		for _, stream := range []string{Workshop, Shelf} {
			for _, env := range w.log[stream] {
				s.Apply(stream, env.Device, &env, mustEntry(t, env.Entry))
			}
		}
		return s
	}
	if d := fold().Missing(w.ctx); len(d) != 0 {
		t.Fatalf("%d halves are missing", len(d))
	}
	older(t, KindJarsMinted, 0)
	if d := fold().Missing(w.ctx); len(d) != 0 {
		t.Errorf("an older program names the jars again: %d drafts", len(d))
	}
}

func TestFieldsOfALaterVersion(t *testing.T) {
	const kind = 7
	visit := func(b *reading, v visitor) {
		v.text("batch", &b.Batch, maxKey)
		list(v, "words", &b.Words, 5)
		v.since(2)
		v.whole("value", &b.Value, 0, 99)
	}
	kindTable[kind] = Kind{Number: kind, Name: "reading", Stream: Workshop, V: 2, blank: func() visitable { return &reading{visitAs: visit} }}
	defer delete(kindTable, kind)
	for _, c := range []struct {
		name  string
		body  reading
		v     uint32
		first bool // can be read as version 1
	}{
		{"nothing later is said", reading{Batch: "7K3QX"}, 1, true},
		{"a later field", reading{Batch: "7K3QX", Value: 12}, 2, false},
		{"a later field of an item", reading{Batch: "7K3QX", Words: []readingWord{{"soft", "warm"}}}, 2, false},
		{"an item without it", reading{Batch: "7K3QX", Words: []readingWord{{"soft", ""}, {}}}, 1, true},
		{"the last item alone has it", reading{Batch: "7K3QX", Words: []readingWord{{}, {"soft", "warm"}}}, 2, false},
	} {
		c.body.visitAs = visit
		d, no := draft(kind, &c.body)
		if no != nil {
			t.Fatal(no)
		}
		if d.V != c.v {
			t.Errorf("%s: written as version %d, want %d", c.name, d.V, c.v)
		}
		back, err := open(kind, d.V, d.Body)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if again, _ := encode(back); string(again) != string(d.Body) {
			t.Errorf("%s: %x became %x", c.name, d.Body, again)
		}
		if _, err := open(kind, 1, d.Body); (err == nil) != c.first {
			t.Errorf("%s: read as version 1: %v", c.name, err)
		}
		form, err := Describe(kind, d.V, d.Body)
		if err != nil {
			t.Fatal(err)
		}
		if raw, err := Read(kind, d.V, form); err != nil || string(raw) != string(d.Body) {
			t.Errorf("%s: %s reads back to %x, %v", c.name, form, raw, err)
		}
		if _, err := Read(kind, 1, form); (err == nil) != c.first {
			t.Errorf("%s: %s read as version 1: %v", c.name, form, err)
		}

		// A program of version 1 counts a version 2 and refuses to take bytes of it under the name of version 1.
		func() {
			was := kindTable[kind]
			defer func() { kindTable[kind] = was }()
			is := was
			is.V = 1
			kindTable[kind] = is
			s := New()
			s.Apply(Workshop, device(1), nil, sync.Entry{Seq: 1, Kind: kind, V: d.V, Body: d.Body})
			if n := s.UpdateNeeded(); (n == 1) != (d.V == 2) || len(s.Clashes()) != 0 {
				t.Errorf("%s: %d wait for the update, %d clash", c.name, n, len(s.Clashes()))
			}
		}()
	}
}
