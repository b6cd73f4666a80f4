package door

import (
	"encoding/hex"
	"errors"
	"fmt"

	"stillroom/calc/book"
	"stillroom/sync"
)

// startHead is who this device is and what it was told before; epochs and hashes are hex.
type startHead struct {
	Device string            `json:"device"`
	Token  string            `json:"token"`
	Letter string            `json:"letter"`
	Role   string            `json:"role"`
	Who    string            `json:"who"`
	Acked  map[string]uint64 `json:"acked"`
	Epochs map[string]string `json:"epochs"`
	// Torn are the streams whose copy is being mended, with the last number that was set aside: until all of it is here
	// a beginning that can be read is not the whole.
	Torn map[string]uint64 `json:"torn"`
}

// loadHead comes with kept bytes. A chunk is envelopes From..To of a stream with the running hash after them; pending
// is this device's own entries that have not come back from the home store.
type loadHead struct {
	Kind   string `json:"kind"`
	Stream string `json:"stream"`
	Epoch  string `json:"epoch"`
	From   uint64 `json:"from"`
	To     uint64 `json:"to"`
	Hash   string `json:"hash"`
	MAC    string `json:"mac"`
	// Seqs and Sums are of pending rows; a row of an earlier version has no sum.
	Seqs []uint64 `json:"seqs"`
	Sums []string `json:"sums"`
	// Head is of a snapshot, and Hash its sum.
	Head string `json:"head"`
	// Code is why the home store did not give what is to be mended.
	Code string `json:"code"`
}

// loading is the book while it is read from what is kept.
type loading struct {
	parts map[string]*sync.Part
	order []string
	torn  []torn
	begun map[string]uint64      // torn at an earlier start
	rows  map[string][]ownRow    // own entries that did not come back
	quick bool                   // the book begins from a snapshot
	unmet map[string]snapshotLog // what its chunks have not shown yet to be theirs
}

func (l *loading) part(stream string, d sync.DeviceID) *sync.Part {
	p := l.parts[stream]
	if p == nil {
		fresh := sync.NewPart(stream, d)
		p = &fresh
		l.parts[stream] = p
		l.order = append(l.order, stream)
	}
	return p
}

// start opens an empty book for a device. Whatever was open before is let go of.
func (d *Door) start(r request) (any, []byte, *book.Refusal) {
	var h startHead
	if no := readHead(r, &h); no != nil {
		return nil, nil, no
	}
	id, err := sync.ParseDeviceID(h.Device)
	if err != nil {
		return nil, nil, &book.Refusal{Code: "device", Says: "What this phone keeps of itself cannot be read: " + err.Error() + ".", Hint: "Nothing was changed. Do not clear this page's data: what is unsent is still in it."}
	}
	fresh := Door{
		device: id, token: []byte(h.Token), letter: h.Letter, role: h.Role, who: h.Who,
		base: book.New(), arrived: map[string][]envelope{}, loading: &loading{parts: map[string]*sync.Part{}, rows: map[string][]ownRow{}, begun: h.Torn},
	}
	for _, stream := range book.Reads(h.Role) {
		p := fresh.loading.part(stream, id)
		p.Acked = h.Acked[stream]
		if text := h.Epochs[stream]; text != "" {
			if p.Epoch, err = readEpoch(text); err != nil {
				return nil, nil, damaged(stream, err)
			}
		}
	}
	*d = fresh
	return struct{}{}, nil, nil
}

func readEpoch(text string) (sync.Epoch, error) {
	var e sync.Epoch
	b, err := hex.DecodeString(text)
	if err != nil || len(b) != len(e) {
		return e, fmt.Errorf("%q is not the name of an epoch", text)
	}
	copy(e[:], b)
	return e, nil
}

func damaged(stream string, err error) *book.Refusal {
	return &book.Refusal{
		Code: "damaged",
		Says: fmt.Sprintf("The book on this phone cannot be read from end to end (%s: %v). Nothing was deleted.", stream, err),
		Hint: "Do not clear this page's data: what is unsent is still in it. The home store has everything that was in the book.",
	}
}

// load takes kept bytes: a snapshot, if there is one, and of each stream the chunks from that on in which it ends; or else
// every chunk, in order; then what is pending. What cannot be read ends nothing: the answer tells that a chunk is to be set
// aside, or that the book does not begin from this snapshot. Later, while the copy is mended, it takes what the home store
// sent.
func (d *Door) load(r request) (any, []byte, *book.Refusal) {
	var h loadHead
	if no := readHead(r, &h); no != nil {
		return nil, nil, no
	}
	if h.Kind == "mend" || h.Kind == "refused" {
		return d.mendWith(h, r.raw)
	}
	if d.loading == nil {
		return nil, nil, &book.Refusal{Code: "order", Says: "The book is open already.", Hint: "Nothing was changed. Load the page again."}
	}
	switch h.Kind {
	case "pending":
		d.loading.pending(h, r.raw)
		return loadAnswer{}, nil, nil
	case "snapshot":
		if err := d.fromSnapshot(h, r.raw); err != nil {
			return nil, nil, notFromSnapshot(err)
		}
		return loadAnswer{}, nil, nil
	}
	p := d.loading.part(h.Stream, d.device)
	if t := d.loading.tornIn(h.Stream); t != nil {
		t.Last = max(t.Last, h.To)
		return loadAnswer{Aside: true}, nil, nil
	}
	chunk, err := follow(p, d.device, h, r.raw)
	if err != nil && d.loading.quick {
		return nil, nil, notFromSnapshot(err)
	}
	if err != nil {
		d.loading.torn = append(d.loading.torn, tornAt(p, h.To))
		return loadAnswer{Aside: true}, nil, nil
	}
	d.loading.meets(h)
	for _, e := range chunk {
		d.base.Apply(h.Stream, e.env.Device, &e.env, e.entry)
	}
	return loadAnswer{}, nil, nil
}

// loaded closes the reading: from here on the book is open, for reading alone where something of it is damaged.
func (d *Door) loaded() (any, []byte, *book.Refusal) {
	if d.loading == nil {
		return nil, nil, &book.Refusal{Code: "order", Says: "The book is open already.", Hint: "Nothing was changed. Load the page again."}
	}
	if len(d.loading.unmet) > 0 {
		return nil, nil, notFromSnapshot(errors.New("the entries that it ends with are not kept here"))
	}
	d.loading.stillTorn()
	parts := make([]sync.Part, 0, len(d.loading.order))
	for _, stream := range d.loading.order {
		parts = append(parts, d.own(stream))
		d.folded += d.loading.parts[stream].Down.Seq
	}
	replica, err := sync.NewReplica(d.device, parts...)
	if err != nil {
		return nil, nil, damaged("pending", err)
	}
	replica.Schema = book.Schema()
	d.beginMending()
	d.replica, d.loading = replica, nil
	d.lay()
	d.changed = true
	return d.outcome(nil)
}
