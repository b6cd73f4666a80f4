package book

import (
	"slices"
	"strconv"
)

func (s *State) viewPlaces(ctx Context) PlacesView {
	v := PlacesView{Places: []PlaceRow{}, Standings: []Standing{}}
	x := s.shelfStock()
	jars := map[string]int{}
	var used []string
	for _, k := range x.order {
		n, m := int(x.hand[k].N), s.minted.get(k.batch)
		if n == 0 || m == nil {
			continue
		}
		state, says := s.shelfState(k.batch)
		barred, _ := s.unsold(ctx, m)
		if barred == notForSale {
			says = join(notForSale, says)
		}
		if lack := x.hand[k]; lack.Counted && lack.Difference != 0 {
			says = join(says, "counted: expected "+number(lack.Expected)+", difference "+signed(lack.Difference))
		}
		in, _ := x.spans(k.place, m.body.Product)
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
		return nil, unseen("request", "", "the request does not parse", "reload the app")
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
	day := s.stallDay(ctx, x, key, &v)
	v.Tiles = s.tiles(ctx, x, key, day.brought)
	v.Taken = money(day.money)
	v.TakenSays = counted(int(day.sold), "sale", "sales") + " on " + showDay(dayOf(ctx.Now, ctx.Zone))
	if w := s.workshop(); w.Money != "" {
		v.TakenSays += ", in " + w.Money
	}
	v.Says = day.says()
	return v, nil
}

// marketDay is what happened at a place in one day.
type marketDay struct {
	money, taken, sold, given, back, lacking int64
	brought                                  map[string]int64 // ever brought, by batch
}

func (d *marketDay) says() string {
	if d.taken+d.sold+d.given+d.back+d.lacking == 0 {
		return ""
	}
	out := number(d.taken) + " taken: " + number(d.sold) + " sold"
	if d.given > 0 {
		out += ", " + number(d.given) + " given"
	}
	if d.back > 0 {
		out += ", " + number(d.back) + " brought back"
	}
	if d.lacking > 0 {
		out += ", " + number(d.lacking) + " not accounted for"
	} else if d.lacking < 0 {
		out += ", " + number(-d.lacking) + " more than expected"
	}
	return out
}

// stallDay fills the rows of the place, the newest first, and sums the day of the device that looks.
func (s *State) stallDay(ctx Context, x *shelfStock, key string, v *StallView) *marketDay {
	d := &marketDay{brought: map[string]int64{}}
	today := dayOf(ctx.Now, ctx.Zone)
	s.moves.each(func(ref Ref, m *move) bool {
		body, err := open(m.kind, m.v, m.body)
		if err != nil {
			return true
		}
		r := StallRow{Entry: ref.String(), At: showTime(m.from.at, ctx.Zone), By: s.by(ctx, m.from), Struck: m.struck, Where: s.where(Shelf, ref), Clash: x.clash[ref], Detail: m.reason}
		stands, now := !m.struck && r.Clash == "", dayOf(s.rootOf(m).at, ctx.Zone) == today
		switch b := body.(type) {
		case *Sold:
			if b.Place != key || b.Count == 0 && m.of.Seq != 0 {
				return true
			}
			r.What, r.Title, r.Value = "sold", b.Product, money(b.Price*b.Count)
			if b.Given {
				r.What, r.Value = "given", "given"
			}
			r.Detail = join(number(b.Count)+" × "+money(b.Price), s.codeOf(b.Batch), r.Detail)
			if stands && b.Day == today {
				d.money += b.Price * b.Count
				if b.Given {
					d.given += b.Count
				} else {
					d.sold += b.Count
				}
			}
			if stands && m.from.ref.Device == ctx.Device && b.Day == today && m.of.Seq == 0 {
				v.Undo = ref.String()
			}
		case *JarMoved:
			if b.From != key && b.To != key || b.Count == 0 && m.of.Seq != 0 {
				return true
			}
			r.What, r.Title = "moved", s.productOf(b.Batch)
			r.Value = number(b.Count)
			r.Detail = join(s.placeName(b.From)+" to "+s.placeName(b.To), s.codeOf(b.Batch), b.Reason, r.Detail)
			if stands {
				if b.To == key {
					d.brought[b.Batch] += b.Count
				}
				switch {
				case !now:
				case b.To == key:
					d.taken += b.Count
				case b.To == "given":
					d.given += b.Count
				case b.To == "sold":
					d.sold += b.Count
				default:
					d.back += b.Count
				}
			}
		case *JarCounted:
			if b.Place != key {
				return true
			}
			r.What, r.Title, r.Value = "counted", s.productOf(b.Batch), number(b.Count)
			r.Detail = join("expected "+number(b.Expected)+", difference "+signed(b.Count-b.Expected), s.codeOf(b.Batch), r.Detail)
			if stands && now {
				d.lacking += b.Expected - b.Count
			}
		}
		if r.Title == "" {
			r.Title = "jars of an unknown batch"
		}
		v.Rows = append(v.Rows, r)
		return true
	})
	slices.Reverse(v.Rows)
	// What a count lacked was first of all taken by the sales that named no batch.
	for _, u := range x.untold {
		if u.place == key && dayOf(u.event.At, ctx.Zone) == today {
			d.lacking -= min(max(d.lacking, 0), u.event.N)
		}
	}
	return d
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

// tiles are the products at a place in the order in which they came there.
func (s *State) tiles(ctx Context, x *shelfStock, key string, brought map[string]int64) []Tile {
	out := []Tile{}
	done := map[string]bool{}
	for _, k := range x.order {
		m := s.minted.get(k.batch)
		if k.place != key || m == nil || done[m.body.Product] {
			continue
		}
		done[m.body.Product] = true
		in, untold := x.spans(key, m.body.Product)
		t := Tile{Product: m.body.Product, Word: m.body.Word, Batches: []TileBatch{}}
		left, of := -untold, int64(0)
		for _, p := range in {
			n := s.minted.get(p.batch)
			of += brought[p.batch]
			if p.n <= 0 {
				continue
			}
			left += p.n
			says := number(p.n - p.to)
			if p.to != p.from {
				says += " to " + number(p.n-p.from)
			}
			barred, _ := s.unsold(ctx, n)
			t.Batches = append(t.Batches, TileBatch{p.batch, n.body.Code, says, barred})
			// A tap on the whole tile names no batch, so that one that is barred bars it; the first of them is named.
			if t.Barred == "" {
				t.Barred = barred
			}
		}
		if len(t.Batches) == 1 {
			t.Batch = t.Batches[0].Batch
		}
		if of == 0 && left <= 0 {
			continue
		}
		t.Left = strconv.FormatInt(max(left, 0), 10)
		if of > 0 {
			t.Of = strconv.FormatInt(of, 10)
		}
		if p := s.prices.get(t.Product); p != nil {
			t.Price = money(p.body.Price)
		}
		t.CanSell = left > 0 && t.Barred == ""
		out = append(out, t)
	}
	return out
}
