package book

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write golden files anew")

type vector struct {
	Kind uint32          `json:"kind"`
	V    uint32          `json:"v"`
	Hex  string          `json:"hex"`
	JSON json.RawMessage `json:"json"`
}

// golden compares with a file, or writes it.
func golden(t *testing.T, path string, got []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; got\n%s", path, got)
	}
}

func TestVectorsOfEveryKind(t *testing.T) {
	all := samples()
	for _, k := range Kinds() {
		if k.V == 0 {
			continue
		}
		if len(all[k.Number]) == 0 {
			t.Errorf("no sample of %s", k.Name)
		}
		var out []vector
		for _, b := range append(all[k.Number], k.blank()) {
			body, err := encode(b)
			if err != nil {
				t.Fatalf("%s: %v", k.Name, err)
			}
			form, err := Describe(k.Number, k.V, body)
			if err != nil {
				t.Fatalf("%s: %v", k.Name, err)
			}
			back, err := Read(k.Number, k.V, form)
			if err != nil || !bytes.Equal(back, body) {
				t.Errorf("%s: read back %x, %v; want %x", k.Name, back, err, body)
			}
			again, err := open(k.Number, k.V, body)
			if err != nil {
				t.Fatalf("%s: %v", k.Name, err)
			}
			if b2, _ := encode(again); !bytes.Equal(b2, body) {
				t.Errorf("%s: decoded and encoded gives %x, want %x", k.Name, b2, body)
			}
			out = append(out, vector{k.Number, k.V, hex.EncodeToString(body), form})
		}
		text, err := json.MarshalIndent(out, "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		golden(t, "../../testdata/vectors/book/"+k.Name+".json", append(text, '\n'))
	}
}

func TestZeroFieldsAtTheEndAreAbsent(t *testing.T) {
	body, err := encode(&BatchNoted{Batch: "7K3QX"})
	if err != nil || string(body) != "\x057K3QX" {
		t.Fatalf("got %x, %v", body, err)
	}
	b, err := open(KindBatchNoted, 1, body)
	if err != nil || b.(*BatchNoted).Text != "" {
		t.Fatalf("an absent field reads as %+v, %v", b, err)
	}
}

func TestWhatIsNotCanonicalIsRefused(t *testing.T) {
	for _, c := range []struct{ name, body string }{
		{"a zero field at the end", "057a7a7a7a7a00"},
		{"a length with a spare byte", "85007a7a7a7a7a"},
		{"a text cut short", "057a7a"},
		{"bytes left over", "017a017a00017a"},
		{"not UTF-8", "01ff"},
	} {
		raw, err := hex.DecodeString(c.body)
		if err != nil {
			t.Fatal(err)
		}
		if b, err := open(KindBatchNoted, 1, raw); err == nil {
			t.Errorf("%s: decodes to %+v", c.name, b)
		}
	}
	// A count of items that cannot fit must not make room for them.
	if _, err := open(KindBatchFilled, 1, []byte{0, 0, 0, 0, 0, 0xc8, 1}); err == nil {
		t.Error("200 items in no bytes decode")
	}
	if _, err := encode(&BatchNoted{Batch: "a\xff"}); err == nil {
		t.Error("a text that is not UTF-8 encodes")
	}
	if _, err := encode(&BatchWeighed{Mass: maxWhole + 1}); err == nil {
		t.Error("a mass beyond 2^53 encodes")
	}
}

func TestReadRefusesFieldsWithoutAPlace(t *testing.T) {
	if _, err := Read(KindBatchNoted, 1, []byte(`{"batch":"7K3QX","colour":"red"}`)); err == nil {
		t.Error("a field that the kind does not have is dropped silently")
	}
	if _, err := Read(KindBatchWeighed, 1, []byte(`{"mass":1.5}`)); err == nil {
		t.Error("a fraction is read as a mass")
	}
	if _, err := Describe(KindBatchSplit, 1, nil); err == nil {
		t.Error("a reserved kind has no body yet, and is described")
	}
}

func FuzzWhatDecodesEncodesToTheSameBytes(f *testing.F) {
	for kind, bodies := range samples() {
		for _, b := range bodies {
			body, err := encode(b)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(kind, body)
		}
	}
	f.Fuzz(func(t *testing.T, kind uint32, body []byte) {
		v := kindTable[kind].V
		b, err := open(kind, v, body)
		if err != nil {
			return
		}
		again, err := encode(b)
		if err != nil || !bytes.Equal(again, body) {
			t.Fatalf("%x encodes to %x, %v", body, again, err)
		}
		form, err := Describe(kind, v, body)
		if err != nil {
			t.Fatal(err)
		}
		back, err := Read(kind, v, form)
		if err != nil || !bytes.Equal(back, body) {
			t.Fatalf("%s reads back to %x, %v; want %x", form, back, err, body)
		}
	})
}

// The layout is justified by what it saves over JSON of the same bodies, in bytes at rest and in time to load.
// Run: go test -run '^$' -bench Body ./calc/book
func BenchmarkBodyDecode(b *testing.B) {
	for _, name := range []string{"layout", "json"} {
		b.Run(name, func(b *testing.B) {
			body, form, blank := weighing(b)
			b.ReportAllocs()
			for b.Loop() {
				x := blank()
				var err error
				if name == "json" {
					err = json.Unmarshal(form, x)
				} else {
					err = decode(1, body, x)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(body)), "layout-bytes")
			b.ReportMetric(float64(len(form)), "json-bytes")
		})
	}
}

func BenchmarkBodyEncode(b *testing.B) {
	for _, name := range []string{"layout", "json"} {
		b.Run(name, func(b *testing.B) {
			body, _, blank := weighing(b)
			x := blank()
			if err := decode(1, body, x); err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				var err error
				if name == "json" {
					_, err = json.Marshal(x)
				} else {
					_, err = encode(x)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// weighing is the commonest body, in the layout and in JSON with the same short names that Describe uses.
func weighing(b *testing.B) (body, form []byte, blank func() *BatchWeighed) {
	b.Helper()
	w := &BatchWeighed{Batch: "7K3QX", Line: "g", Lot: "ABCD1234", Mass: 300000, AsPlanned: true}
	body, err := encode(w)
	if err != nil {
		b.Fatal(err)
	}
	if form, err = Describe(KindBatchWeighed, 1, body); err != nil {
		b.Fatal(err)
	}
	return body, form, func() *BatchWeighed { return new(BatchWeighed) }
}

func ExampleDescribe() {
	form, _ := Describe(KindBatchNoted, 1, []byte("\x057K3QX\x0asoft peaks"))
	fmt.Println(string(form))
	// Output: {"batch":"7K3QX","text":"soft peaks"}
}
