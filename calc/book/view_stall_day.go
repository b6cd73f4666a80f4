package book

import (
	"slices"
)

// marketDay is what happened in one day at a place and in the crates there.
type marketDay struct {
	money, taken, sold, given, back int64
	lacked                          map[shelved]int64 // expected less counted, by product and place
	order                           []shelved
}

func (d *marketDay) says() string {
	lacking, over := int64(0), int64(0)
	for _, k := range d.order {
		lacking, over = lacking+max(d.lacked[k], 0), over+max(-d.lacked[k], 0)
	}
	if d.taken+d.sold+d.given+d.back+lacking+over == 0 {
		return ""
	}
	out := number(d.taken) + " taken: " + number(d.sold) + " sold"
	if d.given > 0 {
		out += ", " + number(d.given) + " given"
	}
	if d.back > 0 {
		out += ", " + number(d.back) + " brought back"
	}
	if lacking > 0 {
		out += ", " + number(lacking) + " not accounted for"
	}
	if over > 0 {
		out += ", " + number(over) + " more than expected"
	}
	return out
}

func (d *marketDay) lacks(product, place string, n int64) {
	k := shelved{place, product}
	if !slices.Contains(d.order, k) {
		d.order = append(d.order, k)
	}
	d.lacked[k] += n
}

// took is what a sale that named no batch took of what counts found lacking: of its own product, at its own places.
func (d *marketDay) took(u untold) {
	n := u.event.N
	for _, p := range u.places {
		k := shelved{p, u.product}
		found := min(max(d.lacked[k], 0), n)
		if found > 0 {
			d.lacked[k] -= found
			n -= found
		}
	}
}

// shownRows is how many rows of a stall are shown at most beside those of today: a season of market days has thousands.
const shownRows = 200

// stallDay fills the rows of the place, the newest first, and sums the day of the device that looks.
func (s *State) stallDay(ctx Context, x *shelfStock, here []string, v *StallView) *marketDay {
	d := &marketDay{lacked: map[shelved]int64{}}
	today := dayOf(ctx.Now, ctx.Zone)
	var all []*move
	s.moves.each(func(_ Ref, m *move) bool { all = append(all, m); return true })
	slices.Reverse(all)
	for _, m := range all {
		if now := dayOf(s.rootOf(m).at, ctx.Zone) == today; now || len(v.Rows) < shownRows {
			s.stallRow(ctx, x, d, here, v, m, now)
		}
	}
	for _, u := range x.untold {
		if dayOf(u.event.At, ctx.Zone) == today {
			d.took(u)
		}
	}
	return d
}

func (s *State) stallRow(ctx Context, x *shelfStock, d *marketDay, here []string, v *StallView, m *move, now bool) {
	body, err := open(m.kind, m.v, m.body)
	if err != nil {
		return
	}
	at := func(place string) bool { return slices.Contains(here, place) }
	ref := m.from.ref
	r := StallRow{Entry: ref.String(), At: showTime(m.from.at, ctx.Zone), By: s.by(ctx, m.from), Struck: m.struck, Where: s.where(Shelf, ref), Clash: x.clash[ref], Detail: m.reason}
	stands := !m.struck && r.Clash == ""
	switch b := body.(type) {
	case *Sold:
		if !at(b.Place) || b.Count == 0 && m.of.Seq != 0 {
			return
		}
		r.What, r.Title, r.Value = "sold", b.Product, money(b.Price*b.Count)
		if b.Given {
			r.What, r.Value = "given", "given"
		}
		r.Detail = join(number(b.Count)+" × "+money(b.Price), s.codeOf(b.Batch), r.Detail)
		if stands && b.Day == dayOf(ctx.Now, ctx.Zone) {
			d.money += b.Price * b.Count
			if b.Given {
				d.given += b.Count
			} else {
				d.sold += b.Count
			}
			if v.Undo == "" && ref.Device == ctx.Device && m.of.Seq == 0 {
				v.Undo = ref.String()
			}
		}
	case *JarMoved:
		from, to := at(b.From), at(b.To)
		if !from && !to || b.Count == 0 && m.of.Seq != 0 {
			return
		}
		r.What, r.Title, r.Value = "moved", s.productOf(b.Batch), number(b.Count)
		r.Detail = join(s.placeName(b.From)+" to "+s.placeName(b.To), s.codeOf(b.Batch), b.Reason, r.Detail)
		switch {
		case !stands || !now || from && to:
		case to:
			d.taken += b.Count
		case b.To == "given":
			d.given += b.Count
		case b.To == "sold":
			d.sold += b.Count
		default:
			d.back += b.Count
		}
	case *JarCounted:
		if !at(b.Place) {
			return
		}
		r.What, r.Title, r.Value = "counted", s.productOf(b.Batch), number(b.Count)
		r.Detail = join("expected "+number(b.Expected)+", difference "+signed(b.Count-b.Expected), s.codeOf(b.Batch), r.Detail)
		if stands && now {
			d.lacks(s.productOf(b.Batch), b.Place, b.Expected-b.Count)
		}
	}
	if r.Title == "" {
		r.Title = "jars of an unknown batch"
	}
	v.Rows = append(v.Rows, r)
}
