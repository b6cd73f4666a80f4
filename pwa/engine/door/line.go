package door

import (
	"encoding/hex"
	"fmt"
	"strings"

	"stillroom/calc/book"
	"stillroom/sync"
)

// action is one thing for the shell to do, in the words of pwa/shell/actions.ts. "send", "persist" and "swap"
// take one item each of the answer's raw bytes, in order; a persist's item is itself items, one envelope each.
type action struct {
	Do     string            `json:"do"`
	Stream string            `json:"stream,omitempty"`
	Epoch  string            `json:"epoch,omitempty"`
	After  uint64            `json:"after"`
	Last   uint64            `json:"last"`
	Hash   string            `json:"hash,omitempty"`
	MAC    string            `json:"mac,omitempty"`
	Mine   []uint64          `json:"mine,omitempty"`
	Seq    uint64            `json:"seq"`
	Was    uint64            `json:"was,omitempty"`
	Role   string            `json:"role,omitempty"`
	Letter string            `json:"letter,omitempty"`
	Store  string            `json:"store,omitempty"`
	Clock  string            `json:"clock"`
	Epochs map[string]string `json:"epochs,omitempty"`
	Code   string            `json:"code,omitempty"`
	Says   string            `json:"says"`
	Hint   string            `json:"hint"`
	Fatal  bool              `json:"fatal"`
	Way    *way              `json:"way,omitempty"`
}

type outcome struct {
	Actions []action `json:"actions"`
	Unsent  int      `json:"unsent"`
	// Folded is how many envelopes of all streams the book is folded from.
	Folded  uint64 `json:"folded"`
	Changed bool   `json:"changed"`
	Shut    *shut  `json:"shut,omitempty"`
	Mend    []torn `json:"mend,omitempty"`
}

type storedHead struct {
	Stream string `json:"stream"`
	Seq    uint64 `json:"seq"`
}

type fetchedHead struct {
	Stream string `json:"stream"`
	After  uint64 `json:"after"`
}

// line hands an input of the connection to the replica and its answers to the shell.
func (d *Door) line(r request) (any, []byte, *book.Refusal) {
	switch r.op {
	case OpConnect:
		return d.outcome(d.replica.Connect(r.now, d.token))
	case OpReceive:
		return d.outcome(d.replica.Receive(r.now, r.raw))
	case OpStored:
		var h storedHead
		if no := readHead(r, &h); no != nil {
			return nil, nil, no
		}
		return d.stored(r.now, h)
	case OpFetched:
		var h fetchedHead
		if no := readHead(r, &h); no != nil {
			return nil, nil, no
		}
		items, err := Split(r.raw)
		if err != nil {
			return nil, nil, damaged(h.Stream, err)
		}
		return d.outcome(d.replica.Fetched(r.now, h.Stream, h.After, items))
	case OpTick:
		return d.outcome(d.replica.Tick(r.now))
	default:
		clear(d.arrived)
		d.replica.Closed()
		return d.outcome(nil)
	}
}

func (d *Door) outcome(todo []sync.Action) (any, []byte, *book.Refusal) {
	out := outcome{Actions: []action{}, Changed: d.changed}
	d.changed = false
	var raw [][]byte
	for _, a := range todo {
		switch a := a.(type) {
		case sync.Send:
			out.Actions = append(out.Actions, action{Do: "send"})
			raw = append(raw, a.Bytes)
		case sync.Persist:
			mine, err := d.take(a)
			if err != nil {
				out.Actions = append(out.Actions, action{Do: "stop", Code: "unreadable", Says: "The home store sent something that this phone cannot read (" + err.Error() + ").", Hint: "Nothing was changed, and everything on this phone is kept. Update Stillroom on both, then try again."})
				continue
			}
			out.Actions = append(out.Actions, action{
				Do: "persist", Stream: a.Stream, Epoch: hex.EncodeToString(a.Epoch[:]), MAC: hex.EncodeToString(a.MAC[:]),
				After: a.After, Last: a.After + uint64(len(a.Items)), Hash: hex.EncodeToString(a.Hash[:]), Mine: mine,
			})
			raw = append(raw, Join(a.Items))
		case sync.Acked:
			d.changed, out.Changed = false, true
			out.Actions = append(out.Actions, action{Do: "acked", Stream: a.Stream, Seq: a.Seq})
		case sync.Fetch:
			out.Actions = append(out.Actions, action{Do: "fetch", Stream: a.Stream, After: a.After, Last: a.Through})
		case sync.Swap:
			out.Actions = append(out.Actions, action{
				Do: "swap", Stream: a.Stream, Epoch: hex.EncodeToString(a.Epoch[:]), MAC: hex.EncodeToString(a.MAC[:]), Was: a.Was, After: a.Keep,
				Last: a.Keep + uint64(len(a.Items)), Hash: hex.EncodeToString(a.Hash[:]), Mine: sync.OwnNumbers(d.device, a.Items), Seq: a.Acked,
			})
			raw = append(raw, Join(a.Items))
		case sync.Welcomed:
			out.Actions = append(out.Actions, d.welcomed(a))
		case sync.Stop:
			d.stopped(a.Code)
			out.Actions = append(out.Actions, action{Do: "stop", Code: a.Code, Says: a.Says, Hint: a.Hint, Fatal: a.Fatal, Way: wayFor(a.Code)})
		}
	}
	out.Folded = d.folded
	out.Unsent, out.Shut, out.Mend = d.replica.Unsent()+len(d.stray)+d.mend.unsent(), d.shut, d.mend.asks()
	return out, Join(raw), nil
}

// envelope is one that was handed out to be persisted, read already so that nothing can fail after it is on disk.
type envelope struct {
	env   sync.Envelope
	entry sync.Entry
}

// take reads a batch of envelopes before it is persisted and answers which of this device's own entries are inside.
func (d *Door) take(p sync.Persist) ([]uint64, error) {
	mine := []uint64{}
	batch := make([]envelope, 0, len(p.Items))
	for i, item := range p.Items {
		e, err := readEnvelope(item, p.After+uint64(i)+1)
		if err != nil {
			return nil, err
		}
		if e.env.Device == d.device {
			mine = append(mine, e.entry.Seq)
		}
		batch = append(batch, e)
	}
	d.arrived[p.Stream] = append(d.arrived[p.Stream], batch...)
	return mine, nil
}

func readEnvelope(item []byte, want uint64) (envelope, error) {
	env, err := sync.ParseEnvelope(item)
	if err != nil {
		return envelope{}, err
	}
	if env.Seq != want {
		return envelope{}, fmt.Errorf("number %d where %d belongs", env.Seq, want)
	}
	entry, err := sync.ParseEntry(env.Entry)
	if err != nil {
		return envelope{}, err
	}
	return envelope{env, entry}, nil
}

// stored applies what is on disk by now, tells the replica, and lays this device's pending entries on top again.
func (d *Door) stored(now int64, h storedHead) (any, []byte, *book.Refusal) {
	waiting := d.arrived[h.Stream]
	n := 0
	for n < len(waiting) && waiting[n].env.Seq <= h.Seq {
		d.base.Apply(h.Stream, waiting[n].env.Device, &waiting[n].env, waiting[n].entry)
		n++
	}
	if n == 0 {
		// A write of a line that is gone by now: the next line brings it again, and the chunk is the same one.
		return d.outcome(nil)
	}
	d.arrived[h.Stream], d.saving = waiting[n:], nil
	d.folded += uint64(n)
	todo := d.replica.Stored(h.Stream, sync.Down, h.Seq)
	d.lay()
	d.changed = true
	return d.outcome(todo)
}

// lay puts this device's pending entries on the home store's order, in the order in which they were written.
func (d *Door) lay() {
	d.overlay = nil
	for _, stream := range d.replica.Streams() {
		for _, b := range d.replica.Pending(stream) {
			e, err := sync.ParseEntry(b)
			if err != nil {
				continue // cannot be: it was parsed when it was written or loaded
			}
			if d.overlay == nil {
				d.overlay = d.base.Overlay()
			}
			d.overlay.Apply(stream, d.device, nil, e)
		}
	}
	d.layStray()
}

func (d *Door) welcomed(w sync.Welcomed) action {
	d.role, d.letter = w.Role, w.Letter
	d.clock = strings.TrimSpace(clockSays(w.Offset) + " " + ageSays(w.Schema, book.Schema(), d.shown().UpdateNeeded()))
	epochs := map[string]string{}
	for _, s := range w.Streams {
		// A stream whose log is of another life keeps that life's name until it is swapped.
		e := d.replica.Part(s.Name).Epoch
		epochs[s.Name] = hex.EncodeToString(e[:])
	}
	return action{Do: "welcomed", Role: w.Role, Letter: w.Letter, Store: w.Store, Clock: d.clock, Epochs: epochs}
}

// ageSays tells a person that phone and home store are of different age, or that another phone is newer: unread entries are
// in the book that this app cannot read yet. Everything passes all the same.
func ageSays(store, phone uint32, unread int) string {
	switch {
	case unread == 1 && store <= phone:
		return "1 entry in the book was written by a newer app; it is kept, and shown after the update of this one."
	case unread > 0 && store <= phone:
		return fmt.Sprintf("%d entries in the book were written by a newer app; they are kept, and shown after the update of this one.", unread)
	case store == 0 || store == phone:
		return ""
	case store > phone:
		return "The home store is newer than the app on this phone, which keeps what it does not know yet and shows it after its update."
	}
	return "The app on this phone is newer than the home store, which keeps what it does not know and passes it on. Update the home store."
}

// clockSays tells a person that this device's clock differs by two minutes or more; less is what clocks do.
func clockSays(offset int64) string {
	way, ms := "ahead of", offset
	if ms < 0 {
		way, ms = "behind", -ms
	}
	minutes := (ms + 30_000) / 60_000
	switch {
	case minutes < 2:
		return ""
	case minutes < 120:
		return fmt.Sprintf("This phone's clock is %d min %s the home store's.", minutes, way)
	case minutes < 48*60:
		return fmt.Sprintf("This phone's clock is %d h %s the home store's.", (minutes+30)/60, way)
	}
	return fmt.Sprintf("This phone's clock is %d days %s the home store's.", (minutes+720)/1440, way)
}
