package calc

import "math"

// coolCurve is Newton's law T = room + rise × e^(−k t) fitted to readings: degrees Celsius and minutes.
type coolCurve struct {
	room, logRise, k float64
	off              float64 // weighted sum of squares, in °C²
	n                int
	s, sx, sxx       float64 // sums of the weights, for the ±
}

// thermometer is what one reading may be off without anything being wrong, in °C (standard deviation; this book's own rule: read to 0.5 °C).
const thermometer = 0.3

// fitCurve fits a straight line to ln(T − room) by weighted least squares. The weight (T − room)² undoes what the logarithm does to a
// thermometer's error. Every reading is above the room.
func fitCurve(at, warm []float64, room float64) coolCurve {
	c := coolCurve{room: room, n: len(at)}
	var sy, sxy float64
	for i, x := range at {
		rise := warm[i] - room
		w, y := rise*rise, math.Log(rise)
		c.s, c.sx, c.sxx = c.s+w, c.sx+w*x, c.sxx+w*x*x
		sy, sxy = sy+w*y, sxy+w*x*y
	}
	det := c.s*c.sxx - c.sx*c.sx
	slope := (c.s*sxy - c.sx*sy) / det
	c.k, c.logRise = -slope, (sy-slope*c.sx)/c.s
	for i, x := range at {
		rise := warm[i] - room
		r := rise * (math.Log(rise) - c.logRise + c.k*x)
		c.off += r * r
	}
	return c
}

// worst is the largest distance of a reading from the curve, in °C.
func (c coolCurve) worst(at, warm []float64) float64 {
	most := 0.0
	for i, x := range at {
		most = max(most, math.Abs(warm[i]-c.room-math.Exp(c.logRise-c.k*x)))
	}
	return most
}

// reaches is the minute at which the curve passes a temperature above the room, and the half of a range that holds 95 of 100 such answers:
// Student's t on the readings' own scatter, and never less than two thermometer errors.
func (c coolCurve) reaches(limit float64) (minute, plus float64) {
	minute = (c.logRise - math.Log(limit-c.room)) / c.k
	det := c.s*c.sxx - c.sx*c.sx
	unit := math.Sqrt(math.Max(0, (c.sxx-2*minute*c.sx+minute*minute*c.s)/det)) / c.k
	plus = 2 * thermometer * unit
	if c.n > 2 {
		plus = max(plus, StudentT(0.95, c.n-2)*math.Sqrt(c.off/float64(c.n-2))*unit)
	}
	return minute, plus
}

// coolFit is the answer of a fit: when, from when to when, and whether it may never come.
type coolFit struct {
	minute, from, to float64
	never            bool // the limit may lie below the room
	curve            coolCurve
}

// fitKnown fits with a room that was measured.
func fitKnown(at, warm []float64, room, limit float64) coolFit {
	c := fitCurve(at, warm, room)
	f := coolFit{curve: c}
	var plus float64
	f.minute, plus = c.reaches(limit)
	f.from, f.to = f.minute-plus, f.minute+plus
	return f
}

// fitUnknown tries every room from 5 to 35 °C and keeps those that the readings cannot tell from the best one (two standard deviations):
// the range of the answer is the range over all of them.
func fitUnknown(at, warm []float64, limit float64) (best coolFit, ok bool) {
	last := warm[0]
	for _, w := range warm {
		last = min(last, w)
	}
	var tried []coolFit
	for half := 10; half <= 70; half++ {
		room := float64(half) / 2
		if room > last-1 {
			break
		}
		f := coolFit{curve: fitCurve(at, warm, room)}
		if f.curve.k <= 0 {
			continue
		}
		f.never = room > limit-0.5
		if !f.never {
			f = fitKnown(at, warm, room, limit)
		}
		tried = append(tried, f)
		if !f.never && (!ok || f.curve.off < best.curve.off) {
			best, ok = f, true
		}
	}
	if !ok {
		return best, false
	}
	scatter := thermometer * thermometer
	if best.curve.n > 3 {
		scatter = max(scatter, best.curve.off/float64(best.curve.n-3))
	}
	for _, f := range tried {
		switch {
		case f.curve.off > best.curve.off+4*scatter:
		case f.never:
			best.never = true
		default:
			best.from, best.to = min(best.from, f.from), max(best.to, f.to)
		}
	}
	return best, true
}
