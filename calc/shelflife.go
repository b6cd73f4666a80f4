package calc

import (
	"fmt"
	"strconv"
)

// LotUntil is a lot that went in, with the day until which it is good; a zero day means that none is stated.
type LotUntil struct {
	Name   string // "lot G-17 of glycerin"
	Expiry Date
	Opened Date
	PAO    int // months that it keeps once opened, 0 when not stated
}

// until is the earlier of expiry and opened + period after opening.
func (l LotUntil) until() Date {
	if l.PAO == 0 || l.Opened == (Date{}) {
		return l.Expiry
	}
	opened := l.Opened.AddMonths(l.PAO)
	if l.Expiry == (Date{}) || opened.Before(l.Expiry) {
		return opened
	}
	return l.Expiry
}

// ShelfLife is until when a product is good unopened, and why. A zero Best means that nothing says so.
type ShelfLife struct {
	Best  Date
	Says  string // the reason, in a sentence
	Lots  int    // lots that state a day
	Of    int    // lots that went in
	PAO   string // "12M", from the buyer's opening and never from the making; "" when not said
	Notes []Finding
}

const (
	lifeSource    = "EU 1223/2009 Art. 19(1)(c) (read)"
	prudentSource = "prudence, not law: common practice"
)

// ShelfLifeOf gives the earlier of made + stated life and the earliest lot (E5). Lots without a day say nothing, and are counted. life and
// pao are months, 0 when not said. The period after opening stands beside: it counts from the buyer's opening.
func ShelfLifeOf(made Date, life, pao int, lots []LotUntil) ShelfLife {
	out := ShelfLife{Of: len(lots)}
	var first LotUntil
	for _, l := range lots {
		if u := l.until(); u != (Date{}) {
			out.Lots++
			if first.until() == (Date{}) || u.Before(first.until()) {
				first = l
			}
		}
	}
	stated := Date{}
	if life > 0 && made != (Date{}) {
		stated = made.AddMonths(life)
	}
	early := first.until()
	n := strconv.Itoa(out.Lots) + " of " + strconv.Itoa(out.Of) + " lots state a day"
	switch {
	case stated == Date{} && early == Date{}:
		out.Says = "no best before: neither a stated life nor a lot says one"
	case stated == Date{}:
		out.Best, out.Says = early, "best before "+early.String()+", when "+first.Name+" ends; no life is stated for the product; "+n
	case early != Date{} && early.Before(stated):
		out.Best, out.Says = early, "best before "+early.String()+", when "+first.Name+" ends: earlier than made + "+months(life)+" = "+stated.String()+"; "+n
	default:
		out.Best, out.Says = stated, "best before "+stated.String()+": made "+made.String()+" + "+months(life)+"; no lot ends before; "+n
	}
	if early != (Date{}) && out.Best == early {
		out.Notes = append(out.Notes, Finding{Rule: "shelflife", Level: Note, Says: "the date is that of " + first.Name, Figure: early.String(), Source: prudentSource, Do: "a stability test tells more"})
	}
	if pao > 0 {
		out.PAO = strconv.Itoa(pao) + "M"
	}
	if life > 30 && pao == 0 {
		out.Notes = append(out.Notes, Finding{Rule: "shelflife", Level: Care, Says: "above 30 months the period after opening is printed, and none is said", Figure: months(life), Limit: "30 months", Source: lifeSource, Do: "say how many months it keeps once opened"})
	}
	return out
}

func months(n int) string {
	if n == 1 {
		return "1 month"
	}
	return strconv.Itoa(n) + " months"
}

// AddMonths is the same day n months later, or the last day of that month where there is no such day.
func (d Date) AddMonths(n int) Date {
	m := d.Month - 1 + n
	out := Date{d.Year + m/12, m%12 + 1, d.Day}
	out.Day = min(out.Day, daysIn(out.Year, out.Month))
	return out
}

// Before tells whether a day is earlier than another.
func (d Date) Before(e Date) bool {
	return d.Year*10000+d.Month*100+d.Day < e.Year*10000+e.Month*100+e.Day
}

// String writes the day as 2026-03-10.
func (d Date) String() string { return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day) }
