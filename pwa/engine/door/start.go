package door

import (
	"encoding/hex"
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
}

// loading is the book while it is read from what is kept.
type loading struct {
	parts map[string]*sync.Part
	order []string
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
		base: book.New(), arrived: map[string][]envelope{}, loading: &loading{parts: map[string]*sync.Part{}},
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

// load takes kept bytes: first every chunk of a stream in order, then what is pending.
func (d *Door) load(r request) (any, []byte, *book.Refusal) {
	var h loadHead
	if no := readHead(r, &h); no != nil {
		return nil, nil, no
	}
	if d.loading == nil {
		return nil, nil, &book.Refusal{Code: "order", Says: "The book is open already.", Hint: "Nothing was changed. Load the page again."}
	}
	items, err := Split(r.raw)
	if err != nil {
		return nil, nil, damaged(h.Stream, err)
	}
	p := d.loading.part(h.Stream, d.device)
	if h.Kind == "pending" {
		p.Mine = append(p.Mine, items...)
		return struct{}{}, nil, nil
	}
	for i, item := range items {
		// A write that was cut and made again may stand under two chunks; what is folded is folded.
		if h.From+uint64(i) <= p.Down.Seq {
			continue
		}
		env, entry, err := p.Take(d.device, item)
		if err != nil {
			return nil, nil, damaged(h.Stream, err)
		}
		d.base.Apply(h.Stream, env.Device, &env, entry)
	}
	if p.Down.Seq == h.To && h.Hash != hex.EncodeToString(p.Down.Hash[:]) {
		return nil, nil, damaged(h.Stream, fmt.Errorf("numbers %d to %d do not match the hash that was kept with them", h.From, h.To))
	}
	if p.Epoch, err = readEpoch(h.Epoch); err != nil {
		return nil, nil, damaged(h.Stream, err)
	}
	if mac, err := hex.DecodeString(h.MAC); err == nil && p.Down.Seq == h.To {
		copy(p.MAC[:], mac)
	}
	return struct{}{}, nil, nil
}

// loaded closes the reading: from here on the book is open.
func (d *Door) loaded() (any, []byte, *book.Refusal) {
	if d.loading == nil {
		return nil, nil, &book.Refusal{Code: "order", Says: "The book is open already.", Hint: "Nothing was changed. Load the page again."}
	}
	parts := make([]sync.Part, 0, len(d.loading.order))
	for _, stream := range d.loading.order {
		parts = append(parts, *d.loading.parts[stream])
	}
	replica, err := sync.NewReplica(d.device, parts...)
	if err != nil {
		return nil, nil, damaged("pending", err)
	}
	replica.Schema = book.Schema()
	d.replica, d.loading = replica, nil
	d.lay()
	d.changed = true
	return d.outcome(nil)
}
