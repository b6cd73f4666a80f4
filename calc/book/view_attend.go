package book

import (
	"slices"
	"strconv"
	"time"

	"stillroom/calc"
)

// AttendRow is one thing that wants a hand soon, and where to go for it.
type AttendRow struct {
	Title string `json:"title"`
	Value string `json:"value"`
	Says  string `json:"says"`
	// To is where it is done: stall, count, lot, shelf, receive, ageing or make; Key names the lot, the place, the ingredient or the batch.
	To  string `json:"to"`
	Key string `json:"key"`
}

// AttendView is the view attend: what Today tells besides batches.
type AttendView struct {
	Stall    []AttendRow `json:"stall"`
	Low      []AttendRow `json:"low"`
	Expiring []AttendRow `json:"expiring"`
	// Ageing are retained samples whose next reading is due.
	Ageing []AttendRow `json:"ageing"`
}

const (
	lately     = 5  // batches that say how much one takes
	soonDays   = 60 // days before its date from which a lot is shown
	mostAttend = 4  // rows of one kind on a calm page; how many more there are is said in the last
)

func (s *State) viewAttend(ctx Context) AttendView {
	today := dayOf(ctx.Now, ctx.Zone)
	return AttendView{Stall: calm(s.jarsOut()), Low: calm(append(s.lowIngredients(today), s.lowContainers()...)), Expiring: calm(s.expiring(today)), Ageing: calm(s.samplesDue(ctx))}
}

// calm keeps a list short and says how much it leaves out.
func calm(rows []AttendRow) []AttendRow {
	if len(rows) <= mostAttend {
		return append([]AttendRow{}, rows...)
	}
	return append(slices.Clone(rows[:mostAttend]), AttendRow{Title: "and " + strconv.Itoa(len(rows)-mostAttend) + " more", To: listOf(rows[0].To)})
}

// listOf is the list in which such rows stand.
func listOf(to string) string {
	switch to {
	case "count":
		return "stall"
	case "ageing":
		return "make"
	}
	return "shelf"
}

// jarsOut are the places away from home at which jars stand: to sell, to count or to bring back.
func (s *State) jarsOut() []AttendRow {
	x := s.shelfStock()
	count, products := map[string]int64{}, map[string][]string{}
	var order []string
	for _, k := range x.order {
		n := int64(x.hand.get(k).N)
		if n <= 0 || k.place == "home" || k.place == "kept back" || outOfHand(k.place) {
			continue
		}
		if count[k.place] == 0 {
			order = append(order, k.place)
		}
		count[k.place] += n
		if m := s.minted.get(k.batch); m != nil && !slices.Contains(products[k.place], m.body.Product) {
			products[k.place] = append(products[k.place], m.body.Product)
		}
	}
	var out []AttendRow
	for _, p := range order {
		out = append(out, AttendRow{Title: s.placeName(p), Value: pieces(count[p], "jar"), Says: listed(products[p]) + ": to sell, to count or to bring back", To: "count", Key: p})
	}
	return out
}

// perBatch is how much the last batches took of each key, the newest first, at most lately of them.
func perBatch(took map[string]map[string]int64, newestFirst []string) map[string][]int64 {
	out := map[string][]int64{}
	for key, by := range took {
		for _, b := range newestFirst {
			if by[b] > 0 && len(out[key]) < lately {
				out[key] = append(out[key], by[b])
			}
		}
	}
	return out
}

func (s *State) newestBatches() []string {
	var out []string
	s.batches.each(func(k string, _ *batch) bool { out = append(out, k); return true })
	slices.Reverse(out)
	return out
}

// middle is the median; of an even number, the upper of the two in the middle, since too early is better than too late.
func middle(of []int64) int64 {
	sorted := slices.Sorted(slices.Values(of))
	return sorted[len(sorted)/2]
}

// lowIngredients are the ingredients of which there is less than two more batches take, by the median of the last ones.
func (s *State) lowIngredients(today int64) []AttendRow {
	took, left := map[string]map[string]int64{}, map[string]int64{}
	var order []string
	s.lots.each(func(k string, l *lot) bool {
		if l.body.What == "container" {
			return true
		}
		key := l.body.Ingredient
		if took[key] == nil {
			took[key] = map[string]int64{}
			order = append(order, key)
		}
		for _, b := range l.into {
			if u := s.uses.get(lotIn{k, b}); u != nil {
				took[key][b] += u.mass
			}
		}
		if rest := l.body.Mass - l.used; rest > 0 && !l.held && (l.body.Expiry == 0 || l.body.Expiry >= today) {
			left[key] += rest
		}
		return true
	})
	per := perBatch(took, s.newestBatches())
	var out []AttendRow
	for _, key := range order {
		if n := len(per[key]); n > 0 && left[key] < 2*middle(per[key]) {
			out = append(out, AttendRow{Title: s.lineName(key, ""), Value: s.mass(left[key], 100), Says: enough(left[key], middle(per[key])) + "; one takes " + grams(middle(per[key]), 100) + " (median, n = " + strconv.Itoa(n) + ")", To: "receive", Key: key})
		}
	}
	return out
}

// lowContainers are the containers of which there are fewer than two more batches fill.
func (s *State) lowContainers() []AttendRow {
	took := map[string]map[string]int64{}
	s.batches.each(func(k string, b *batch) bool {
		if f := b.filling(); f != nil && b.body.Container != "" {
			if took[b.body.Container] == nil {
				took[b.body.Container] = map[string]int64{}
			}
			took[b.body.Container][k] = f.Jars
		}
		return true
	})
	per, stock := perBatch(took, s.newestBatches()), s.containerStock()
	var out []AttendRow
	s.containers.each(func(k string, c *container) bool {
		left, known := stock[k]
		if n := len(per[k]); known && n > 0 && left < 2*middle(per[k]) {
			out = append(out, AttendRow{Title: c.body.Name, Value: pieces(max(left, 0), c.body.Word), Says: enough(left, middle(per[k])) + "; one fills " + number(middle(per[k])) + " (median, n = " + strconv.Itoa(n) + ")", To: "shelf", Key: k})
		}
		return true
	})
	return out
}

func enough(left, one int64) string {
	if left < one {
		return "not enough for another batch"
	}
	return "enough for one more batch"
}

// expiring are the lots with something in them whose date is near or past, the nearest first.
func (s *State) expiring(today int64) []AttendRow {
	type dated struct {
		AttendRow
		day int64
	}
	var found []dated
	s.lots.each(func(k string, l *lot) bool {
		rest := l.body.Mass - l.used
		if l.body.What == "container" || l.body.Expiry == 0 || rest <= 0 {
			return true
		}
		days := daysBetween(today, l.body.Expiry)
		if days > soonDays {
			return true
		}
		says := "ends " + showDay(l.body.Expiry) + ", in " + counted(days, "day", "days")
		switch {
		case days == 0:
			says = "ends today"
		case days < 0:
			says = "ended " + showDay(l.body.Expiry) + ": do not use it without a look at its papers"
		}
		found = append(found, dated{AttendRow{Title: s.lineName(l.body.Ingredient, "") + ", lot " + l.body.Code, Value: s.mass(rest, 100), Says: says, To: "lot", Key: k}, l.body.Expiry})
		return true
	})
	slices.SortStableFunc(found, func(a, b dated) int { return int(a.day - b.day) })
	var out []AttendRow
	for _, f := range found {
		out = append(out, f.AttendRow)
	}
	return out
}

// dayAfter is the day so many days after another.
func dayAfter(day int64, days int) int64 {
	d := dateOf(day)
	return dayOf(time.Date(d.Year, time.Month(d.Month), d.Day+days, 0, 0, 0, 0, time.UTC).UnixMilli(), 0)
}

func daysBetween(from, to int64) int {
	at := func(d calc.Date) time.Time {
		return time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC)
	}
	return int(at(dateOf(to)).Sub(at(dateOf(from))).Hours() / 24)
}
