package calc

import "sort"

// sharesOfMasses gives each mass's share of their sum, to 0.0001 %, so that the shares sum to exactly 100: what rounding down leaves goes to
// the largest remainders.
func sharesOfMasses(masses []Mass) []Percent {
	var sum int64
	for _, m := range masses {
		sum += int64(m)
	}
	out := make([]Percent, len(masses))
	if sum <= 0 {
		return out
	}
	order := make([]int, len(masses))
	rest := make([]int64, len(masses))
	left := Hundred
	for i, m := range masses {
		exact := int64(m) * int64(Hundred) // a tonne in mg × 10⁶ is 10¹⁵
		out[i], rest[i], order[i] = Percent(exact/sum), exact%sum, i
		left -= out[i]
	}
	sort.SliceStable(order, func(a, b int) bool { return rest[order[a]] > rest[order[b]] })
	for i := 0; left > 0; i++ {
		out[order[i]]++
		left--
	}
	return out
}
