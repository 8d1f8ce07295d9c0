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
	rows := q.unitRows()
	x := linear(q.g, q.a)
	var active []taken // constraints taken up, with their multipliers

	for range 20 * (n + len(rows) + 1) {
		next, found := q.worst(rows, x, active)
		if !found {
			return x, q.meets(rows, x)
		}
		alone := dot(next.c, linear(q.g, next.c))
		for {
			z, r := q.direction(active, next.c)
			// the longest step that keeps every multiplier of an inequality at or above nothing
			t, drop := math.Inf(1), -1
			for j, a := range active {
				if a.row >= q.equal && r[j] > 0 && a.u/r[j] < t {
					t, drop = a.u/r[j], j
				}
			}
			full := math.Inf(1)
			if zn := dot(z, next.c); zn > dependent*alone {
				full = (next.b - dot(next.c, x)) / zn
			}
			step := min(t, full)
			if math.IsInf(step, 1) {
				return x, false // nowhere to go: the constraints contradict each other
			}
			for j := range active {
				active[j].u -= step * r[j]
			}
			next.u += step
			if full <= t {
				active = append(active, next)
				x = q.settle(active) // afresh, so that no rounding is carried along
				break
			}
			if !math.IsInf(full, 1) {
				for k := range x {
					x[k] += step * z[k]
				}
			}
			active = append(active[:drop], active[drop+1:]...)
		}
	}
	return x, false // did not settle: not known to happen; never a silent answer
}

const (
	dependent = 1e-12 // of its own length squared: what is left of a normal that the others already span
	kept      = 1e-8  // how well a constraint of unit length is kept
)

// taken is a constraint that is taken up: turned so that it reads c'x >= b, and its multiplier.
type taken struct {
	halfSpace
	row int
	u   float64
}

// unitRows are the constraints with normals of length one.
func (q quadratic) unitRows() []halfSpace {
	out := make([]halfSpace, len(q.rows))
	for i, r := range q.rows {
		out[i] = r
		if l := norm(r.c); l > 0 {
			out[i] = halfSpace{scaled(r.c, 1/l), r.b / l}
		}
	}
	return out
}

// worst is the constraint that x breaks worst, an equality before all others.
func (q quadratic) worst(rows []halfSpace, x []float64, active []taken) (next taken, found bool) {
	worst := -kept / 10
	for i, r := range rows {
		if slices.ContainsFunc(active, func(a taken) bool { return a.row == i }) {
			continue
		}
		gap, turned := dot(r.c, x)-r.b, r
		if i < q.equal && gap > 0 {
			gap, turned = -gap, halfSpace{scaled(r.c, -1), -r.b}
		}
		if gap < worst {
			worst, next, found = gap, taken{turned, i, 0}, true
			if i < q.equal {
				return next, true
			}
		}
	}
	return next, found
}

// meets reports whether x keeps every constraint.
func (q quadratic) meets(rows []halfSpace, x []float64) bool {
	for i, r := range rows {
		gap := dot(r.c, x) - r.b
		if gap < -kept || i < q.equal && gap > kept {
			return false
		}
	}
	return true
}

// settle is the least on the constraints taken up; it sets their multipliers.
func (q quadratic) settle(active []taken) []float64 {
	n := len(q.a)
	rhs := append(make([]float64, 0, n+len(active)), q.a...)
	for _, a := range active {
		rhs = append(rhs, a.b)
	}
	y := linear(q.bordered(active), rhs)
	for j := range active {
		active[j].u = -y[n+j]
	}
	return y[:n]
}

// direction gives the way to go in x and in the multipliers when a new normal is taken up: z = H n
// and r = N* n of the paper, from the bordered system of the constraints taken up.
func (q quadratic) direction(active []taken, normal []float64) (z, r []float64) {
	n := len(q.a)
	rhs := make([]float64, n+len(active))
	copy(rhs, normal)
	y := linear(q.bordered(active), rhs)
	return y[:n], y[n:]
}

// bordered is the matrix [G N; N' 0] of the constraints taken up.
func (q quadratic) bordered(active []taken) [][]float64 {
	n := len(q.a)
	k := square(n + len(active))
	for i := range q.g {
		copy(k[i], q.g[i])
	}
	for j, a := range active {
		for i, c := range a.c {
			k[i][n+j], k[n+j][i] = c, c
		}
	}
	return k
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
