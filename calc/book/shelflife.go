package book

import "stillroom/calc"

// shelfLife is until when a batch that was filled on a day is good, by its formula's stated life and the lots that went in.
func (s *State) shelfLife(m *making, filled int64) calc.ShelfLife {
	w, order := m.b.weighed()
	seen := map[string]bool{}
	var lots []calc.LotUntil
	for _, id := range order {
		for _, u := range w[id].lots {
			l := s.lots.get(u.lot)
			if l == nil || seen[u.lot] {
				continue
			}
			seen[u.lot] = true
			lots = append(lots, calc.LotUntil{Name: "lot " + l.body.Code + " of " + s.lineName(l.body.Ingredient, ""), Expiry: dateOf(l.body.Expiry)})
		}
	}
	return calc.ShelfLifeOf(dateOf(filled), m.f.LifeMonths, m.f.PAOMonths, lots)
}

// dateOf is a day such as 20261112 in calc's words, and numberOfDay the way back; 0 is no day.
func dateOf(day int64) calc.Date {
	return calc.Date{Year: int(day / 10000), Month: int(day / 100 % 100), Day: int(day % 100)}
}

func numberOfDay(d calc.Date) int64 { return int64(d.Year*10000 + d.Month*100 + d.Day) }
