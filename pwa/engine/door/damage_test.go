package door

import (
	"context"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"stillroom/calc/book"
	"stillroom/sync"
)

// offered is an answer of GET /api/log: at most n envelopes behind a number, as server/log.go sends them.
func (h *home) offered(of torn, n int) (head loadHead, raw []byte, left bool) {
	h.t.Helper()
	if hash, ok := h.st.HashAt(of.Stream, of.After); !ok || hex.EncodeToString(hash[:]) != of.Hash {
		h.t.Fatalf("the store has another history of %s at %d", of.Stream, of.After)
	}
	items, err := h.st.Read(context.Background(), of.Stream, of.After, n, 0)
	if err != nil || len(items) == 0 {
		return head, nil, false
	}
	to := of.After + uint64(len(items))
	hash, _ := h.st.HashAt(of.Stream, to)
	epoch := h.st.Epoch()
	mac := sync.HeadMAC(h.st.Key(), epoch, of.Stream, to, hash)
	return loadHead{Kind: "mend", Stream: of.Stream, Epoch: hex.EncodeToString(epoch[:]), From: of.After + 1, To: to, Hash: hex.EncodeToString(hash[:]), MAC: hex.EncodeToString(mac[:])},
		Join(items), true
}

// mend does what the shell does for a copy that is torn, one piece; false when nothing is left to fetch.
func (h *home) mend(p *phone, n int) bool {
	h.t.Helper()
	if len(p.last.Mend) > 0 {
		p.torn = p.last.Mend
	}
	for _, of := range p.torn {
		for _, c := range p.disk.chunks {
			if c.head.Stream == of.Stream {
				of.After, of.Hash = c.head.To, c.head.Hash
			}
		}
		head, raw, left := h.offered(of, n)
		if !left {
			continue
		}
		said, _ := p.must(OpLoad, head, raw)
		var got mendAnswer
		if err := json.Unmarshal(said, &got); err != nil {
			h.t.Fatal(err)
		}
		head.Kind = "chunk"
		p.disk.chunks = append(p.disk.chunks, chunk{head, raw})
		for _, seq := range got.Mine {
			delete(p.disk.pending[of.Stream], seq)
		}
		return true
	}
	p.disk.torn = nil
	return false
}

// split cuts what the phone keeps into chunks of n, since a damage is of one chunk.
func (p *phone) split(n int) {
	p.t.Helper()
	old := p.disk.chunks
	p.disk.chunks = nil
	for _, stream := range []string{book.Workshop, book.Shelf} {
		part := sync.NewPart(stream, p.id)
		var items [][]byte
		for _, c := range old {
			if c.head.Stream != stream {
				continue
			}
			all, err := Split(c.raw)
			if err != nil {
				p.t.Fatal(err)
			}
			for i, item := range all {
				if _, _, err := part.Take(p.id, item); err != nil {
					p.t.Fatal(err)
				}
				if items = append(items, item); len(items) < n && i < len(all)-1 {
					continue
				}
				head := c.head
				head.From, head.To, head.Hash = part.Down.Seq+1-uint64(len(items)), part.Down.Seq, hex.EncodeToString(part.Down.Hash[:])
				if i < len(all)-1 {
					head.MAC = strings.Repeat("0", 64)
				}
				p.disk.chunks = append(p.disk.chunks, chunk{head, Join(items)})
				items = nil
			}
		}
	}
}

// A chunk on the phone's disk went bad, in each way in which one can: the good beginning opens for reading, nothing is
// written under numbers that are not known, and what is missing comes from the home store, also when the phone is killed
// between any two pieces. F11.
func TestADamagedCopyIsMendedFromTheHomeStore(t *testing.T) {
	for name, harm := range map[string]func(*chunk){
		"a flipped bit":         func(c *chunk) { c.raw = slices.Clone(c.raw); c.raw[len(c.raw)-3] ^= 4 },
		"a flipped bit ahead":   func(c *chunk) { c.raw = slices.Clone(c.raw); c.raw[0] ^= 1 },
		"cut off":               func(c *chunk) { c.raw = c.raw[:len(c.raw)/2] },
		"empty":                 func(c *chunk) { c.raw = nil },
		"another hash beside":   func(c *chunk) { c.head.Hash = strings.Repeat("1", 64) },
		"no epoch beside":       func(c *chunk) { c.head.Epoch = "" },
		"it says too few":       func(c *chunk) { c.head.To++ },
		"gone, with a hole":     nil,
		"all of it behind gone": nil,
	} {
		for killed := range 4 {
			t.Run(fmt.Sprintf("%s, killed after %d pieces", name, killed), func(t *testing.T) {
				h := newHome(t)
				p, other := newPhone(t, 1, book.Owner), newPhone(t, 2, book.Owner)
				batch := whole(p)
				h.connect(p)
				h.connect(other)
				h.settle()
				second := whole(other)
				h.settle()
				h.cut(p)
				begin(p)
				unsent := p.state().Unsent
				p.split(3)
				before := len(p.disk.chunks)
				at := 2
				switch {
				case harm != nil:
					harm(&p.disk.chunks[at])
				case strings.HasPrefix(name, "gone"):
					p.disk.chunks = slices.Delete(p.disk.chunks, at, at+1)
				default:
					p.disk.chunks = slices.DeleteFunc(p.disk.chunks, func(c chunk) bool { return c.head.Stream == book.Workshop && c.head.From > 3 })
				}
				p.start()
				if strings.HasPrefix(name, "all") {
					// Nothing says that there was more, but that own rows are missing in between, or the store.
					if len(p.disk.aside) > 0 || p.last.Shut == nil {
						t.Fatalf("%d set aside, %+v", len(p.disk.aside), p.last.Shut)
					}
					return
				}
				if len(p.last.Mend) != 1 || len(p.disk.aside) == 0 || p.last.Shut == nil || p.last.Shut.Way != nil {
					t.Fatalf("%+v, %d set aside, %+v", p.last.Mend, len(p.disk.aside), p.last.Shut)
				}
				if harm != nil && len(p.disk.aside)+len(p.disk.chunks) != before {
					t.Errorf("%d set aside and %d kept of %d", len(p.disk.aside), len(p.disk.chunks), before)
				}
				if tells := p.last.Shut.Tells; !strings.Contains(tells, fmt.Sprintf("Entries 7 to %d of the workshop", p.last.Mend[0].Last)) {
					t.Error(tells)
				}
				if _, no := p.try("formula.save", rinse()); no == nil || no.Code != "mending" {
					t.Fatalf("written while its own numbers are not known: %+v", no)
				}
				if got := p.state(); p.last.Unsent != unsent || got.Heads[book.Workshop] != 6 {
					t.Errorf("%d unsent of %d, head %d", p.last.Unsent, unsent, got.Heads[book.Workshop])
				}
				for n := 0; h.mend(p, 4); n++ {
					if n == killed {
						p.start()
					}
				}
				p.start()
				if len(p.last.Mend) > 0 || p.last.Shut != nil {
					t.Fatalf("not mended: %+v", p.last.Shut)
				}
				p.give("formula.save", rinse())
				h.connect(p)
				h.settle()
				a, b := p.state(), other.state()
				if a.Digest != b.Digest || a.Unsent != 0 || len(p.said) > 0 {
					t.Errorf("%+v\n%+v\n%+v", a, b, p.said)
				}
				for _, key := range []string{batch, second} {
					if v := seeBatch(p, key); len(v.Jars) != 23 {
						t.Errorf("%d jars", len(v.Jars))
					}
				}
			})
		}
	}
}

// An answer that is not the rest of this phone's log is not taken, and where the store has something else as a row that
// this phone had not sent, both stay.
func TestWhatMendsIsComparedWithWhatIsThere(t *testing.T) {
	h := newHome(t)
	p := newPhone(t, 1, book.Owner)
	whole(p)
	h.connect(p)
	h.settle()
	h.cut(p)
	p.give("formula.save", rinse())
	p.split(3)
	p.disk.chunks[1].raw = nil
	// A clone of the phone was there first.
	clone := newPhone(t, 1, book.Owner)
	clone.disk = disk{chunks: slices.Clone(p.disk.chunks), pending: map[string]map[uint64][]byte{}, sums: map[string]map[uint64]string{}, epochs: maps.Clone(p.disk.epochs), acked: map[string]uint64{}}
	clone.start()
	for h.mend(clone, 100) {
	}
	clone.start()
	other := rinse()
	other.Name = "Written by the clone"
	clone.give("formula.save", other)
	h.connect(clone)
	h.settle()

	p.start()
	of := p.last.Mend[0]
	head, raw, _ := h.offered(of, 100)
	spoiled := slices.Clone(raw)
	spoiled[len(spoiled)-1] ^= 1
	if _, _, no := p.call(OpLoad, head, spoiled); no == nil || no.Code != sync.CodeDamaged {
		t.Errorf("spoiled: %+v", no)
	}
	if _, _, no := p.call(OpLoad, head, raw); no == nil || no.Code != sync.CodeFork {
		t.Errorf("another row of the same number: %+v", no)
	}
	if _, _, no := p.call(OpLoad, loadHead{Kind: "mend", Stream: of.Stream, Epoch: "0102030405060708", From: head.From, To: head.To, Hash: head.Hash}, raw); no == nil || no.Code != otherwise {
		t.Errorf("another life: %+v", no)
	}
	p.must(OpView, m{"name": "today", "args": m{}}, nil)
	p.act(p.must(OpTick, nil, nil))
	if p.last.Shut.Way == nil || !p.last.Shut.Way.Anew {
		t.Errorf("%+v", p.last.Shut)
	}
	p.act(p.must(OpLoad, loadHead{Kind: "refused", Stream: of.Stream, Code: sync.CodeRevoked}, nil))
	if p.last.Shut.Way == nil || p.last.Shut.Way.Anew {
		t.Errorf("revoked: %+v", p.last.Shut.Way)
	}
}

// A row that was not sent went bad: it is named, those before it are sent, those behind it stay, and nothing more is
// written under a name whose line has a hole.
func TestARowThatWasNotSentAndWentBad(t *testing.T) {
	for name, harm := range map[string]func(rows map[uint64][]byte, at uint64){
		"a flipped bit in what it says": func(rows map[uint64][]byte, at uint64) {
			rows[at] = slices.Clone(rows[at])
			rows[at][len(rows[at])-1] ^= 1
		},
		"cut off": func(rows map[uint64][]byte, at uint64) { rows[at] = rows[at][:3] },
		"gone":    func(rows map[uint64][]byte, at uint64) { delete(rows, at) },
	} {
		t.Run(name, func(t *testing.T) {
			h := newHome(t)
			p := newPhone(t, 1, book.Owner)
			p.give("formula.save", rinse())
			h.connect(p)
			h.settle()
			h.cut(p)
			whole(p)
			rows := p.disk.pending[book.Workshop]
			unsent := p.state().Unsent
			harm(rows, 4)
			p.start()
			if s := p.last.Shut; s == nil || !strings.Contains(s.Tells, "Row 4 of the workshop") || s.Way == nil || !s.Way.Anew {
				t.Fatalf("%+v", s)
			}
			if p.last.Unsent != unsent-1 {
				t.Errorf("%d of %d are counted", p.last.Unsent, unsent)
			}
			if _, no := p.try("formula.save", rinse()); no == nil || no.Code != "row" {
				t.Fatalf("%+v", no)
			}
			h.connect(p)
			h.settle()
			if got := h.st.DeviceHead(book.Workshop, p.id).Seq; got != 3 || len(p.said) > 0 {
				t.Errorf("%d were sent, %+v", got, p.said)
			}
			h.cut(p)
			stay := len(p.disk.pending[book.Workshop])
			h.goOn(p, listing(t, 1, 2), true, 0)
			if len(p.disk.left) != stay || stay == 0 {
				t.Errorf("%d of %d rows are put aside", len(p.disk.left), stay)
			}
			p.start()
			p.give("formula.save", rinse())
			h.connect(p)
			h.settle()
			if got := p.state(); got.Unsent != 0 || len(p.said) > 0 || h.st.DeviceHead(book.Workshop, sync.DeviceID{1}).Seq != 3 {
				t.Errorf("%+v, %+v", got, p.said)
			}
		})
	}
}
