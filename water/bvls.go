package water

import "math"

// boundedLeastSquares finds x with lo <= x <= hi that makes |A x - b| least, by the method of
// Stark and Parker 1995 (Comput. Stat. 10:129-141): an active set, each inner problem solved by
// Householder reflections. A has rows of equal length. Bounds may be infinite above.
func boundedLeastSquares(a [][]float64, b, lo, hi []float64) []float64 {
	n := len(lo)
	x := append([]float64(nil), lo...)
	free := make([]bool, n)
	barred := make([]bool, n) // freed and back at its bound at once, since the last real move
	held := func(j int) bool { return hi[j]-lo[j] <= 1e-12*(1+math.Abs(lo[j])) }
	for range 20*n + 20 {
		grad := gradient(a, b, x) // of the misfit with the sign that points downhill
		pick, steep := -1, 1e-10
		for j := range n {
			if free[j] || barred[j] || held(j) {
				continue
			}
			if x[j] <= lo[j] && grad[j] > steep || x[j] >= hi[j] && -grad[j] > steep {
				pick, steep = j, math.Abs(grad[j])
			}
		}
		if pick < 0 {
			return x
		}
		free[pick] = true
		for moved := false; ; moved = true {
			z, ok := solveFree(a, b, x, free)
			if !ok {
				free[pick] = false
				barred[pick] = true
				break
			}
			// How far towards z until a bound stops it.
			alpha, stop := 1.0, -1
			for j := range n {
				if !free[j] {
					continue
				}
				if z[j] < lo[j] {
					if f := (lo[j] - x[j]) / (z[j] - x[j]); f < alpha {
						alpha, stop = f, j
					}
				} else if z[j] > hi[j] {
					if f := (hi[j] - x[j]) / (z[j] - x[j]); f < alpha {
						alpha, stop = f, j
					}
				}
			}
			if stop == pick && !moved && alpha <= 0 { // rounding: it wanted out at once
				free[pick] = false
				barred[pick] = true
				break
			}
			if alpha > 0 {
				clear(barred)
			}
			for j := range n {
				if free[j] {
					x[j] = min(max(x[j]+alpha*(z[j]-x[j]), lo[j]), hi[j])
				}
			}
			if stop < 0 {
				break
			}
			for j := range n {
				if !free[j] {
					continue
				}
				if j == stop && z[j] < lo[j] || x[j] <= lo[j] {
					x[j], free[j] = lo[j], false
				} else if j == stop || x[j] >= hi[j] {
					x[j], free[j] = hi[j], false
				}
			}
		}
	}
	return x
}

// gradient is A^T (b - A x).
func gradient(a [][]float64, b, x []float64) []float64 {
	g := make([]float64, len(x))
	for i, row := range a {
		left := b[i]
		for j, v := range row {
			left -= v * x[j]
		}
		for j, v := range row {
			g[j] += v * left
		}
	}
	return g
}

// solveFree solves the unbounded problem in the free columns, the others held; not ok when the
// columns depend on each other.
func solveFree(a [][]float64, b, x []float64, free []bool) (z []float64, ok bool) {
	var cols []int
	for j, f := range free {
		if f {
			cols = append(cols, j)
		}
	}
	m, n := len(a), len(cols)
	if n > m {
		return nil, false
	}
	r := make([][]float64, m)
	y := make([]float64, m)
	for i := range a {
		r[i] = make([]float64, n)
		y[i] = b[i]
		for j, v := range a[i] {
			if !free[j] {
				y[i] -= v * x[j]
			}
		}
		for k, j := range cols {
			r[i][k] = a[i][j]
		}
	}
	for k := range n {
		norm, whole := 0.0, 0.0
		for i := range m {
			if i >= k {
				norm += r[i][k] * r[i][k]
			}
			whole += a[i][cols[k]] * a[i][cols[k]]
		}
		if norm <= 1e-20*whole {
			return nil, false
		}
		norm = math.Copysign(math.Sqrt(norm), r[k][k])
		v := make([]float64, m)
		for i := k; i < m; i++ {
			v[i] = r[i][k]
		}
		v[k] += norm
		vv := 0.0
		for i := k; i < m; i++ {
			vv += v[i] * v[i]
		}
		reflect := func(get func(i int) *float64) {
			dot := 0.0
			for i := k; i < m; i++ {
				dot += v[i] * *get(i)
			}
			for i := k; i < m; i++ {
				*get(i) -= 2 * dot / vv * v[i]
			}
		}
		for c := k; c < n; c++ {
			reflect(func(i int) *float64 { return &r[i][c] })
		}
		reflect(func(i int) *float64 { return &y[i] })
	}
	z = append([]float64(nil), x...)
	for k := n - 1; k >= 0; k-- {
		s := y[k]
		for c := k + 1; c < n; c++ {
			s -= r[k][c] * z[cols[c]]
		}
		z[cols[k]] = s / r[k][k]
	}
	return z, true
}
