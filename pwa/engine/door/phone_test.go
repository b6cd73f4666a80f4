package door

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"stillroom/calc/book"
	"stillroom/sync"
)

// phone is a shell without a browser: a door, and a disk that outlives it.
type phone struct {
	t     *testing.T
	d     *Door
	id    sync.DeviceID
	role  string
	now   int64
	calls uint64
	disk  disk
	out   [][]byte // sent and not yet on the wire
	said  []action // stops
	full  bool     // the next entry cannot be written
	swaps int      // since it began
	deaf  bool     // what is to be persisted stays undone
	last  outcome  // of the last call
	torn  []torn   // being mended
}

type disk struct {
	snap    *snap
	chunks  []chunk
	aside   []chunk                      // could not be read
	next    *sync.DeviceID               // a new name that was given and is not taken yet
	left    [][]byte                     // rows put aside
	torn    map[string]uint64            // while what was set aside is fetched anew
	sums    map[string]map[uint64]string // of pending rows
	pending map[string]map[uint64][]byte
	epochs  map[string]string
	acked   map[string]uint64
}

type chunk struct {
	head loadHead
	raw  []byte
}

const morning = 1764057600000 // 2025-11-25 08:00 UTC

func newPhone(t *testing.T, id byte, role string) *phone {
	p := &phone{t: t, id: sync.DeviceID{id}, role: role, now: morning}
	p.disk = disk{pending: map[string]map[uint64][]byte{}, sums: map[string]map[uint64]string{}, epochs: map[string]string{}, acked: map[string]uint64{}}
	p.start()
	return p
}

// call frames a request as the shell does; the random bytes differ with every call and repeat with every run.
func (p *phone) call(op Op, head any, raw []byte) (json.RawMessage, []byte, *book.Refusal) {
	p.t.Helper()
	p.calls++
	p.now += 1000
	var seed [9]byte
	seed[0] = p.id[0]
	binary.LittleEndian.PutUint64(seed[1:], p.calls)
	b, err := Request(op, p.now, 60, sha256.Sum256(seed[:]), head, raw)
	if err != nil {
		p.t.Fatal(err)
	}
	ok, h, rest, err := ParseAnswer(p.d.Call(b))
	if err != nil {
		p.t.Fatal(err)
	}
	if ok {
		return h, rest, nil
	}
	var no book.Refusal
	if err := json.Unmarshal(h, &no); err != nil {
		p.t.Fatal(err)
	}
	return nil, nil, &no
}

func (p *phone) must(op Op, head any, raw []byte) (json.RawMessage, []byte) {
	p.t.Helper()
	h, rest, no := p.call(op, head, raw)
	if no != nil {
		p.t.Fatalf("op %d %v: %s %s", op, head, no.Says, no.Hint)
	}
	return h, rest
}

// start is a page that is loaded: all memory gone, the disk there.
func (p *phone) start() {
	p.t.Helper()
	if p.quick() {
		return
	}
	p.begin()
	p.disk.chunks = slices.DeleteFunc(p.disk.chunks, func(c chunk) bool {
		var said loadAnswer
		h, _ := p.must(OpLoad, c.head, c.raw)
		if err := json.Unmarshal(h, &said); err != nil {
			p.t.Fatal(err)
		}
		if said.Aside {
			p.disk.aside = append(p.disk.aside, c)
			if p.disk.torn == nil {
				p.disk.torn = map[string]uint64{}
			}
			p.disk.torn[c.head.Stream] = max(p.disk.torn[c.head.Stream], c.head.To)
		}
		return said.Aside
	})
	p.loadPending()
	p.act(p.must(OpLoaded, nil, nil))
}

func (p *phone) begin() {
	p.d, p.out = New(), nil
	p.must(OpStart, startHead{Device: p.id.String(), Token: "token", Letter: string(rune('A' + p.id[0] - 1)), Role: p.role, Acked: p.disk.acked, Epochs: p.disk.epochs, Torn: p.disk.torn}, nil)
}

func (p *phone) loadPending() {
	for _, stream := range slices.Sorted(maps.Keys(p.disk.pending)) {
		rows := p.disk.pending[stream]
		seqs := slices.Sorted(maps.Keys(rows))
		if len(seqs) == 0 {
			continue
		}
		var items [][]byte
		var sums []string
		for _, seq := range seqs {
			items, sums = append(items, rows[seq]), append(sums, p.disk.sums[stream][seq])
		}
		p.must(OpLoad, loadHead{Kind: "pending", Stream: stream, From: seqs[0], Seqs: seqs, Sums: sums}, Join(items))
	}
}

// try gives a command and keeps its entries, or fails to, as the shell does.
func (p *phone) try(name string, args any) (json.RawMessage, *book.Refusal) {
	p.t.Helper()
	h, raw, no := p.call(OpCommand, map[string]any{"name": name, "args": args}, nil)
	if no != nil {
		return nil, no
	}
	var out commandHead
	if err := json.Unmarshal(h, &out); err != nil {
		p.t.Fatal(err)
	}
	if p.full {
		p.full = false
		p.act(p.must(OpAborted, nil, nil))
		return nil, &book.Refusal{Code: "full", Says: "no room"}
	}
	items, err := Split(raw)
	if err != nil || len(items) != len(out.Entries) {
		p.t.Fatalf("%d entries with %d byte strings (%v)", len(out.Entries), len(items), err)
	}
	for i, e := range out.Entries {
		if p.disk.pending[e.Stream] == nil {
			p.disk.pending[e.Stream] = map[uint64][]byte{}
		}
		if p.disk.sums[e.Stream] == nil {
			p.disk.sums[e.Stream] = map[uint64]string{}
		}
		if there, ok := p.disk.pending[e.Stream][e.Seq]; ok && string(there) != string(items[i]) {
			p.t.Fatalf("entry %d of %s was given twice with different bytes", e.Seq, e.Stream)
		}
		p.disk.pending[e.Stream][e.Seq], p.disk.sums[e.Stream][e.Seq] = items[i], e.Sum
	}
	p.act(p.must(OpCommitted, nil, nil))
	return out.Value, nil
}

func (p *phone) give(name string, args any) map[string]any {
	p.t.Helper()
	v, no := p.try(name, args)
	if no != nil {
		p.t.Fatalf("%s %v: %s %s", name, args, no.Says, no.Hint)
	}
	var out map[string]any
	if err := json.Unmarshal(v, &out); err != nil {
		p.t.Fatal(err)
	}
	return out
}

func (p *phone) look(name string, args any, into any) {
	p.t.Helper()
	h, _ := p.must(OpView, map[string]any{"name": name, "args": args}, nil)
	if err := json.Unmarshal(h, into); err != nil {
		p.t.Fatal(err)
	}
}

// act does what the door asks, in order: the outcome of one call.
func (p *phone) act(h json.RawMessage, raw []byte) {
	p.t.Helper()
	var out outcome
	if err := json.Unmarshal(h, &out); err != nil {
		p.t.Fatal(err)
	}
	p.last = out
	items, err := Split(raw)
	if err != nil {
		p.t.Fatal(err)
	}
	for _, a := range out.Actions {
		switch a.Do {
		case "send":
			p.out, items = append(p.out, items[0]), items[1:]
		case "persist":
			if p.deaf {
				items = items[1:]
				continue
			}
			p.persist(a, items[0])
			items = items[1:]
		case "fetch":
			p.act(p.must(OpFetched, fetchedHead{Stream: a.Stream, After: a.After}, Join(p.envelopes(a.Stream)[a.After:a.Last])))
		case "swap":
			p.swap(a, items[0])
			items = items[1:]
		case "acked":
			p.disk.acked[a.Stream] = a.Seq
		case "welcomed":
			p.disk.epochs = a.Epochs
		case "stop":
			p.said = append(p.said, a)
		}
	}
}

func (p *phone) persist(a action, raw []byte) {
	p.t.Helper()
	p.disk.chunks = append(p.disk.chunks, chunk{loadHead{Kind: "chunk", Stream: a.Stream, Epoch: a.Epoch, From: a.After + 1, To: a.Last, Hash: a.Hash, MAC: a.MAC}, raw})
	for _, seq := range a.Mine {
		delete(p.disk.pending[a.Stream], seq)
	}
	p.act(p.must(OpStored, storedHead{Stream: a.Stream, Seq: a.Last}, nil))
}

// envelopes are all that the disk has of a stream.
func (p *phone) envelopes(stream string) (out [][]byte) {
	for _, c := range p.disk.chunks {
		if c.head.Stream == stream {
			items, err := Split(c.raw)
			if err != nil {
				p.t.Fatal(err)
			}
			out = append(out, items...)
		}
	}
	return out
}

// swap is keep.swapEnd with one chunk for the whole log; then the page is loaded anew.
func (p *phone) swap(a action, raw []byte) {
	p.t.Helper()
	end, err := Split(raw)
	if err != nil {
		p.t.Fatal(err)
	}
	all := p.envelopes(a.Stream)
	if uint64(len(all)) > a.Was {
		p.t.Fatalf("%d are kept and %d were said", len(all), a.Was)
	}
	all = append(all[:a.After:a.After], end...)
	p.disk.chunks = slices.DeleteFunc(p.disk.chunks, func(c chunk) bool { return c.head.Stream == a.Stream })
	if len(all) > 0 {
		p.disk.chunks = append(p.disk.chunks, chunk{loadHead{Kind: "chunk", Stream: a.Stream, Epoch: a.Epoch, From: 1, To: a.Last, Hash: a.Hash, MAC: a.MAC}, Join(all)})
	}
	for _, seq := range a.Mine {
		delete(p.disk.pending[a.Stream], seq)
	}
	p.disk.acked[a.Stream], p.disk.epochs[a.Stream] = a.Seq, a.Epoch
	p.disk.snap = nil
	p.swaps++
}

func (p *phone) state() stateHead {
	p.t.Helper()
	h, _ := p.must(OpState, nil, nil)
	var s stateHead
	if err := json.Unmarshal(h, &s); err != nil {
		p.t.Fatal(err)
	}
	return s
}
