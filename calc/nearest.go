package calc

import "math"

// This file holds the small solver behind aim: a linear programme by the two-phase simplex with Bland's rule, and the nearest point of a polyhedron
// by a primal active set. Both are held against gonum in tests. They are floats; what aim answers is summed again in exact figures.

// most is a·x ≤ b; with equal it is a·x = b.
type most struct {
	a     []float64
	b     float64
	equal bool
}

const tiny = 1e-9

// minimum minimises c·x over x ≥ 0 under the constraints. ok is false when no x meets them, or when there is no least.
func minimum(c []float64, under []most) (x []float64, value float64, ok bool) {
	n, m := len(c), len(under)
	width := n + 2*m + 1 // x, slacks, artificials, right side
	t := make([][]float64, m)
	basis := make([]int, m)
	for i, u := range under {
		row := make([]float64, width)
		copy(row, u.a)
		row[width-1] = u.b
		if !u.equal {
			row[n+i] = 1
		}
		if u.b < 0 {
			for j := range row {
				row[j] = -row[j]
			}
		}
		row[n+m+i] = 1
		t[i], basis[i] = row, n+m+i
	}
	phase := make([]float64, width-1)
	for j := n + m; j < n+2*m; j++ {
		phase[j] = 1
	}
	if !simplex(t, basis, phase, n+2*m) || costOf(t, basis, phase) > 1e-7 {
		return nil, 0, false
	}
	for i := range basis { // an artificial that stayed at nothing is exchanged, or its row says nothing
		if basis[i] < n+m {
			continue
		}
		for j := range n + m {
			if math.Abs(t[i][j]) > tiny {
				pivot(t, basis, i, j)
				break
			}
		}
	}
	full := make([]float64, width-1)
	copy(full, c)
	if !simplex(t, basis, full, n+m) {
		return nil, 0, false
	}
	x = make([]float64, n)
	for i, j := range basis {
		if j < n {
			x[j] = t[i][width-1]
		}
	}
	return x, costOf(t, basis, full), true
}

func costOf(t [][]float64, basis []int, cost []float64) float64 {
	sum := 0.0
	for i, j := range basis {
		sum += cost[j] * t[i][len(t[i])-1]
	}
	return sum
}

// simplex walks to the least cost over the first columns. Bland's rule takes the first column and row that serve, so that it cannot go round.
func simplex(t [][]float64, basis []int, cost []float64, columns int) bool {
	for range 20_000 {
		enter := -1
		for j := 0; j < columns && enter < 0; j++ {
			reduced := cost[j]
			for i, b := range basis {
				reduced -= cost[b] * t[i][j]
			}
			if reduced < -tiny {
				enter = j
			}
		}
		if enter < 0 {
			return true
		}
		leave, best := -1, math.Inf(1)
		for i := range t {
			if t[i][enter] <= tiny {
				continue
			}
			ratio := t[i][len(t[i])-1] / t[i][enter]
			if ratio < best-tiny || ratio < best+tiny && (leave < 0 || basis[i] < basis[leave]) {
				leave, best = i, ratio
			}
		}
		if leave < 0 {
			return false
		}
		pivot(t, basis, leave, enter)
	}
	return false
}

func pivot(t [][]float64, basis []int, row, column int) {
	by := t[row][column]
	for j := range t[row] {
		t[row][j] /= by
	}
	for i := range t {
		if f := t[i][column]; i != row && f != 0 {
			for j := range t[i] {
				t[i][j] -= f * t[row][j]
			}
		}
	}
	basis[row] = column
}

// nearest gives the point with x ≥ 0 under the constraints that lies nearest to want. start must meet them all. It walks from start along the
// working constraints, takes in the first that stands in the way, and lets go of the one that holds it back most.
func nearest(want, start []float64, under []most) ([]float64, bool) {
	n := len(want)
	all := append([]most(nil), under...)
	for j := range n {
		a := make([]float64, n)
		a[j] = -1
		all = append(all, most{a: a})
	}
	x := append([]float64(nil), start...)
	var working []int
	for i, u := range all {
		if u.equal {
			working = append(working, i)
		}
	}
	for range 2000 {
		target, pull, ok := project(want, all, working)
		if !ok {
			return nil, false
		}
		step, block := 1.0, -1
		moves := false
		for j := range x {
			moves = moves || math.Abs(target[j]-x[j]) > tiny
		}
		for i, u := range all {
			if !moves || u.equal || among(working, i) {
				continue
			}
			along, now := 0.0, 0.0
			for j := range x {
				along += u.a[j] * (target[j] - x[j])
				now += u.a[j] * x[j]
			}
			if along > tiny {
				if s := math.Max(0, (u.b-now)/along); s < step {
					step, block = s, i
				}
			}
		}
		for j := range x {
			x[j] += step * (target[j] - x[j])
		}
		if block >= 0 {
			working = append(working, block)
			continue
		}
		worst, at := -1e-8, -1
		for i, w := range working {
			if !all[w].equal && pull[i] < worst {
				worst, at = pull[i], i
			}
		}
		if at < 0 {
			return x, true
		}
		working = append(working[:at], working[at+1:]...)
	}
	return nil, false
}

func among(list []int, v int) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}

// project gives the nearest point to want on the working constraints taken as equal, and how hard each pulls: want − x = Σ pull·a.
func project(want []float64, all []most, working []int) (x, pull []float64, ok bool) {
	m := len(working)
	g := make([][]float64, m) // A·Aᵀ | A·want − b
	for i, w := range working {
		g[i] = make([]float64, m+1)
		for k, v := range working {
			for j := range want {
				g[i][k] += all[w].a[j] * all[v].a[j]
			}
		}
		for j := range want {
			g[i][m] += all[w].a[j] * want[j]
		}
		g[i][m] -= all[w].b
	}
	if pull, ok = solve(g); !ok {
		return nil, nil, false
	}
	x = append([]float64(nil), want...)
	for i, w := range working {
		for j := range x {
			x[j] -= pull[i] * all[w].a[j]
		}
	}
	return x, pull, true
}

// solve works out a square system by elimination with the largest pivot; g is spent. ok is false when it has no one answer.
func solve(g [][]float64) ([]float64, bool) {
	m := len(g)
	for c := range m {
		at := c
		for i := c + 1; i < m; i++ {
			if math.Abs(g[i][c]) > math.Abs(g[at][c]) {
				at = i
			}
		}
		if math.Abs(g[at][c]) < 1e-12 {
			return nil, false
		}
		g[c], g[at] = g[at], g[c]
		for i := range m {
			if f := g[i][c] / g[c][c]; i != c && f != 0 {
				for j := c; j <= m; j++ {
					g[i][j] -= f * g[c][j]
				}
			}
		}
	}
	out := make([]float64, m)
	for i := range m {
		out[i] = g[i][m] / g[i][i]
	}
	return out, true
}
