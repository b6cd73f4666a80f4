package book

import (
	"slices"

	"stillroom/calc"
)

// choice is a lot with what it is put in order by.
type choice struct {
	LotChoice
	expiry int64
	empty  bool
}

// lots are the lots that a line may be weighed from: the nearest expiry first, then the oldest; empty ones after those
// that hold something, held ones last. A lot with too little is offered all the same: what is in it can be weighed.
func (b *bench) lots(l calc.Line, need int64) []LotChoice {
	var all []choice
	today, step := dayOf(b.ctx.Now, b.ctx.Zone), b.b.body.Plan.Step
	b.s.lots.each(func(k string, x *lot) bool {
		if x.body.Ingredient != l.Ingredient && (l.Base == "" || x.body.Ingredient != l.Base) {
			return true
		}
		left := x.body.Mass - x.used
		c := choice{LotChoice{Key: k, Code: x.body.Code, Held: x.held, Says: b.s.mass(left, 100) + " left"}, x.body.Expiry, left <= 0}
		if x.body.Expiry != 0 {
			c.Says = join(c.Says, "use by "+showDay(x.body.Expiry))
			if x.body.Expiry < today {
				c.Says = join(c.Says, "past its date")
			}
		}
		switch {
		case x.held:
			c.Says = join("held: "+x.reason, c.Says)
		case left <= 0:
			c.Says = join(c.Says, "empty by the book; if there is some, weigh it and count the lot")
		case left < need:
			c.Says = "lot " + x.body.Code + " has " + grams(left, 100) + " left; this line needs " + grams(need, step) + ": weigh what is there, then take another lot"
			if x.body.Expiry != 0 {
				c.Says = join(c.Says, "use by "+showDay(x.body.Expiry))
			}
		}
		all = append(all, c)
		return true
	})
	// Stable: lots come in the order in which they came in, which is the oldest first.
	slices.SortStableFunc(all, func(a, b choice) int {
		if d := rank(a.Held, b.Held) + rank(a.Held, b.Held) + rank(a.empty, b.empty); d != 0 {
			return d
		}
		return int(sooner(a.expiry) - sooner(b.expiry))
	})
	out := []LotChoice{}
	for _, c := range all {
		out = append(out, c.LotChoice)
	}
	return out
}

// rank puts what is not so before what is.
func rank(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// sooner puts a lot without a date behind all that have one.
func sooner(expiry int64) int64 {
	if expiry == 0 {
		return maxDay + 1
	}
	return expiry
}
