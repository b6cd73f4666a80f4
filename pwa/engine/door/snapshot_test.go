package door

import (
	"context"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"maps"
	"reflect"
	"strings"
	"testing"

	"stillroom/calc/book"
	"stillroom/server/store"
	"stillroom/sync"
)

// snap is a snapshot as it lies on a phone's disk.
type snap struct {
	head, sum string
	heads     map[string]uint64
	raw       []byte
}

// keepSnapshot is Book.snapshot: a quiet moment in which the book is written down.
func (p *phone) keepSnapshot() bool {
	p.t.Helper()
	s := &snap{}
	for ask, more := (snapshotAsk{}), true; more; ask.On = true {
		h, raw, no := p.call(OpSnapshot, ask, nil)
		if no != nil {
			return false
		}
		var said snapshotAnswer
		if err := json.Unmarshal(h, &said); err != nil {
			p.t.Fatal(err)
		}
		s.raw = append(s.raw, raw...)
		more, s.head, s.sum, s.heads = said.More, said.Head, said.Sum, said.Heads
	}
	p.disk.snap = s
	return true
}

// quick is a start from the snapshot, false when there is none or it does not fit: then it is dropped.
func (p *phone) quick() bool {
	p.t.Helper()
	s := p.disk.snap
	if s == nil || len(p.disk.torn) > 0 {
		return false
	}
	p.disk.snap = nil
	p.begin()
	if _, _, no := p.call(OpLoad, loadHead{Kind: "snapshot", Head: s.head, Hash: s.sum}, s.raw); no != nil {
		return false
	}
	for _, c := range p.disk.chunks {
		if c.head.To < s.heads[c.head.Stream] {
			continue
		}
		if _, _, no := p.call(OpLoad, c.head, c.raw); no != nil {
			return false
		}
	}
	p.loadPending()
	h, raw, no := p.call(OpLoaded, nil, nil)
	if no != nil {
		return false
	}
	p.act(h, raw)
	p.disk.snap = s
	return true
}

// shown is what a person sees of the whole book, and what the line would say.
func shownBy(p *phone) string {
	p.t.Helper()
	out := ""
	for _, name := range []string{"today", "batches", "formulas", "lots", "stall", "places"} {
		var v any
		p.look(name, m{}, &v)
		out += fmt.Sprintln(name, v)
	}
	for _, stream := range []string{book.Workshop, book.Shelf} {
		out += fmt.Sprintf("%+v\n", p.d.replica.Part(stream))
	}
	return out + fmt.Sprintf("%+v", p.state())
}

// many puts n notes of a device that is gone into a home store.
func (h *home) many(n int) {
	h.t.Helper()
	var items [][]byte
	for i := range n {
		items = append(items, sync.Entry{Seq: uint64(i + 1), At: morning, Kind: book.KindBatchNoted, V: 1, Body: []byte("\x057K3QX\x04soft")}.Append(nil))
	}
	for at := 0; at < n; at += 500 {
		if _, err := h.st.Append(context.Background(), book.Workshop, sync.DeviceID{9}, uint64(at), items[at:min(n, at+500)], store.Meta{At: morning}); err != nil {
			h.t.Fatal(err)
		}
	}
}

// F27: a start from a snapshot and the entries after it is a start from all entries: the same book, the same views, and
// the same things known of the log, own rows that were not sent among them.
func TestF27StartFromASnapshotIsAWholeStart(t *testing.T) {
	h := newHome(t)
	h.many(2500) // beyond two checkpoints
	one, two := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
	whole(one)
	h.connect(one)
	h.connect(two)
	h.settle()
	begin(one) // not sent by the time of the snapshot
	if !one.keepSnapshot() {
		t.Fatal("no snapshot is given")
	}
	for _, when := range []string{"at once", "with a tail", "with rows that were not sent"} {
		switch when {
		case "with a tail":
			whole(two)
			h.settle()
		case "with rows that were not sent":
			h.cut(one)
			whole(one)
		}
		if !one.quick() {
			t.Fatalf("%s: the snapshot is not used", when)
		}
		quick := shownBy(one)
		kept := one.disk.snap
		one.disk.snap = nil
		one.start()
		if slow := shownBy(one); quick != slow {
			t.Fatalf("%s: from a snapshot\n%s\nfrom all entries\n%s", when, quick, slow)
		}
		one.disk.snap = kept
		h.connect(one)
		h.settle()
	}
	h.connect(two)
	h.settle()
	if a, b := one.state(), two.state(); a.Digest != b.Digest || a.Unsent != 0 {
		t.Errorf("they differ in the end: %+v %+v", a, b)
	}
}

// reseal gives changed bytes of a snapshot the sums that belong to them.
func (s *snap) reseal(raw []byte) {
	raw = raw[:len(raw)-4]
	s.raw = binary.BigEndian.AppendUint32(raw[:len(raw):len(raw)], crc32.ChecksumIEEE(raw))
	var head snapshotHead
	if err := json.Unmarshal([]byte(s.head), &head); err != nil {
		panic(err)
	}
	head.Size, head.End = len(s.raw), lastOf(s.raw)
	text, _ := json.Marshal(head)
	s.head, s.sum = string(text), textSum(string(text))
}

// F27, F15, F12: a snapshot of an older or a newer program, a cut or damaged one, one of another life of the store, of
// another device or role, or one that is ahead of the entries is dropped and nothing is lost.
func TestF27SnapshotThatDoesNotFitIsDropped(t *testing.T) {
	fold := fmt.Sprintf("stillroom book\n%d ", book.Fold)
	refold := func(to int) func(*phone, *snap) {
		return func(_ *phone, s *snap) {
			if !strings.HasPrefix(string(s.raw), fold) {
				t.Fatalf("the name of the fold is not where this test looks: %q", s.raw[:30])
			}
			s.reseal([]byte(strings.Replace(string(s.raw), fold, fmt.Sprintf("stillroom book\n%d ", to), 1)))
		}
	}
	edit := func(from, to string) func(*phone, *snap) {
		return func(_ *phone, s *snap) {
			changed := strings.Replace(s.head, from, to, 1)
			if changed == s.head {
				t.Fatalf("%s has no %s", s.head, from)
			}
			s.head, s.sum = changed, textSum(changed)
		}
	}
	for name, spoil := range map[string]func(*phone, *snap){
		"an older fold":        refold(book.Fold - 1),
		"a newer fold":         refold(book.Fold + 1),
		"cut bytes":            func(_ *phone, s *snap) { s.raw = s.raw[:len(s.raw)/2] },
		"no bytes":             func(_ *phone, s *snap) { s.raw = nil },
		"a flipped bit":        func(_ *phone, s *snap) { s.raw[len(s.raw)/2] ^= 4 },
		"a flipped bit, again": func(_ *phone, s *snap) { s.raw[len(s.raw)/3] ^= 1; s.reseal(s.raw) },
		"a damaged head":       func(_ *phone, s *snap) { s.head = strings.Replace(s.head, `"own":{"seq":`, `"own":{"seq":1`, 1) },
		"no head":              func(_ *phone, s *snap) { s.head, s.sum = "", textSum("") },
		"another device":       edit(sync.DeviceID{1}.String(), sync.DeviceID{2}.String()),
		"another epoch":        edit(hex.EncodeToString((&sync.Epoch{7})[:]), hex.EncodeToString((&sync.Epoch{8})[:])),
		"another epoch, kept":  func(p *phone, _ *snap) { p.disk.epochs[book.Shelf] = hex.EncodeToString((&sync.Epoch{8})[:]) },
		"another log":          edit(`"down":{"seq":7,"hash":"`, `"down":{"seq":7,"hash":"00`),
		"another role":         func(p *phone, _ *snap) { p.role = book.Stall },
		"entries that went": func(p *phone, _ *snap) {
			p.disk.chunks = p.disk.chunks[:0]
			p.disk.acked = map[string]uint64{}
		},
		"a copy that is mended": func(p *phone, _ *snap) { p.disk.torn = map[string]uint64{book.Shelf: 9} },
	} {
		t.Run(name, func(t *testing.T) {
			h := newHome(t)
			p := newPhone(t, 1, book.Owner)
			key := whole(p)
			h.connect(p)
			h.settle()
			h.cut(p)
			if !p.keepSnapshot() {
				t.Fatal("no snapshot is given")
			}
			good := *p.disk.snap
			good.raw = append([]byte{}, good.raw...)
			again := &phone{t: t, id: p.id, role: p.role, now: p.now, disk: p.disk}
			if !again.quick() {
				t.Fatal("the snapshot is not used even when it fits")
			}
			before := p.state()
			spoil(p, p.disk.snap)
			if name == "a flipped bit, again" {
				p.quick() // what it says may be another book: only that nothing breaks is asked
				return
			}
			p.start()
			if p.disk.snap != nil && p.disk.torn == nil {
				t.Fatal("it is used all the same")
			}
			switch name {
			case "entries that went", "another role", "a copy that is mended":
				return // the book is another one by now
			}
			if after := p.state(); !reflect.DeepEqual(before, after) || len(p.said) > 0 || p.d.shut != nil {
				t.Fatalf("%+v\n%+v\n%v", before, after, p.said)
			}
			if v := seeBatch(p, key); len(v.Jars) != 23 {
				t.Errorf("%d jars", len(v.Jars))
			}
			whole(p)
			p.disk.epochs = maps.Clone(p.disk.epochs)
			h.connect(p)
			h.settle()
			if p.state().Unsent != 0 || len(p.said) > 0 {
				t.Errorf("the line does not go on: %+v %v", p.state(), p.said)
			}
		})
	}
}

// A snapshot under way comes to nothing when the home store's order moves beneath it.
func TestSnapshotUnderWayIsGivenUpWhenTheBookMoves(t *testing.T) {
	h := newHome(t)
	one, two := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
	h.many(20000)
	h.connect(one)
	h.connect(two)
	h.settle()
	if h, _ := one.must(OpSnapshot, snapshotAsk{}, nil); !strings.Contains(string(h), "true") {
		t.Fatalf("one piece is all: %s", h)
	}
	whole(one) // pending: in no snapshot
	one.must(OpSnapshot, snapshotAsk{On: true}, nil)
	h.settle()
	if _, _, no := one.call(OpSnapshot, snapshotAsk{On: true}, nil); no == nil {
		t.Error("a snapshot goes on over a book that moved")
	}
	if !one.keepSnapshot() || !one.quick() {
		t.Error("and none can be made afterwards")
	}
}

// F20 from snapshots: phones that began from one heal an older store as phones that read everything do.
func TestF20PhonesHealAnOlderStoreFromTheirSnapshots(t *testing.T) {
	h := newHome(t)
	h.many(1500)
	one, two := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
	whole(one)
	h.connect(one)
	h.connect(two)
	h.settle()
	whole(two)
	h.settle()
	for _, p := range []*phone{one, two} {
		h.cut(p)
		if !p.keepSnapshot() || !p.quick() {
			t.Fatal("no start from a snapshot")
		}
	}
	after := h.brought(1200)
	after.heal(two)
	after.heal(one)
	after.heal(two)
	a, b := one.state(), two.state()
	if a.Digest != b.Digest || a.Unsent+b.Unsent != 0 || a.Heads[book.Workshop] < 1510 || one.swaps+two.swaps == 0 {
		t.Fatalf("%+v\n%+v, %d swaps", a, b, one.swaps+two.swaps)
	}
}
