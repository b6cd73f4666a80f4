// Package door is the one small door between the book, the calculator, the line to the home store and the app. A call
// is bytes in and bytes out (frame.go); it never panics outward, and it holds no clock and no randomness of its own.
//
// The order that loses nothing is the shell's to keep and the door's to allow: a command gives entries to keep; only
// after OpCommitted are they applied and offered to the home store; envelopes from the home store are applied, and
// acknowledged, only after OpStored.
package door

import (
	"encoding/json"
	"fmt"

	"stillroom/calc/book"
	"stillroom/sync"
)

// Door is one device's book in memory. It is not safe for several goroutines at once.
type Door struct {
	device sync.DeviceID
	token  []byte
	letter string
	role   string
	who    string

	base    *book.State // the home store's order
	overlay *book.State // base and this device's own pending entries; nil when there are none
	replica *sync.Replica

	loading  *loading
	proposed []proposed            // entries of the last command, not yet known to be on disk
	arrived  map[string][]envelope // by stream: handed out to be persisted, not yet stored, in order
	changed  bool
	shut     *shut      // why nothing is written for now; nil when all is well
	mend     *mending   // what of this phone's copy is being fetched anew; nil when it is whole
	stray    []strayRow // own rows that cannot be sent from here, and are shown
	folded   uint64     // envelopes that base is folded from
	saving   *saving    // a snapshot that is being written down
	clock    string     // sentences when this device's clock, or its age, differs from the home store's
}

// New is a door to no book yet: OpStart opens one.
func New() *Door { return &Door{} }

// Call answers one request. A fault inside becomes a refusal that says what was kept.
func (d *Door) Call(b []byte) (out []byte) {
	defer func() {
		if fault := recover(); fault != nil {
			out = refuse(&book.Refusal{
				Code: "engine",
				Says: fmt.Sprintf("Stillroom met a fault of its own (%v).", fault),
				Hint: keptAfterFault(b),
			})
		}
	}()
	r, err := parseRequest(b)
	if err != nil {
		return refuse(&book.Refusal{Code: "frame", Says: "The engine could not read what it was asked: " + err.Error() + ".", Hint: "Nothing was changed. Load the page again."})
	}
	head, raw, no := d.do(r)
	if no != nil {
		return refuse(no)
	}
	h, err := json.Marshal(head)
	if err != nil {
		return refuse(&book.Refusal{Code: "engine", Says: "The engine could not write its answer: " + err.Error() + ".", Hint: "Nothing was changed."})
	}
	return answer(true, h, raw)
}

// keptAfterFault is what a fault left. OpCommitted and OpStored come after the write, and a line brings again what it did
// not get written; only a command ends with nothing kept.
func keptAfterFault(request []byte) string {
	if len(request) > 0 && Op(request[0]) == OpCommand {
		return "Everything kept before is still kept; this one was not. Load the page again."
	}
	return "Everything that was kept is still kept. Load the page again."
}

func (d *Door) do(r request) (head any, raw []byte, no *book.Refusal) {
	switch r.op {
	case OpStart:
		return d.start(r)
	case OpCalc:
		return d.calc(r)
	}
	if d.base == nil {
		return nil, nil, &book.Refusal{Code: "starting", Says: "The book is not open yet.", Hint: "Nothing was kept. Try again in a moment."}
	}
	switch r.op {
	case OpLoad:
		return d.load(r)
	case OpLoaded:
		return d.loaded()
	}
	if d.loading != nil {
		return nil, nil, &book.Refusal{Code: "starting", Says: "The book is still being read.", Hint: "Nothing was kept. Try again in a moment."}
	}
	switch r.op {
	case OpCommand:
		return d.command(r)
	case OpCommitted:
		return d.committed(r)
	case OpAborted:
		return d.aborted()
	case OpConnect, OpReceive, OpStored, OpFetched, OpTick, OpClosed:
		return d.line(r)
	case OpView:
		return d.view(r)
	case OpState:
		return d.state()
	case OpSnapshot:
		return d.snapshot(r)
	}
	return nil, nil, &book.Refusal{Code: "frame", Says: fmt.Sprintf("The engine does not know request %d.", r.op), Hint: "Nothing was changed. Load the page again: the app and its engine are of different age."}
}

// shown is the book as a person sees it: the home store's order, then what is on this phone alone.
func (d *Door) shown() *book.State {
	if d.overlay != nil {
		return d.overlay
	}
	return d.base
}

func (d *Door) context(r request) book.Context {
	return book.Context{Device: d.device, Letter: d.letter, Role: d.role, Who: d.who, Now: r.now, Zone: r.zone, Rand: r.rand}
}

func refuse(no *book.Refusal) []byte {
	h, err := json.Marshal(no)
	if err != nil {
		h = []byte(`{"code":"engine","says":"The engine could not write its answer.","hint":"Nothing was changed.","field":""}`)
	}
	return answer(false, h, nil)
}

// named is the head of a request for a command, a view or a computation.
type named struct {
	Name string          `json:"name"`
	Args json.RawMessage `json:"args"`
}

func readHead(r request, into any) *book.Refusal {
	if err := json.Unmarshal(r.head, into); err != nil {
		return &book.Refusal{Code: "frame", Says: "The engine could not read what it was asked: " + err.Error() + ".", Hint: "Nothing was changed."}
	}
	return nil
}
