package calc

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

// drawn is a small problem that has an answer: the constraints hold at a point that was drawn first.
func drawn(t *rapid.T) (n int, inside []float64, under []most) {
	n = rapid.IntRange(2, 6).Draw(t, "n")
	figure := func(low, high int, name string) float64 { return float64(rapid.IntRange(low, high).Draw(t, name)) }
	sum := 0.0
	for range n {
		v := figure(0, 40, "inside")
		inside, sum = append(inside, v), sum+v
	}
	one := make([]float64, n)
	for j := range one {
		one[j] = 1
	}
	under = []most{{a: one, b: sum, equal: true}}
	for range rapid.IntRange(0, 6).Draw(t, "m") {
		a, at := make([]float64, n), 0.0
		for j := range a {
			a[j] = figure(-5, 5, "a")
			at += a[j] * inside[j]
		}
		under = append(under, most{a: a, b: at + figure(0, 30, "room")})
	}
	return n, inside, under
}

func meets(x []float64, under []most) bool {
	for _, v := range x {
		if v < -1e-6 {
			return false
		}
	}
	for _, u := range under {
		at := 0.0
		for j := range x {
			at += u.a[j] * x[j]
		}
		if at > u.b+1e-6 || u.equal && at < u.b-1e-6 {
			return false
		}
	}
	return true
}

func TestLeastIsTheLeastByAnotherSolver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, _, under := drawn(t)
		c := make([]float64, n)
		for j := range c {
			c[j] = float64(rapid.IntRange(-9, 9).Draw(t, "c"))
		}
		x, value, ok := minimum(c, under)
		if !ok || !meets(x, under) {
			t.Fatalf("no answer, or one that breaks a constraint: %v", x)
		}
		rows, width := len(under), n+len(under)-1
		a, b, cost := mat.NewDense(rows, width, nil), make([]float64, rows), make([]float64, width)
		copy(cost, c)
		for i, u := range under {
			b[i] = u.b
			for j, v := range u.a {
				a.Set(i, j, v)
			}
			if !u.equal {
				a.Set(i, n+i-1, 1)
			}
		}
		want, _, err := lp.Simplex(cost, a, b, 1e-10, nil)
		if err != nil {
			return // the other solver refuses some degenerate tables; the constraints were checked above
		}
		if math.Abs(want-value) > 1e-6*(1+math.Abs(want)) {
			t.Fatalf("least %v, the other solver says %v", value, want)
		}
	})
}

func TestWhatCannotBeMetIsSaid(t *testing.T) {
	if _, _, ok := minimum([]float64{1, 1}, []most{{a: []float64{1, 1}, b: 100, equal: true}, {a: []float64{1, 1}, b: 50}}); ok {
		t.Error("a sum of 100 and at most 50 was met")
	}
	if _, _, ok := minimum([]float64{-1}, nil); ok {
		t.Error("a least without end was found")
	}
}

// TestNearestIsNearest: at the nearest point the way to what is wanted leads out through the constraints that hold it: no point that meets them has a
// positive share of that way. The largest such share is asked of gonum's linear programme, which proves it for all points at once.
func TestNearestIsNearest(t *testing.T) {
	proved := 0
	rapid.Check(t, func(t *rapid.T) {
		n, inside, under := drawn(t)
		want := make([]float64, n)
		for j := range want {
			want[j] = float64(rapid.IntRange(-20, 80).Draw(t, "want"))
		}
		x, ok := nearest(want, inside, under)
		if !ok || !meets(x, under) {
			t.Fatalf("no answer, or one that breaks a constraint: %v", x)
		}
		rows, width := len(under), n+len(under)-1
		a, b, cost := mat.NewDense(rows, width, nil), make([]float64, rows), make([]float64, width)
		here := 0.0
		for j := range n {
			cost[j] = -(want[j] - x[j])
			here += cost[j] * x[j]
		}
		for i, u := range under {
			b[i] = u.b
			for j, v := range u.a {
				a.Set(i, j, v)
			}
			if !u.equal {
				a.Set(i, n+i-1, 1)
			}
		}
		furthest, _, err := lp.Simplex(cost, a, b, 1e-10, nil)
		if err != nil {
			return
		}
		proved++
		if furthest < here-1e-4*(1+math.Abs(here)) {
			t.Fatalf("a point that lies nearer to %v than %v exists: %v < %v", want, x, furthest, here)
		}
	})
	if proved == 0 {
		t.Error("the other solver proved none of them")
	}
}
