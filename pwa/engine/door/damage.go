package door

import (
	"encoding/hex"
	"fmt"

	"stillroom/calc/book"
	"stillroom/sync"
)

// loadAnswer tells the shell that a chunk cannot be used and is to be set aside, whole.
type loadAnswer struct {
	Aside bool `json:"aside"`
}

// ownRow is an own entry that did not come back, as it lies on this phone's disk.
type ownRow struct {
	seq uint64
	raw []byte
	bad error // why it cannot be read
}

// strayRow is an own entry that cannot be sent from here: a row before it cannot be read, and a device's line has no holes.
type strayRow struct {
	stream string
	entry  sync.Entry
}

// follow takes a chunk behind what a part has, whole or not at all.
func follow(p *sync.Part, device sync.DeviceID, h loadHead, raw []byte) ([]envelope, error) {
	items, err := Split(raw)
	if err != nil {
		return nil, err
	}
	next := *p
	if next.Epoch, err = readEpoch(h.Epoch); err != nil {
		return nil, err
	}
	out := make([]envelope, 0, len(items))
	for i, item := range items {
		// A write that was cut and made again may stand under two chunks; what is folded is folded.
		if h.From+uint64(i) <= p.Down.Seq {
			continue
		}
		env, entry, err := next.Take(device, item)
		if err != nil {
			return nil, err
		}
		out = append(out, envelope{env, entry})
	}
	switch {
	case next.Down.Seq < h.To:
		return nil, fmt.Errorf("numbers %d to %d are missing", next.Down.Seq+1, h.To)
	case next.Down.Seq == h.To && h.Hash != hex.EncodeToString(next.Down.Hash[:]):
		return nil, fmt.Errorf("numbers %d to %d do not match the hash that was kept with them", h.From, h.To)
	}
	if mac, err := hex.DecodeString(h.MAC); err == nil && next.Down.Seq == h.To {
		copy(next.MAC[:], mac)
	}
	*p = next
	return out, nil
}

// pending takes own entries that did not come back. One that cannot be read is noted and kept.
func (l *loading) pending(h loadHead, raw []byte) {
	items, err := Split(raw)
	for i, item := range items {
		row := ownRow{seq: h.From + uint64(i), raw: item}
		if i < len(h.Seqs) {
			row.seq = h.Seqs[i]
		}
		e, err := sync.ParseEntry(item)
		switch {
		case err != nil:
			row.bad = err
		case e.Seq != row.seq:
			row.bad = fmt.Errorf("it says that it is row %d", e.Seq)
		case i < len(h.Sums) && h.Sums[i] != "" && h.Sums[i] != sync.RowSum(item):
			row.bad = fmt.Errorf("it does not match the sum that was kept with it")
		}
		l.rows[h.Stream] = append(l.rows[h.Stream], row)
	}
	if err != nil {
		l.rows[h.Stream] = append(l.rows[h.Stream], ownRow{seq: h.From + uint64(len(items)), bad: err})
	}
}

// own gives a stream's part with the own entries that can be sent. What cannot is kept where it is and shut tells why
// nothing is written: the next number is not known for certain, or taken.
func (d *Door) own(stream string) sync.Part {
	p, rows := *d.loading.parts[stream], d.loading.rows[stream]
	if d.loading.tornIn(stream) != nil {
		// How far the own numbers go stands in what cannot be read.
		p.Acked = 0
		return p
	}
	last := p.Own.Seq
	for i, row := range rows {
		if row.seq <= p.Own.Seq {
			continue
		}
		if row.seq > last+1 {
			d.rowLost(stream, rows[i:], fmt.Sprintf("Row %d of %s that this phone had not sent is missing", last+1, logName(stream)))
			break
		}
		if row.bad != nil {
			d.rowLost(stream, rows[i:], fmt.Sprintf("Row %d of %s that this phone had not sent cannot be read (%v)", row.seq, logName(stream), row.bad))
			break
		}
		p.Mine, last = append(p.Mine, row.raw), row.seq
	}
	if p.Acked > last {
		// A row is gone here that a home store has: the same as having been brought back from an old copy.
		p.Acked = last
		if d.shut == nil {
			d.shut = shutBehind()
		}
	}
	return p
}

// rowLost: a device's line has no holes, so what stands behind a row that is lost cannot be sent under its name.
func (d *Door) rowLost(stream string, rest []ownRow, says string) {
	behind := 0
	for _, row := range rest {
		if e, err := sync.ParseEntry(row.raw); err == nil && row.bad == nil {
			d.stray = append(d.stray, strayRow{stream, e})
			behind++
		}
	}
	says += "."
	if behind > 0 {
		says += fmt.Sprintf(" %s behind it can be read and cannot be sent, since the home store takes no line with a hole.", count(behind, "row", "rows"))
	}
	d.shut = &shut{Tells: says + " Their bytes are kept.",
		no: book.Refusal{Code: "row", Says: "This was not kept: a row that this phone had not sent is lost, and nothing can be put behind it under this phone’s name.",
			Hint: "What you typed still stands here. Go on as a new device, then keep it."},
		Way: &way{
			Title:    "A row that was not sent cannot be read",
			Happened: says,
			Kept:     keepsAll + " Save it as a file first if you can.",
			Will:     newName + " The row that cannot be read and those behind it stay on this phone and in its file; what they said has to be entered once more.",
			Anew:     true,
		}}
}

// layStray shows what cannot be sent.
func (d *Door) layStray() {
	for _, row := range d.stray {
		if d.overlay == nil {
			d.overlay = d.base.Overlay()
		}
		d.overlay.Apply(row.stream, d.device, nil, row.entry)
	}
}

func logName(stream string) string { return "the " + stream + "’s log" }

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
