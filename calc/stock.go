package calc

import (
	"cmp"
	"slices"
	"strings"
)

// StockEvent is one movement or count of one lot at one place. Amounts are whole: mg, jars or lids.
type StockEvent struct {
	Stream  string // the device that wrote it
	Seq     uint64 // its number in that stream, from 1
	Log     uint64 // its place in the home store's log, 0 while it is not there
	SeenLog uint64 // how far its writer had read that log
	At      int64  // corrected time, ms
	Lot     string
	Place   string
	Count   bool // "there are n here"; otherwise n is added, and taken when negative
	N       int64
}

// saw tells whether the writer of e knew o when it wrote e.
func (e *StockEvent) saw(o *StockEvent) bool {
	return e.Stream == o.Stream && o.Seq < e.Seq || o.Log > 0 && o.Log <= e.SeenLog
}

// later orders two events of which neither had seen the other: by corrected time, then by a name that is the same on every device.
func (e *StockEvent) later(o *StockEvent) bool {
	if e.At != o.At {
		return e.At > o.At
	}
	if e.Stream != o.Stream {
		return e.Stream > o.Stream
	}
	return e.Seq > o.Seq
}

// StockHand is what is on hand of one lot at one place.
type StockHand struct {
	Lot, Place string
	N          int64
	Counted    bool  // a count stands under it
	Expected   int64 // what the latest count should have found
	Difference int64 // counted − expected
}

// OnHand adds movements and counts up to what is on hand, by lot, then place. A count replaces what came before it and keeps what was
// expected. A movement is before a count that had seen it and after one that it had seen; only otherwise corrected time decides. So the
// answer is the same in whatever order the events arrive. An event that arrives twice counts once.
func OnHand(events []StockEvent) []StockHand {
	// Mostly they come from one place and in the order of the log, so that nothing need be sorted.
	all := make([]*StockEvent, len(events))
	rising, together := true, true
	for i := range events {
		all[i] = &events[i]
		rising = rising && (i == 0 || events[i-1].Log < events[i].Log)
		together = together && byPlace(all[0], all[i]) == 0
	}
	// a copy that has reached the log knows more than one that has not
	if rising {
		slices.Reverse(all)
	} else {
		slices.SortStableFunc(all, func(a, b *StockEvent) int { return cmp.Compare(b.Log, a.Log) })
	}
	all = unlike(all)
	if !together {
		slices.SortStableFunc(all, byPlace)
	}
	out := []StockHand{}
	for len(all) > 0 {
		n := 1
		for n < len(all) && byPlace(all[0], all[n]) == 0 {
			n++
		}
		out = append(out, handOf(all[:n]))
		all = all[n:]
	}
	return out
}

func byPlace(a, b *StockEvent) int {
	return cmp.Or(strings.Compare(a.Lot, b.Lot), strings.Compare(a.Place, b.Place))
}

// unlike leaves of copies of one event the first.
func unlike(all []*StockEvent) []*StockEvent {
	type name struct {
		stream string
		seq    uint64
	}
	few := len(all) <= 64 // then looking through them costs less than a table
	var seen map[name]bool
	if !few {
		seen = make(map[name]bool, len(all))
	}
	out := all[:0]
	for _, e := range all {
		if few {
			if slices.ContainsFunc(out, func(o *StockEvent) bool { return o.Seq == e.Seq && o.Stream == e.Stream }) {
				continue
			}
		} else {
			if seen[name{e.Stream, e.Seq}] {
				continue
			}
			seen[name{e.Stream, e.Seq}] = true
		}
		out = append(out, e)
	}
	return out
}

// handOf is what the events of one lot at one place come to.
func handOf(list []*StockEvent) StockHand {
	last := latestCount(list)
	h := StockHand{Lot: list[0].Lot, Place: list[0].Place, Counted: last != nil}
	if last == nil {
		h.N = sumOfMovements(list)
		return h
	}
	before, after := around(list, last)
	h.Expected = standing(before)
	h.Difference = last.N - h.Expected
	h.N = last.N + sumOfMovements(after)
	return h
}

// latestCount is the count that no other count had seen; of several such the later by corrected time. Choosing among the unseen ones
// first keeps three devices with wrong clocks from going round in a circle.
func latestCount(list []*StockEvent) *StockEvent {
	var best *StockEvent
	for _, c := range list {
		if !c.Count {
			continue
		}
		topmost := true
		for _, o := range list {
			if o.Count && o != c && o.saw(c) {
				topmost = false
				break
			}
		}
		if topmost && (best == nil || c.later(best)) {
			best = c
		}
	}
	return best
}

// around parts the events of a place into those before its latest count, other counts among them, and the movements after it.
func around(list []*StockEvent, last *StockEvent) (before, after []*StockEvent) {
	for _, e := range list {
		switch {
		case e == last:
		case e.Count, last.saw(e), !e.saw(last) && last.later(e):
			before = append(before, e)
		default:
			after = append(after, e)
		}
	}
	return before, after
}

// standing is what a set of events comes to: only the movements after its latest count matter, since a count replaced the rest.
func standing(list []*StockEvent) int64 {
	last := latestCount(list)
	if last == nil {
		return sumOfMovements(list)
	}
	_, after := around(list, last)
	return last.N + sumOfMovements(after)
}

func sumOfMovements(list []*StockEvent) int64 {
	sum := int64(0)
	for _, e := range list {
		if !e.Count {
			sum += e.N
		}
	}
	return sum
}
