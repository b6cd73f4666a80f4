package book

import "slices"

// placesOf are how many jars of some batches stand where, as the book has it. What a count has shown to be sold without a
// batch being named stands with what is sold.
func (x *shelfStock) placesOf(batches ...string) []PlaceCount {
	out := []PlaceCount{}
	put := func(place string, n int64) {
		if n == 0 {
			return
		}
		name := x.s.placeName(place)
		i := slices.IndexFunc(out, func(p PlaceCount) bool { return p.Place == name })
		if i < 0 {
			out = append(out, PlaceCount{Place: name})
			i = len(out) - 1
		}
		out[i].Count += int(n)
	}
	for _, b := range batches {
		for _, k := range x.all(b) {
			put(k.place, x.hand.get(k).N)
		}
		_, _, took := x.soldUntold(b)
		put("sold", took)
	}
	return out
}

// within are a place and all that stands in it: crates, and what stands in those.
func (s *State) within(key string) []string {
	out := []string{key}
	for i := 0; i < len(out); i++ {
		s.places.each(func(k string, p *place) bool {
			if p.body.Inside == out[i] && !slices.Contains(out, k) {
				out = append(out, k)
			}
			return true
		})
	}
	return out
}

// placeOfJar is where a jar stands. When only numbers of jars were moved, several places remain and all are named.
func (x *shelfStock) placeOfJar(batch, code string) string {
	if p := x.jarAt.get(code); p != "" {
		return x.s.placeName(p)
	}
	return x.restOf(batch)
}

// restOf names where the jars of a batch stand whose codes were never read.
func (x *shelfStock) restOf(batch string) string {
	m := x.s.minted.get(batch)
	own := map[string]int64{}
	if !x.jarAt.empty() {
		for _, c := range m.codes() {
			if p := x.jarAt.get(c); p != "" {
				own[p]++
			}
		}
	}
	var names []string
	for _, k := range x.all(batch) {
		if x.hand.get(k).N-own[k.place] > 0 {
			names = append(names, x.s.placeName(k.place))
		}
	}
	if len(names) == 0 {
		return x.s.placeName(m.body.Place)
	}
	return names[0] + orNames(names[1:])
}

func orNames(names []string) string {
	out := ""
	for _, n := range names {
		out += " or " + n
	}
	return out
}
