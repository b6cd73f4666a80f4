package book

import (
	"strings"
	"testing"

	"stillroom/sync"
)

// F35: two phones are apart for a month and each uses up the same lot. When they meet, in whichever order, both weighings
// stand, the same stock is counted, and the lot says that more went out than came in.
func TestTwoPhonesApartUseUpTheSameLot(t *testing.T) {
	type written struct {
		stream string
		dev    sync.DeviceID
		e      sync.Entry
	}
	w := newWorld(t)
	lot := w.lot("glycerin", "G-17") // 5,000 g
	f := w.do("formula.save", scrub(), "key")
	common := w.log

	month := func(dev byte, letter string) (out []written, batch string) {
		apart := newWorld(t)
		for _, stream := range []string{Workshop, Shelf} {
			for _, v := range common[stream] {
				e, err := sync.ParseEntry(v.Entry)
				if err != nil {
					t.Fatal(err)
				}
				apart.arrive(stream, v.Device, e, false)
			}
		}
		apart.rand, apart.ctx.Device, apart.ctx.Letter = dev*40, device(dev), letter
		batch = apart.do("batch.start", m{"formula": f, "purpose": "sale", "jars": "240", "fill": "120", "loss": "4", "step": "1"}, "key")
		apart.do("batch.weigh", m{"batch": batch, "line": "g", "lot": lot, "grams": "3000"}, "entry")
		for _, stream := range []string{Workshop, Shelf} {
			for _, v := range apart.log[stream][len(common[stream]):] {
				e, err := sync.ParseEntry(v.Entry)
				if err != nil {
					t.Fatal(err)
				}
				out = append(out, written{stream, device(dev), e})
			}
		}
		return out, batch
	}
	first, b1 := month(2, "C")
	second, b2 := month(3, "D")
	shown := ""
	for _, order := range [][][]written{{first, second}, {second, first}} {
		met := newWorld(t)
		for _, stream := range []string{Workshop, Shelf} {
			for _, v := range common[stream] {
				e, _ := sync.ParseEntry(v.Entry)
				met.arrive(stream, v.Device, e, false)
			}
		}
		for _, phone := range order {
			for _, x := range phone {
				met.arrive(x.stream, x.dev, x.e, false)
			}
		}
		row := view[LotView](met, "lot", m{"key": lot})
		if len(row.Batches) != 2 {
			t.Errorf("the lot went into %d batches, want both", len(row.Batches))
		}
		if on := row.Row.OnHand; !strings.Contains(on.Text, "1,000") || !strings.Contains(on.Sum, "more was weighed out than the book had") {
			t.Errorf("on hand %+v does not say that 1,000 g more went out than came in", row.Row.OnHand)
		}
		if shown != "" && shown != pretty(row.Row) {
			t.Errorf("another order of arrival shows another stock:\n%s\n%s", shown, pretty(row.Row))
		}
		shown = pretty(row.Row)
		for _, b := range []string{b1, b2} {
			rows := view[BatchView](met, "batch", m{"key": b}).Rows
			if r := rows[len(rows)-1]; r.What != "weighed" || r.Clash != "" {
				t.Errorf("the weighing of %s: %s", b, pretty(r))
			}
		}
	}
}
