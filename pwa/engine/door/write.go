package door

import (
	"encoding/json"

	"stillroom/calc/book"
	"stillroom/sync"
)

// proposed is an entry that the shell was asked to keep and has not yet told about.
type proposed struct {
	stream string
	entry  sync.Entry
}

type entryHead struct {
	Stream string `json:"stream"`
	Seq    uint64 `json:"seq"`
	// Sum is kept beside the entry's bytes, by which a row that went bad on the disk is known.
	Sum string `json:"sum"`
}

type commandHead struct {
	Value   json.RawMessage `json:"value"`
	Entries []entryHead     `json:"entries"`
}

// complete is a command of the shell alone, given at every start: the second half of what was cut in the middle.
const complete = "book.complete"

// command decides and numbers entries and gives their bytes. Nothing is applied: the book stands as it was until
// OpCommitted, and after OpAborted as though the command had never been given.
func (d *Door) command(r request) (any, []byte, *book.Refusal) {
	if len(d.proposed) > 0 {
		return nil, nil, &book.Refusal{Code: "busy", Says: "Another entry is being kept at this moment.", Hint: "Nothing was written for this one. Try again."}
	}
	if d.shut != nil {
		no := d.shut.no
		return nil, nil, &no
	}
	var q named
	no := readHead(r, &q)
	if no != nil {
		return nil, nil, no
	}
	var drafts []book.Draft
	var v any
	if q.Name == complete {
		drafts, v = d.shown().Missing(d.context(r)), struct{}{}
	} else {
		drafts, v, no = d.shown().Decide(d.context(r), q.Name, q.Args)
	}
	if no != nil {
		return nil, nil, no
	}
	value, err := json.Marshal(v)
	if err != nil {
		return nil, nil, &book.Refusal{Code: "engine", Says: "The engine could not write its answer: " + err.Error() + ".", Hint: "Nothing was written."}
	}
	head := commandHead{Value: value, Entries: []entryHead{}}
	var raw [][]byte
	for _, w := range drafts {
		e := d.replica.Write(w.Stream, r.now, w.Kind, w.V, w.Body)
		d.proposed = append(d.proposed, proposed{w.Stream, e})
		b := e.Append(nil)
		head.Entries = append(head.Entries, entryHead{w.Stream, e.Seq, sync.RowSum(b)})
		raw = append(raw, b)
	}
	return head, Join(raw), nil
}

// committed applies what is on disk now and offers it to the home store.
func (d *Door) committed(r request) (any, []byte, *book.Refusal) {
	var todo []sync.Action
	for _, p := range d.proposed {
		if d.overlay == nil {
			d.overlay = d.base.Overlay()
		}
		d.overlay.Apply(p.stream, d.device, nil, p.entry)
		todo = append(todo, d.replica.Committed(r.now, p.stream, p.entry.Seq)...)
		d.changed = true
	}
	d.proposed = nil
	return d.outcome(todo)
}

// aborted forgets what could not be kept; its numbers are free again.
func (d *Door) aborted() (any, []byte, *book.Refusal) {
	d.replica.Forget()
	d.proposed = nil
	return d.outcome(nil)
}
