package door

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stillroom/calc/book"
)

// shellPhone is a phone with a disk that takes its time, as pwa/shell/book.ts carries it out: sends go at once, the rest
// waits in one queue, and everything that came by the time of a write goes to disk in one transaction.
type shellPhone struct {
	*phone
	doing   []func() // steps that wait for the disk, in order
	arrived []arrivedChunk
	line    int
	greeted int          // the line on which hello was said, one more than its number: before that nothing goes out on it
	writing *commandHead // a command whose entries are on their way to disk
	raw     [][]byte
	saved   []string // keys of formulas of which the maker was told that they are kept
}

type arrivedChunk struct {
	do  action
	raw []byte
}

// perform is Book.perform.
func (p *shellPhone) perform(h json.RawMessage, raw []byte) {
	p.t.Helper()
	var out outcome
	if err := json.Unmarshal(h, &out); err != nil {
		p.t.Fatal(err)
	}
	items, err := Split(raw)
	if err != nil {
		p.t.Fatal(err)
	}
	line := p.line
	for _, a := range out.Actions {
		switch a.Do {
		case "send":
			if p.greeted == p.line+1 {
				p.out = append(p.out, items[0])
			}
			items = items[1:]
			continue
		case "persist":
			p.arrived, items = append(p.arrived, arrivedChunk{a, items[0]}), items[1:]
		case "stop":
			p.t.Fatalf("the line stopped: %s %s", a.Says, a.Hint)
		}
		p.doing = append(p.doing, func() {
			if line == p.line {
				p.step(a)
			}
		})
	}
}

func (p *shellPhone) step(a action) {
	switch a.Do {
	case "persist":
		p.keepArrived()
	case "acked":
		p.disk.acked[a.Stream] = a.Seq
	case "welcomed":
		p.disk.epochs = a.Epochs
	}
}

func (p *shellPhone) keepArrived() {
	taken := p.arrived
	if len(taken) == 0 {
		return
	}
	p.arrived = nil
	last := map[string]uint64{}
	for _, c := range taken {
		a := c.do
		p.disk.chunks = append(p.disk.chunks, chunk{loadHead{Kind: "chunk", Stream: a.Stream, Epoch: a.Epoch, From: a.After + 1, To: a.Last, Hash: a.Hash, MAC: a.MAC}, c.raw})
		for _, seq := range a.Mine {
			delete(p.disk.pending[a.Stream], seq)
		}
		last[a.Stream] = a.Last
	}
	for _, stream := range slices.Sorted(maps.Keys(last)) {
		p.perform(p.must(OpStored, storedHead{Stream: stream, Seq: last[stream]}, nil))
	}
}

// work does the first step that waits for the disk.
func (p *shellPhone) work() {
	if len(p.doing) > 0 {
		next := p.doing[0]
		p.doing = p.doing[1:]
		next()
	}
}

// propose decides on a formula; its entry is on its way to disk until finish.
func (p *shellPhone) propose() {
	p.t.Helper()
	draft := rinse()
	draft.Name = fmt.Sprintf("Rinse %s %d", p.id, p.calls)
	h, raw := p.must(OpCommand, m{"name": "formula.save", "args": draft}, nil)
	var head commandHead
	if err := json.Unmarshal(h, &head); err != nil {
		p.t.Fatal(err)
	}
	items, err := Split(raw)
	if err != nil {
		p.t.Fatal(err)
	}
	p.writing, p.raw = &head, items
}

// finish ends the write under way, well or not.
func (p *shellPhone) finish(well bool) {
	p.t.Helper()
	head := p.writing
	p.writing = nil
	if !well {
		p.perform(p.must(OpAborted, nil, nil))
		return
	}
	for i, e := range head.Entries {
		if p.disk.pending[e.Stream] == nil {
			p.disk.pending[e.Stream] = map[uint64][]byte{}
		}
		p.disk.pending[e.Stream][e.Seq] = p.raw[i]
	}
	p.perform(p.must(OpCommitted, nil, nil))
	var value struct{ Key string }
	if err := json.Unmarshal(head.Value, &value); err != nil {
		p.t.Fatal(err)
	}
	p.saved = append(p.saved, value.Key)
}

// check is the promise: what the maker was told is kept stands in the list, and is what a page that is loaded now reads.
func (p *shellPhone) check(after string) {
	p.t.Helper()
	if shows := p.shows(); !slices.Equal(missing(p.saved, shows), nil) {
		p.t.Fatalf("after %s the list of phone %s lacks %v", after, p.id, missing(p.saved, shows))
	}
	again := &phone{t: p.t, id: p.id, role: p.role, now: p.now, disk: p.disk}
	again.start()
	if p.disk.snap != nil {
		if again.disk.snap == nil {
			p.t.Fatalf("after %s the snapshot of phone %s does not fit its entries", after, p.id)
		}
		whole := &phone{t: p.t, id: p.id, role: p.role, now: p.now, disk: p.disk}
		whole.disk.snap = nil
		whole.start()
		if a, b := again.state(), whole.state(); a.Digest != b.Digest || after == "reload" && shownBy(again) != shownBy(whole) {
			p.t.Fatalf("after %s the book from a snapshot is another than that from all entries: %+v and %+v", after, a, b)
		}
	}
	if a, b := p.state(), again.state(); a.Digest != b.Digest {
		p.t.Fatalf("after %s the page shows another book than it would after a reload: %+v and %+v", after, a, b)
	}
}

func (p *shellPhone) shows() []string {
	var rows []struct{ Key string }
	p.look("formulas", m{}, &rows)
	var keys []string
	for _, r := range rows {
		keys = append(keys, r.Key)
	}
	return keys
}

func missing(want, have []string) (out []string) {
	for _, k := range want {
		if !slices.Contains(have, k) {
			out = append(out, k)
		}
	}
	return out
}

// steps are what can happen next; one that stands twice is twice as likely.
var steps = []string{"save", "save", "kept", "kept", "kept", "not kept", "disk", "disk", "disk", "disk", "up", "up", "up", "down", "down", "down", "connect", "cut", "reload", "snapshot"}

// F2, F3, F11: whatever the order of acknowledgement, envelope, write and cut, a saved formula never leaves the list of
// the phone that saved it, and the page shows at every moment what it would show after a reload.
func TestSavedNeverLeavesTheList(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		h := newHome(t)
		phones := []*shellPhone{{phone: newPhone(t, 1, book.Owner)}, {phone: newPhone(t, 2, book.Owner)}}
		lines := map[*shellPhone]*homeLine{}
		var done []string
		defer func() {
			if t.Failed() {
				t.Log(done)
			}
		}()
		cut := func(p *shellPhone) {
			if lines[p] == nil {
				return
			}
			h.drop(p.phone)
			delete(lines, p)
			p.line++
			p.arrived, p.out = nil, nil
			p.doing = append(p.doing, func() { p.perform(p.must(OpClosed, nil, nil)) })
		}
		connect := func(p *shellPhone) {
			if lines[p] != nil {
				return
			}
			lines[p] = h.open(p.phone)
			line := p.line
			p.doing = append(p.doing, func() {
				if line == p.line {
					p.greeted = line + 1
					p.perform(p.must(OpConnect, nil, nil))
				}
			})
		}
		for _, p := range phones {
			connect(p)
		}
		for range rapid.IntRange(40, 120).Draw(r, "steps") {
			p := phones[rapid.IntRange(0, 1).Draw(r, "phone")]
			// Cuts are drawn seldom: most of what can go wrong needs a line that gets somewhere.
			what := steps[rapid.IntRange(0, len(steps)-1).Draw(r, "what")]
			done = append(done, fmt.Sprintf("%s %c", what, 'A'+p.id[0]-1))
			switch what {
			case "save":
				if p.writing == nil {
					p.propose()
				}
			case "kept", "not kept":
				if p.writing != nil {
					p.finish(what == "kept")
				}
			case "disk":
				for range rapid.IntRange(1, 4).Draw(r, "n") {
					p.work()
				}
			case "up":
				for n := rapid.IntRange(1, 3).Draw(r, "n"); n > 0 && lines[p] != nil && len(p.out) > 0; n-- {
					msg := p.out[0]
					p.out = p.out[1:]
					h.do(lines[p], lines[p].link.Receive(h.now, msg))
				}
			case "down":
				for n := rapid.IntRange(1, 3).Draw(r, "n"); n > 0 && lines[p] != nil && len(lines[p].out) > 0; n-- {
					l := lines[p]
					msg := l.out[0]
					l.out = l.out[1:]
					p.perform(p.must(OpReceive, nil, msg))
				}
			case "connect":
				connect(p)
			case "cut":
				cut(p)
			case "snapshot":
				p.doing = append(p.doing, func() { p.keepSnapshot() }) // behind what waits for the disk, as Book does
			case "reload":
				cut(p)
				p.doing, p.writing = nil, nil
				p.start()
			}
			p.check(what)
		}
	})
}
