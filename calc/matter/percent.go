package matter

import "strconv"

// Percent is a share by weight in units of 0.0001 %, so that 100 % is 1,000,000. Whole numbers keep sums exact.
type Percent int64

const (
	// OnePercent is 1 %.
	OnePercent Percent = 10_000
	// Hundred is 100 %, a full jar.
	Hundred Percent = 100 * OnePercent
)

// String writes the share with at least two and at most four decimals, without a sign for per cent: "11.00", "0.3333".
func (p Percent) String() string { return Decimals(int64(p), 4, 2) }

// Mass is a mass in milligrams. Whole numbers keep sums exact; the largest is far beyond any workshop's pot.
type Mass int64

const (
	// Gram is 1 g.
	Gram Mass = 1000
	// Kilogram is 1 kg.
	Kilogram Mass = 1000 * Gram
)

// String writes the mass in grams with at least one and at most three decimals: "229.3".
func (m Mass) String() string { return Decimals(int64(m), 3, 1) }

// On writes the mass in grams with as many decimals as a scale of the given step shows: 300.0 on 0.1 g, 300.00 on 0.01 g.
func (m Mass) On(step Mass) string {
	keep := 0
	for unit := Gram; keep < 3 && (step <= 0 || step%unit != 0); keep++ {
		unit /= 10
	}
	return Decimals(int64(m), 3, keep)
}

// Decimals writes v/10^places with the trailing zeros beyond keep decimals dropped, and commas between thousands.
func Decimals(v int64, places, keep int) string {
	neg := v < 0
	u := uint64(v)
	if neg {
		u = -u
	}
	scale := uint64(1)
	for range places {
		scale *= 10
	}
	whole := strconv.FormatUint(u/scale, 10)
	frac := strconv.FormatUint(scale+u%scale, 10)[1:]
	for len(frac) > keep && frac[len(frac)-1] == '0' {
		frac = frac[:len(frac)-1]
	}
	out := make([]byte, 0, len(whole)+len(frac)+8)
	if neg {
		out = append(out, "−"...)
	}
	for i := range len(whole) {
		if i > 0 && (len(whole)-i)%3 == 0 {
			out = append(out, ',')
		}
		out = append(out, whole[i])
	}
	if len(frac) > 0 {
		out = append(out, '.')
		out = append(out, frac...)
	}
	return string(out)
}
