package book

import (
	"slices"
	"strconv"
	"strings"
)

func (s *State) viewPlaces(ctx Context) PlacesView {
	v := PlacesView{Places: []PlaceRow{}, Standings: []Standing{}}
	x := s.shelfStock()
	jars := map[string]int{}
	var used []string
	for _, k := range x.all("") {
		n, m := int(x.hand.get(k).N), s.minted.get(k.batch)
		if n == 0 || m == nil {
			continue
		}
		state, says := s.shelfState(k.batch)
		barred, _ := s.unsold(ctx, m)
		if barred == notForSale {
			says = join(notForSale, says)
		}
		if lack := x.hand.get(k); lack.Counted && lack.Difference != 0 {
			says = join(says, "counted: expected "+number(lack.Expected)+", difference "+signed(lack.Difference))
		}
		in, _ := x.spans([]string{k.place}, m.body.Product)
		for _, p := range in {
			if p.batch == k.batch && p.to > 0 {
				says = join(says, "between "+number(p.from)+" and "+number(p.to)+" of "+m.body.Code+" here are sold")
			}
		}
		jars[k.place] += n
		if !slices.Contains(used, k.place) {
			used = append(used, k.place)
		}
		v.Standings = append(v.Standings, Standing{k.batch, m.body.Code, m.body.Product, m.body.Word, k.place, s.placeName(k.place), n, state, says, barred})
	}
	add := func(key string, body PlaceNamed, where string) {
		v.Places = append(v.Places, PlaceRow{key, body.Name, body.What, body.Inside, jars[key], where})
		used = slices.DeleteFunc(used, func(k string) bool { return k == key })
	}
	for _, key := range []string{"home", "stall"} {
		if s.places.get(key) == nil {
			add(key, PlaceNamed{Name: key, What: key}, "book")
		}
	}
	s.places.each(func(k string, p *place) bool { add(k, p.body, s.where(Shelf, p.from.ref)); return true })
	for _, key := range slices.Clone(used) {
		what := key
		if !slices.Contains(waysOut, key) {
			what = "home"
		}
		add(key, PlaceNamed{Name: key, What: what}, "book")
	}
	return v
}

func money(minor int64) string {
	s := strconv.FormatInt(minor, 10)
	for len(s) < 3 {
		s = "0" + s
	}
	return s[:len(s)-2] + "." + s[len(s)-2:]
}

type stallArgs struct {
	Place string `json:"place"`
}

func (s *State) viewStall(ctx Context, args []byte) (any, *Refusal) {
	a, no := arguments[stallArgs](args)
	if no != nil {
		return nil, unseen("request", "", "the app asked in words that this program does not understand", "reload the app")
	}
	if a.Place == "" {
		a.Place = "stall"
	}
	key, no := s.placeOnShelf(a.Place, "place")
	if no != nil {
		return nil, unseen(no.Code, no.Field, "no place is called "+a.Place, "choose it from the list of places")
	}
	x := s.shelfStock()
	v := StallView{Place: key, Name: s.placeName(key), Tiles: []Tile{}, Rows: []StallRow{}}
	here := s.within(key)
	day := s.stallDay(ctx, x, here, &v)
	v.Tiles = s.tiles(ctx, x, here)
	v.Taken, v.TakenSum = money(day.money), day.moneySum()
	v.TakenSays = counted(int(day.sold), "sale", "sales") + " on " + showDay(dayOf(ctx.Now, ctx.Zone))
	if w := s.workshop(); w.Money != "" {
		v.TakenSays += ", in " + w.Money
	}
	v.Says = day.says()
	return v, nil
}

func (s *State) codeOf(batch string) string {
	if m := s.minted.get(batch); m != nil {
		return m.body.Code
	}
	if batch == "" {
		return "no batch said"
	}
	return batch
}

func (s *State) productOf(batch string) string {
	if m := s.minted.get(batch); m != nil {
		return m.body.Product
	}
	return ""
}

// tiles are the products at a place and in the crates there, in the order in which they came.
func (s *State) tiles(ctx Context, x *shelfStock, here []string) []Tile {
	out := []Tile{}
	done := map[string]bool{}
	for _, k := range x.order {
		m := s.minted.get(k.batch)
		if m == nil || done[m.body.Product] || !slices.Contains(here, k.place) {
			continue
		}
		done[m.body.Product] = true
		if t, shown := s.tile(ctx, x, here, &m.body); shown {
			out = append(out, t)
		}
	}
	return out
}

// broughtSum sets what is here of a batch against what was brought; a count that found another number is in what lies between.
func broughtSum(brought, n int64) string {
	if n > brought {
		return number(brought) + " brought + " + number(n-brought) + " that a count or a correction found = " + number(n)
	}
	return number(brought) + " brought − " + number(brought-n) + " sold, taken away or not found by a count = " + number(n)
}

func (s *State) tile(ctx Context, x *shelfStock, here []string, m *JarsMinted) (Tile, bool) {
	in, untold := x.spans(here, m.Product)
	t := Tile{Product: m.Product, Word: m.Word, Batches: []TileBatch{}}
	left, of := -untold, int64(0)
	var terms []string
	for _, p := range in {
		n := s.minted.get(p.batch)
		brought := int64(0)
		for _, place := range here {
			brought += x.brought.get(at{p.batch, place})
		}
		of += brought
		if p.n <= 0 {
			continue
		}
		left += p.n
		says := number(p.n - p.to)
		if p.to != p.from {
			says += " to " + number(p.n-p.from)
		}
		barred, _ := s.unsold(ctx, n)
		sum := broughtSum(brought, p.n)
		terms = append(terms, number(p.n)+" of "+n.body.Code)
		if p.to > 0 {
			sum = p.sum(n.body.Code, untold)
		}
		t.Batches = append(t.Batches, TileBatch{p.batch, n.body.Code, says, sum, barred})
		// A tap on the whole tile names no batch, so that one that is barred bars it; the first of them is named.
		if t.Barred == "" {
			t.Barred = barred
		}
	}
	if len(t.Batches) == 1 {
		t.Batch = t.Batches[0].Batch
	}
	t.Left = strconv.FormatInt(max(left, 0), 10)
	switch {
	case len(terms) == 1 && untold == 0:
		t.Sum = t.Batches[0].Sum
	case len(terms) == 0:
		t.Sum = broughtSum(of, 0)
	case untold == 0:
		t.Sum = strings.Join(terms, " + ") + " = " + t.Left
	default:
		t.Sum = strings.Join(terms, " + ") + " − " + number(untold) + " sold with no batch said"
		if left < 0 {
			t.Sum += ", more than were here"
		}
		t.Sum += " = " + t.Left
	}
	if of > 0 {
		t.Of = strconv.FormatInt(of, 10)
	}
	if p := s.prices.get(t.Product); p != nil {
		t.Price = money(p.body.Price)
	}
	t.CanSell = left > 0 && t.Barred == ""
	return t, of > 0 || left > 0
}
