package door

import (
	"bytes"
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"stillroom/calc/book"
)

func TestRequestIsReadAsItWasFramed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		op := Op(rapid.Byte().Draw(t, "op"))
		now := rapid.Int64().Draw(t, "now")
		zone := rapid.IntRange(-900, 900).Draw(t, "zone")
		head := rapid.String().Draw(t, "head")
		raw := rapid.SliceOf(rapid.Byte()).Draw(t, "raw")
		var rand [32]byte
		copy(rand[:], rapid.SliceOfN(rapid.Byte(), 32, 32).Draw(t, "rand"))

		b, err := Request(op, now, zone, rand, head, raw)
		if err != nil {
			t.Fatal(err)
		}
		r, err := parseRequest(b)
		if err != nil {
			t.Fatal(err)
		}
		var got string
		if err := json.Unmarshal(r.head, &got); err != nil {
			t.Fatal(err)
		}
		want, _ := json.Marshal(head)
		if r.op != op || r.now != now || r.zone != zone || r.rand != rand || !bytes.Equal(r.head, want) || !bytes.Equal(r.raw, raw) {
			t.Fatalf("framed %v %v %v %q, read %v %v %v %q", op, now, zone, head, r.op, r.now, r.zone, got)
		}
	})
}

func TestItemsComeApartAsTheyWereJoined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := rapid.SliceOf(rapid.SliceOf(rapid.Byte())).Draw(t, "items")
		got, err := Split(Join(items))
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != len(items) {
			t.Fatalf("%d items joined, %d came apart", len(items), len(got))
		}
		for i := range items {
			if !bytes.Equal(got[i], items[i]) {
				t.Fatalf("item %d: %x became %x", i, items[i], got[i])
			}
		}
	})
}

// Whatever bytes are handed in, the door answers with an answer or a refusal that can be read, and stands afterwards.
func FuzzDoorAnswersAnything(f *testing.F) {
	for op := range 16 {
		b, err := Request(Op(op), 1764064800000, 60, [32]byte{1}, map[string]any{"name": "today", "args": map[string]any{}}, []byte{1, 0, 0, 0, 9})
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
		f.Add(b[:len(b)/2])
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		d := New()
		for range 2 {
			ok, head, _, err := ParseAnswer(d.Call(b))
			if err != nil {
				t.Fatalf("the answer cannot be read: %v", err)
			}
			if ok {
				continue
			}
			var no book.Refusal
			if err := json.Unmarshal(head, &no); err != nil || no.Says == "" {
				t.Fatalf("refusal %q says nothing (%v)", head, err)
			}
		}
	})
}
