package book

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stillroom/sync"
)

type failing interface{ Fatalf(string, ...any) }

// again is a book from its own snapshot.
func again(t failing, s *State) *State {
	b := s.Snapshot()
	out, err := Restore(b)
	if err != nil {
		t.Fatalf("a book is not restored from its own snapshot: %v", err)
	}
	if !bytes.Equal(out.Snapshot(), b) {
		t.Fatalf("a restored book has another snapshot")
	}
	return out
}

// F27: for every cut, a snapshot and the entries after it are the same book as all entries: digest, snapshot, views.
func TestEveryOrderIsTheSameFromASnapshot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		order := drawOrder(t, drawPhones(t))
		all := New()
		apply(all, order...)
		want, bytesOf, shown := all.Digest(), all.Snapshot(), look(t, all)
		for _, cut := range []int{0, rapid.IntRange(0, len(order)).Draw(t, "cut"), rapid.IntRange(0, len(order)).Draw(t, "cut"), len(order)} {
			s := New()
			apply(s, order[:cut]...)
			s = again(t, s)
			apply(s, order[cut:]...)
			if s.Digest() != want || !bytes.Equal(s.Snapshot(), bytesOf) {
				t.Fatalf("cut at %d of %d, snapshot and tail are another book", cut, len(order))
			}
			if got := look(t, s); got != shown {
				t.Fatalf("cut at %d of %d, snapshot and tail show another book: %s\n%s", cut, len(order), got, shown)
			}
		}
		apart := New()
		for _, stream := range []string{Shelf, Workshop} {
			for _, p := range order {
				if p.stream == stream {
					apply(apart, p)
				}
			}
		}
		if !bytes.Equal(apart.Snapshot(), bytesOf) {
			t.Fatalf("the shelf before the workshop has another snapshot")
		}
	})
}

// recordedBooks are the books that past versions recorded, and two that are for snapshots: the demo's workshop, and what
// three devices wrote that fits nowhere, mostly.
func recordedBooks(t *testing.T) map[string]*recorded {
	t.Helper()
	out := map[string]*recorded{}
	for n, r := range books(t) {
		out[fmt.Sprintf("version %d", n+1)] = r
	}
	for _, name := range []string{"demo", "odd"} {
		raw, err := os.ReadFile(folder + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		r := &recorded{}
		if err := json.Unmarshal(raw, r); err != nil {
			t.Fatal(err)
		}
		out[name] = r
	}
	return out
}

const folder = "../../testdata/books/"

// placed are the entries of a recorded book in the order in which fold takes them.
func (r *recorded) placed(t *testing.T) (out []placed, envs []sync.Envelope) {
	t.Helper()
	for _, stream := range []string{Workshop, Shelf} {
		for _, text := range r.Streams[stream] {
			env := recordedEnvelope(t, text)
			out = append(out, placed{stream, env.Device, mustEntry(t, env.Entry), env.Held})
			envs = append(envs, env)
		}
	}
	return out, envs
}

// F27: the same at every cut of the books of past versions.
func TestRecordedBooksAreTheSameFromASnapshot(t *testing.T) {
	for name, r := range recordedBooks(t) {
		all, envs := r.placed(t)
		whole := r.fold(t, -1)
		want, bytesOf, shown := whole.Digest(), whole.Snapshot(), look(t, whole)
		first := New()
		for cut := range len(all) + 1 {
			s := again(t, first)
			for i := cut; i < len(all); i++ {
				s.Apply(all[i].stream, all[i].dev, &envs[i], all[i].e)
			}
			if s.Digest() != want || !bytes.Equal(s.Snapshot(), bytesOf) {
				t.Fatalf("%s cut at %d of %d: snapshot and tail are another book", name, cut, len(all))
			}
			if cut%20 == 0 && look(t, s) != shown {
				t.Fatalf("%s cut at %d of %d: snapshot and tail show another book", name, cut, len(all))
			}
			if cut < len(all) {
				first.Apply(all[cut].stream, all[cut].dev, &envs[cut], all[cut].e)
			}
		}
		for _, c := range whole.heads.added {
			if where := again(t, whole).where(c.stream, Ref{c.device, 1}); where != "book" {
				t.Errorf("%s: an entry in the book is %q after a restore", name, where)
			}
		}
	}
}

// folds is what the recorded books fold to, byte for byte, and by which fold.
type folds struct {
	Fold  int               `json:"fold"`
	Books map[string]string `json:"books"` // SHA-256 of the snapshot without its name and its sum
}

// A phone that starts from a snapshot of an older fold would show an older program's book. So whatever changes what a
// recorded book folds to must raise Fold.
func TestRecordedFoldsChangeOnlyWithTheirVersion(t *testing.T) {
	path := folder + "folds.json"
	got := folds{Fold, map[string]string{}}
	for name, r := range recordedBooks(t) {
		s := r.fold(t, -1)
		b := s.Snapshot()
		sum := sha256.Sum256(b[len(s.foldName()) : len(b)-4])
		got.Books[name] = hex.EncodeToString(sum[:])
	}
	var was folds
	if raw, err := os.ReadFile(path); err == nil {
		if err := json.Unmarshal(raw, &was); err != nil {
			t.Fatal(err)
		}
	}
	for name, sum := range was.Books {
		if got.Books[name] != sum && was.Fold >= Fold {
			t.Fatalf("the recorded book %s folds to something else than fold %d made of it, so phones must not go on from snapshots of that fold: "+
				"raise Fold in snapshot.go to %d, then run go test ./calc/book -run Recorded -update. If you changed nothing on purpose, it is a bug.", name, was.Fold, was.Fold+1)
		}
	}
	if was.Fold > Fold {
		t.Fatalf("Fold is %d and was %d before: it never falls", Fold, was.Fold)
	}
	text, err := json.MarshalIndent(got, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	golden(t, path, append(text, '\n'))
}

// F27: of a snapshot of another fold nothing is read.
func TestSnapshotOfAnotherFoldIsRefused(t *testing.T) {
	s, _ := demo(t)
	good := s.Snapshot()
	name := s.foldName()
	for _, other := range []string{"stillroom book\n2 35 00000000\n", "stillroom book\n0 1 12345678\n", strings.Replace(name, "\n1 ", "\n91 ", 1)} {
		b := append([]byte(other), good[len(name):len(good)-4]...)
		b = binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b))
		if s, err := Restore(b); s != nil || !errors.Is(err, ErrOtherFold) || other == name {
			t.Errorf("%q: %v", other, err)
		}
	}
}

func TestDamagedSnapshotIsRefusedWhole(t *testing.T) {
	w := newWorld(t)
	lot := w.lot("glycerin", "G-17")
	_, b := w.start()
	slip := w.do("batch.weigh", m{"batch": b, "line": "g", "lot": lot, "grams": "330"}, "entry")
	w.do("correct", m{"entry": slip, "value": "300", "reason": "slip"}, "entry")
	good := w.s.Snapshot()
	for n := range good {
		if s, err := Restore(good[:n]); s != nil || err == nil {
			t.Fatalf("cut to %d of %d bytes it is read", n, len(good))
		}
		for bit := range 8 {
			bad := bytes.Clone(good)
			bad[n] ^= 1 << bit
			if s, err := Restore(bad); s != nil || err == nil {
				t.Fatalf("with bit %d of byte %d flipped it is read", bit, n)
			}
			if bit == n%8 {
				hostile(t, sealed(bad[:len(bad)-4]))
			}
		}
	}
	if s, err := Restore(append(good, 0)); s != nil || err == nil {
		t.Error("with a byte behind it it is read")
	}
}

// sealed gives bytes the sum that belongs to them.
func sealed(b []byte) []byte {
	return binary.BigEndian.AppendUint32(bytes.Clone(b), crc32.ChecksumIEEE(b))
}

// hostile reads a snapshot with a right sum and anything inside: it is refused, or a book that can be written, shown and
// gone on from like any other.
func hostile(t failing, b []byte) {
	s, err := Restore(b)
	if err != nil {
		return
	}
	if !bytes.Equal(s.Snapshot(), b) {
		t.Fatalf("%x is read and is written in another way", b)
	}
	look(t, s)
	s.Digest()
	for _, bodies := range [][]visitable{{&BatchWeighed{Batch: "AAAAA", Line: "g", Lot: "LLLL0001", Mass: 5}, &DemoRemoved{device(9).String()}}} {
		for i, body := range bodies {
			raw, _ := encode(body)
			s.Apply(Workshop, device(4), &sync.Envelope{}, sync.Entry{Seq: uint64(i + 1), Kind: []uint32{KindBatchWeighed, KindDemoRemoved}[i], V: 1, Body: raw})
		}
	}
	look(t, s)
}

func FuzzRestore(f *testing.F) {
	s, _ := demo(f)
	b := s.Snapshot()
	f.Add(b[:len(b)-4])
	gen := rapid.Custom(func(t *rapid.T) []placed { return drawOrder(t, drawPhones(t)) })
	for seed := range 8 {
		s := New()
		apply(s, gen.Example(seed)...)
		b := s.Snapshot()
		f.Add(b[:len(b)-4])
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		Restore(b)
		hostile(t, sealed(b))
	})
}

func TestSnapshotInPieces(t *testing.T) {
	s, _ := demo(t)
	want := s.Snapshot()
	over := s.Overlay()
	draft, _ := draft(KindBatchNoted, &BatchNoted{Batch: "AAAAA", Text: "pending"})
	over.Apply(Workshop, device(1), nil, entryOf(draft, 1))
	for _, size := range []int{1, 100, 5000} {
		w := over.Save()
		var got []byte
		for more := true; more; {
			var piece []byte
			if piece, more = w.Piece(size); size > 1000 && len(piece) > 4*size {
				t.Errorf("a piece of %d bytes, asked for %d", len(piece), size)
			}
			got = append(got, piece...)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("in pieces of %d it is another snapshot, or what is pending stands in it", size)
		}
	}
}

// What is added to a book and forgotten in its snapshot would be gone after the next start.
func TestSnapshotHasEveryTableAndField(t *testing.T) {
	s := New()
	names := map[string]bool{}
	st := reflect.TypeFor[State]()
	tables := 0
	for i := range st.NumField() {
		names[st.Field(i).Name] = true
		if strings.HasPrefix(st.Field(i).Type.Name(), "table[") {
			tables++
		}
	}
	if n := len(s.tables()); n != tables-1 { // rowAt follows from the batches
		t.Errorf("a book has %d tables and its snapshot %d", tables-1, n)
	}
	for _, name := range []string{"given", "rowAt", "base", "summed", "added", "restock", "unindexed"} { // made anew
		delete(names, name)
	}
	if len(names) != tables-1 {
		t.Errorf("of %v, one is no table: say in this test where it comes from after a restore", names)
	}
	for _, v := range []interface{ keep(*keeper) }{&head{}, &named{}, &chosen{}, &defined{}, &container{}, &formula{}, &challenge{}, &lot{}, &use{}, &batch{}, &pictures{},
		&strays{}, &text{}, &minted{}, &card{}, &bar{}, &place{}, &priced{}, &move{}, &gone{}, &waiting{}, &count{}, &Clash{}, &headKey{}, &lotIn{}, &streamDevice{}, &streamRef{}, &kindV{}} {
		n := 0
		fill(reflect.ValueOf(v).Elem(), &n)
		w := keeper{}
		v.keep(&w)
		r := keeper{reading: true, buf: w.buf}
		r.devices.all, r.epochs.all = w.devices.all, w.epochs.all
		back := reflect.New(reflect.TypeOf(v).Elem())
		back.Interface().(interface{ keep(*keeper) }).keep(&r)
		if w.err != nil || r.err != nil || r.at != len(w.buf) || !reflect.DeepEqual(back.Interface(), v) {
			t.Errorf("%T: %v, %v; read back %+v, want %+v", v, w.err, r.err, back.Interface(), v)
		}
	}
}

// fill sets every field, unexported ones too, to something that is not zero.
func fill(v reflect.Value, n *int) {
	*n++
	v = reflect.NewAt(v.Type(), v.Addr().UnsafePointer()).Elem()
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), n)
		}
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), n)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(v.Index(0), n)
	case reflect.String:
		v.SetString(string('a' + rune(*n%20)))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Uint8:
		v.SetUint(uint64(*n%100 + 1))
	case reflect.Uint32, reflect.Uint64:
		v.SetUint(uint64(*n))
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*n % 10))
	}
}
