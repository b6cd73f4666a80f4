package calc

import "math"

// StudentT is the two-sided quantile of Student's t: with df ≥ 1 degrees of freedom a value lies within ± the answer with probability
// confidence (between 0 and 1). Found by halving on the regularised incomplete beta function, to about 1e-9.
func StudentT(confidence float64, df int) float64 {
	n := float64(df)
	tail := func(t float64) float64 { return incompleteBeta(n/2, 0.5, n/(n+t*t)) } // P(|T| > t)
	low, high := 0.0, 1.0
	for tail(high) > 1-confidence && high < 1e9 {
		high *= 2
	}
	for range 100 {
		mid := (low + high) / 2
		if tail(mid) > 1-confidence {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// incompleteBeta is the regularised incomplete beta function by its continued fraction (Lentz's method, as in every text on numerics).
func incompleteBeta(a, b, x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	case x > (a+1)/(a+b+2):
		return 1 - incompleteBeta(b, a, 1-x)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(lab-la-lb+a*math.Log(x)+b*math.Log1p(-x)) / a
	const tiny = 1e-300
	f, c, d := 1.0, 1.0, 0.0
	for i := range 500 {
		m := float64(i / 2)
		var step float64
		switch {
		case i == 0:
			step = 1
		case i%2 == 0:
			step = m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		default:
			step = -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		}
		d = 1 + step*d
		if math.Abs(d) < tiny {
			d = tiny
		}
		d = 1 / d
		c = 1 + step/c
		if math.Abs(c) < tiny {
			c = tiny
		}
		f *= c * d
		if math.Abs(1-c*d) < 1e-13 {
			break
		}
	}
	return front * (f - 1)
}
