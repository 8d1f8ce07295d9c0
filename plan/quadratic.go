package plan

import (
	"math"
	"slices"
)

// quadratic is the problem: least 1/2 x'Gx - a'x, with G positive definite, such that c'x = b for
// the first Equal of its rows and c'x >= b for the others. It is small: as many unknowns as there
// are source waters or salts.
//
// The method is the dual active set of Goldfarb D. & Idnani A. 1983, Mathematical Programming
// 27:1-33 (goldfarb1983, from memory): it starts at the least of all and takes up the constraint
// that is broken worst, one after the other, dropping those that pull the wrong way. It needs no
// feasible start and says when there is none.
type quadratic struct {
	g     [][]float64
	a     []float64
	rows  []halfSpace
	equal int
}

// halfSpace is c'x >= b.
type halfSpace struct {
	c []float64
	b float64
}

// solve gives the least; false when no x meets the constraints.
func (q quadratic) solve() ([]float64, bool) {
	n := len(q.a)
	x := linear(q.g, q.a)
	var active []int   // rows taken up
	var u []float64    // their multipliers
	var sign []float64 // of the row as taken up: an equality may be met from either side

	for range 50 * (n + len(q.rows) + 1) {
		worst, s, way := -1, 0.0, 1.0
		for i, r := range q.rows {
			if slices.Contains(active, i) {
				continue
			}
			gap, w := dot(r.c, x)-r.b, 1.0
			if i < q.equal && gap > 0 {
				gap, w = -gap, -1
			}
			scale := norm(r.c) * (1 + norm(x))
			if gap < -1e-11*scale && gap < s {
				worst, s, way = i, gap, w
			}
			if i < q.equal && gap < -1e-11*scale { // equalities first
				worst, s, way = i, gap, w
				break
			}
		}
		if worst < 0 {
			return x, true
		}
		normal := scaled(q.rows[worst].c, way)
		uNew := 0.0
		for {
			z, r := q.direction(active, sign, normal)
			// the longest step that keeps every multiplier of an inequality at or above nothing
			t, drop := math.Inf(1), -1
			for j, i := range active {
				if i >= q.equal && r[j] > 1e-14 && u[j]/r[j] < t {
					t, drop = u[j]/r[j], j
				}
			}
			full := math.Inf(1)
			if zn := dot(z, normal); zn > 1e-13*dot(normal, normal)/(1+trace(q.g)) {
				full = -(dot(normal, x) - way*q.rows[worst].b) / zn
			}
			step := min(t, full)
			if math.IsInf(step, 1) {
				return x, false
			}
			for j := range u {
				u[j] -= step * r[j]
			}
			uNew += step
			if !math.IsInf(full, 1) {
				for k := range x {
					x[k] += step * z[k]
				}
			}
			if full <= t {
				active, u, sign = append(active, worst), append(u, uNew), append(sign, way)
				break
			}
			active = append(active[:drop], active[drop+1:]...)
			u = append(u[:drop], u[drop+1:]...)
			sign = append(sign[:drop], sign[drop+1:]...)
		}
	}
	return x, false // did not settle: not known to happen; never a silent answer
}

// direction gives the way to go in x and in the multipliers when a new normal is taken up:
// z = H n and r = N* n of the paper, from the bordered system of the active rows.
func (q quadratic) direction(active []int, sign, normal []float64) (z, r []float64) {
	n, m := len(q.a), len(active)
	k := make([][]float64, n+m)
	rhs := make([]float64, n+m)
	for i := range k {
		k[i] = make([]float64, n+m)
		if i < n {
			copy(k[i], q.g[i])
			rhs[i] = normal[i]
		}
	}
	for j, row := range active {
		for i := range n {
			c := sign[j] * q.rows[row].c[i]
			k[i][n+j], k[n+j][i] = c, c
		}
	}
	y := linear(k, rhs)
	return y[:n], y[n:]
}

// linear solves k y = rhs by elimination with row pivoting; k and rhs stay as they are.
func linear(k [][]float64, rhs []float64) []float64 {
	n := len(rhs)
	m := make([][]float64, n)
	for i := range m {
		m[i] = append(append(make([]float64, 0, n+1), k[i]...), rhs[i])
	}
	for c := range n {
		p := c
		for i := c + 1; i < n; i++ {
			if math.Abs(m[i][c]) > math.Abs(m[p][c]) {
				p = i
			}
		}
		m[c], m[p] = m[p], m[c]
		if m[c][c] == 0 {
			continue // a row that repeats another: its unknown stays at nothing
		}
		for i := c + 1; i < n; i++ {
			if f := m[i][c] / m[c][c]; f != 0 {
				for j := c; j <= n; j++ {
					m[i][j] -= f * m[c][j]
				}
			}
		}
	}
	y := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		s := m[i][n]
		for j := i + 1; j < n; j++ {
			s -= m[i][j] * y[j]
		}
		if m[i][i] != 0 {
			y[i] = s / m[i][i]
		}
	}
	return y
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

func norm(a []float64) float64 { return math.Sqrt(dot(a, a)) }

func scaled(a []float64, f float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = f * a[i]
	}
	return out
}

func trace(g [][]float64) float64 {
	s := 0.0
	for i := range g {
		s += g[i][i]
	}
	return s
}
