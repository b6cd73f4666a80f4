package door

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"testing"
	"time"

	"stillroom/calc/book"
	"stillroom/server/folder"
	"stillroom/server/rescue"
	"stillroom/sync"
)

// inTurn gives devices the ids of this package's phones: 1, 2, 3 …
type inTurn struct{ n byte }

func (r *inTurn) Read(p []byte) (int, error) {
	clear(p)
	if len(p) == 8 {
		r.n++
	}
	p[0] = r.n
	return len(p), nil
}

// listing is the home store's list with some of this package's phones on it; new ones are 3, 4 …
func listing(t *testing.T, ids ...byte) *folder.Folder {
	t.Helper()
	turn := &inTurn{}
	f, err := folder.Open(t.TempDir(), folder.Options{Now: time.Now, Rand: turn})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	for _, id := range ids {
		turn.n = id - 1
		if d, _, err := f.Devices.Add(book.Owner); err != nil || d.ID != (sync.DeviceID{id}) {
			t.Fatal(d, err)
		}
	}
	turn.n = 2
	return f
}

// lines is what pwa/shell/anew.ts hands over.
func (p *phone) lines() []byte {
	var out bytes.Buffer
	write := json.NewEncoder(&out)
	put := func(row m) {
		if err := write.Encode(row); err != nil {
			p.t.Fatal(err)
		}
	}
	put(m{"stillroom": "rescue 1", "device": p.id.String()})
	for _, c := range p.disk.chunks {
		h := c.head
		put(m{"kept": "chunks", "key": []any{h.Stream, h.From}, "value": m{"stream": h.Stream, "epoch": h.Epoch, "from": h.From, "to": h.To, "hash": h.Hash, "mac": h.MAC, "bytes": base64.StdEncoding.EncodeToString(c.raw)}})
	}
	for stream, rows := range p.disk.pending {
		for seq, raw := range rows {
			put(m{"kept": "pending", "key": []any{stream, seq}, "value": m{"stream": stream, "seq": seq, "sum": p.disk.sums[stream][seq], "bytes": base64.StdEncoding.EncodeToString(raw)}})
		}
	}
	return out.Bytes()
}

// goOn is pwa/shell/anew.ts, killed before one of its steps: 1 a new name, 2 it is kept, 3 the hand-over, 4 the one
// transaction. It tells whether it came to its end.
func (h *home) goOn(p *phone, f *folder.Folder, proves bool, killed int) bool {
	h.t.Helper()
	step := 0
	die := func() bool { step++; return step == killed }
	if p.disk.next == nil {
		if die() {
			return false
		}
		next, _, err := f.Devices.Add(book.Owner)
		if err != nil {
			h.t.Fatal(err)
		}
		if die() {
			return false
		}
		p.disk.next = &next.ID
	} else {
		step = 2
	}
	if die() {
		return false
	}
	who := rescue.From{}
	for _, d := range f.Devices.All() {
		if d.ID == *p.disk.next {
			who.By = d
		}
	}
	if proves {
		who.Was = p.id
	}
	done, err := rescue.HandOver(context.Background(), h.st, f.Devices, who, bytes.NewReader(p.lines()), h.now)
	if err != nil {
		h.t.Fatal(err)
	}
	if die() {
		return false
	}
	for stream, rows := range p.disk.pending {
		for seq, raw := range rows {
			if !slices.Contains(done.Has[stream], seq) {
				p.disk.left = append(p.disk.left, raw)
			}
		}
	}
	p.id, p.disk.next = *p.disk.next, nil
	p.disk.pending, p.disk.sums, p.disk.acked, p.disk.torn = map[string]map[uint64][]byte{}, map[string]map[uint64]string{}, map[string]uint64{}, nil
	return true
}

// comesBackOlder lets a phone write what the store takes, and then be an old copy of itself, from before that.
func comesBackOlder(h *home, p *phone) {
	h.connect(p)
	h.settle()
	old := p.disk.clone()
	p.give("formula.save", rinse())
	h.settle()
	h.cut(p)
	p.disk = old
	p.start()
}

// F12, F13, F20: a phone that the store stopped goes on as a new device, killed before each step of it, and nothing is
// lost and nothing there twice.
func TestAPhoneGoesOnAsANewDevice(t *testing.T) {
	for name, test := range map[string]struct {
		// stop brings a phone, which is device 1, to where the store stops it.
		stop         func(t *testing.T, h *home, p *phone) (*home, *folder.Folder)
		proves, held bool
		left         int
		code         string
	}{
		"F20 not known after a restore": {func(t *testing.T, h *home, p *phone) (*home, *folder.Folder) {
			h.connect(p)
			h.settle()
			h.cut(p)
			whole(p)
			return h.brought(2), listing(t, 2)
		}, false, true, 0, ""},
		"F12 an old copy of itself that wrote on": {func(t *testing.T, h *home, p *phone) (*home, *folder.Folder) {
			comesBackOlder(h, p)
			other := rinse()
			other.Name = "Written by the old copy"
			p.give("formula.save", other)
			h.connect(p)
			h.settle()
			return h, listing(t, 1, 2)
		}, true, false, 1, sync.CodeFork},
		"F12 an old copy of itself": {func(t *testing.T, h *home, p *phone) (*home, *folder.Folder) {
			comesBackOlder(h, p)
			h.connect(p)
			h.settle()
			if _, no := p.try("formula.save", rinse()); no == nil || no.Code != "behind" {
				t.Errorf("it writes on under numbers that are taken: %+v", no)
			}
			return h, listing(t, 1, 2)
		}, true, false, 0, sync.CodeBehind},
		"F13 a clone that was second": {func(t *testing.T, h *home, p *phone) (*home, *folder.Folder) {
			h.connect(p)
			h.settle()
			h.cut(p)
			clone := newPhone(t, 1, book.Owner)
			clone.disk = p.disk.clone()
			clone.start()
			for _, one := range []*phone{clone, p} {
				draft := rinse()
				draft.Name = fmt.Sprintf("Clone's or own, %d", len(draft.Name)+one.last.Unsent)
				if one == p {
					draft.Name = "Own"
				}
				one.give("formula.save", draft)
				one.give("formula.save", rinse())
				h.connect(one)
				h.settle()
				h.cut(one)
			}
			return h, listing(t, 1, 2)
		}, true, false, 2, sync.CodeFork},
	} {
		for killed := range 5 {
			t.Run(fmt.Sprintf("%s, killed before step %d", name, killed), func(t *testing.T) {
				h := newHome(t)
				p, other := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
				batch := whole(p)
				h.connect(other)
				h.settle()
				h, f := test.stop(t, h, p)
				if test.code != "" {
					if n := len(p.said); n == 0 || p.said[n-1].Code != test.code || p.said[n-1].Way == nil || !p.said[n-1].Way.Anew {
						t.Fatalf("%+v", p.said)
					}
				}
				before, was, mine := p.state(), p.id, p.disk.clone()
				if !h.goOn(p, f, test.proves, killed) {
					p.start()
					if got := p.state(); got.Digest != before.Digest || got.Unsent != before.Unsent || p.id != was {
						t.Fatalf("killed, it is another: %+v\n%+v", got, before)
					}
					if !h.goOn(p, f, test.proves, 0) {
						t.Fatal("it never ends")
					}
				}
				p.said = nil
				p.start()
				p.give("formula.save", rinse())
				h.heal(p)
				other.start()
				h.heal(other)
				h.heal(p)
				var waits struct{ Count int }
				p.look("waiting", m{}, &waits)
				if (waits.Count > 0) != test.held {
					t.Errorf("%d wait for the owner", waits.Count)
				}
				p.give("waiting.accept", m{})
				h.settle()
				p.said = slices.DeleteFunc(p.said, func(a action) bool { return a.Code == sync.CodeHealed })
				a, b := p.state(), other.state()
				if a.Digest != b.Digest || a.Unsent != 0 || len(p.said) > 0 {
					t.Errorf("%+v\n%+v\n%+v", a, b, p.said)
				}
				if len(p.disk.left) != test.left {
					t.Errorf("%d rows are put aside", len(p.disk.left))
				}
				if v := seeBatch(p, batch); len(v.Jars) != 23 {
					t.Errorf("%d jars", len(v.Jars))
				}
				h.has(mine, was, p.disk.left)
			})
		}
	}
}

// has fails unless each row that a device had not sent is in the log once, byte for byte, or among those put aside.
func (h *home) has(of disk, device sync.DeviceID, aside [][]byte) {
	h.t.Helper()
	for stream, rows := range of.pending {
		for seq, raw := range rows {
			n := 0
			there, err := h.st.ReadDevice(context.Background(), stream, device, seq-1, 1, 0)
			if err == nil && len(there) == 1 && bytes.Equal(there[0], raw) {
				n++
			}
			for _, left := range aside {
				if bytes.Equal(left, raw) {
					n++
				}
			}
			if n != 1 {
				h.t.Errorf("row %d of %s is there %d times (%v)", seq, stream, n, err)
			}
		}
	}
}

func (d disk) clone() disk {
	d.chunks, d.epochs, d.acked = slices.Clone(d.chunks), maps.Clone(d.epochs), maps.Clone(d.acked)
	pending, sums := map[string]map[uint64][]byte{}, map[string]map[uint64]string{}
	for stream, rows := range d.pending {
		pending[stream] = maps.Clone(rows)
	}
	for stream, rows := range d.sums {
		sums[stream] = maps.Clone(rows)
	}
	d.pending, d.sums = pending, sums
	return d
}

// F28: a phone that was taken off the list has no key to press, and hands nothing over.
func TestARevokedPhoneHasNoWayBackOfItsOwn(t *testing.T) {
	h, f := newHome(t), listing(t, 1, 2)
	p := newPhone(t, 1, book.Owner)
	whole(p)
	if err := f.Devices.Revoke(p.id); err != nil {
		t.Fatal(err)
	}
	who := rescue.From{By: f.Devices.All()[1], Was: p.id}
	refused := new(rescue.Refused)
	_, err := rescue.HandOver(context.Background(), h.st, f.Devices, who, bytes.NewReader(p.lines()), h.now)
	if !errors.As(err, &refused) || !refused.Revoked || h.st.Head(book.Workshop).Seq != 0 {
		t.Errorf("%v, %d in the log", err, h.st.Head(book.Workshop).Seq)
	}
	if w := wayFor(sync.CodeRevoked); w == nil || w.Anew {
		t.Errorf("%+v", w)
	}
	if w := wayFor(sync.CodeEpoch); w != nil {
		t.Errorf("another store is no reason to hand over: %+v", w)
	}
}
