package book

import (
	"slices"
	"strings"
)

// marketDay is what happened in one day at a place and in the crates there.
type marketDay struct {
	money, taken, sold, given, back int64
	prices                          []soldAt
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
	from, to := dayAround(ctx.Now, ctx.Zone)
	today := dayOf(ctx.Now, ctx.Zone)
	s.moves.back(func(ref Ref, m *move) bool {
		at := s.rootOf(m).at
		now := from <= at && at < to
		if !now && len(v.Rows) >= shownRows {
			return true
		}
		body, err := open(m.kind, m.v, m.body)
		if err != nil || !stoodAt(here, m, body) {
			return true
		}
		row := s.shelfRowOf(ctx, x, ref, m, body)
		v.Rows = append(v.Rows, row)
		if !m.struck && row.Clash == "" {
			s.sumRow(d, here, body, today, now)
			if b, sold := body.(*Sold); sold && b.Day == today && v.Undo == "" && ref.Device == ctx.Device && m.of.Seq == 0 {
				v.Undo = row.Entry
			}
		}
		return true
	})
	var products []string
	for _, k := range d.order {
		if !slices.Contains(products, k.product) {
			products = append(products, k.product)
		}
	}
	for _, product := range products {
		for _, u := range x.untold[product] {
			if from <= u.event.At && u.event.At < to {
				d.took(u)
			}
		}
	}
	return d
}

// soldAt is how many went at one price, in minor units of money.
type soldAt struct{ price, count int64 }

func (d *marketDay) soldFor(price, count int64) {
	i := slices.IndexFunc(d.prices, func(p soldAt) bool { return p.price == price })
	if i < 0 {
		d.prices, i = append(d.prices, soldAt{price: price}), len(d.prices)
	}
	d.prices[i].count += count
}

// moneySum adds up what was taken, price by price.
func (d *marketDay) moneySum() string {
	var terms []string
	for _, p := range d.prices {
		if p.price > 0 && p.count != 0 {
			terms = append(terms, number(p.count)+" × "+money(p.price))
		}
	}
	if len(terms) == 0 {
		return "nothing was sold for money on this day"
	}
	return strings.Join(terms, " + ") + " = " + money(d.money) + "; each sale at the price that it was made for"
}

// stoodAt tells whether a row is shown at some places. A correction to nothing is not: the row that it struck is.
func stoodAt(here []string, m *move, body visitable) bool {
	nothing := m.of.Seq != 0
	switch b := body.(type) {
	case *Sold:
		return slices.Contains(here, b.Place) && !(nothing && b.Count == 0)
	case *JarMoved:
		return (slices.Contains(here, b.From) || slices.Contains(here, b.To)) && !(nothing && b.Count == 0)
	case *JarCounted:
		return slices.Contains(here, b.Place)
	}
	return false
}

// sumRow adds a row that counts to the day. A sale bears its own day; all else is of the day on which it was written.
func (s *State) sumRow(d *marketDay, here []string, body visitable, today int64, now bool) {
	switch b := body.(type) {
	case *Sold:
		switch {
		case b.Day != today:
			return
		case b.Given:
			d.given += b.Count
		default:
			d.sold += b.Count
		}
		d.money += b.Price * b.Count
		d.soldFor(b.Price, b.Count)
	case *JarMoved:
		from, to := slices.Contains(here, b.From), slices.Contains(here, b.To)
		switch {
		case !now || from && to:
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
		if now {
			d.lacks(s.productOf(b.Batch), b.Place, b.Expected-b.Count)
		}
	}
}
