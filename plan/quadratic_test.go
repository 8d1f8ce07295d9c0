package plan

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// simplex draws a least-squares problem over shares: n waters, m measurands, a store limit on some
// of the waters that leaves at least one way to fill the vessel.
func simplex(t *rapid.T) (q quadratic, caps []float64) {
	n := rapid.IntRange(2, 4).Draw(t, "waters")
	m := rapid.IntRange(1, 4).Draw(t, "measurands")
	q.g, q.a = make([][]float64, n), make([]float64, n)
	for i := range n {
		q.g[i] = make([]float64, n)
	}
	for range m {
		row := make([]float64, n)
		for i := range row {
			row[i] = rapid.Float64Range(0, 20).Draw(t, "level")
		}
		want := rapid.Float64Range(-5, 25).Draw(t, "wanted")
		for i := range n {
			q.a[i] += row[i] * want
			for j := range n {
				q.g[i][j] += row[i] * row[j]
			}
		}
	}
	q.rows, q.equal = []halfSpace{{ones(n), 1}}, 1
	left := 1.0
	for i := range n {
		q.g[i][i] += 1e-4
		c := make([]float64, n)
		c[i] = 1
		q.rows = append(q.rows, halfSpace{c, 0})
		limit := 1.0
		if i < n-1 && rapid.Bool().Draw(t, "limited") {
			limit = rapid.Float64Range(0, 1).Draw(t, "store")
			q.rows = append(q.rows, halfSpace{scaled(c, -1), -limit})
		}
		caps = append(caps, limit)
		left -= limit
	}
	_ = left // the last water is never limited, so that there is always a way
	return q, caps
}

func ones(n int) []float64 {
	o := make([]float64, n)
	for i := range o {
		o[i] = 1
	}
	return o
}

func (q quadratic) at(x []float64) float64 {
	s := -dot(q.a, x)
	for i := range x {
		s += 0.5 * x[i] * dot(q.g[i], x)
	}
	return s
}

// Against every point of a grid over the shares: none may be better.
func TestQuadraticBeatsEveryGridPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, caps := simplex(t)
		x, ok := q.solve()
		if !ok {
			t.Fatalf("no answer to %+v", q)
		}
		best := q.at(x)
		const steps = 12
		var walk func(f []float64, left int)
		walk = func(f []float64, left int) {
			if len(f) == len(caps)-1 {
				f = append(f, float64(left)/steps)
			}
			if len(f) == len(caps) {
				for i := range f {
					if f[i] > caps[i]+1e-12 {
						return
					}
				}
				if v := q.at(f); v < best-1e-7*(1+math.Abs(best)) {
					t.Fatalf("%v (%v) is better than %v (%v)", f, v, x, best)
				}
				return
			}
			for k := 0; k <= left; k++ {
				walk(append(append([]float64(nil), f...), float64(k)/steps), left-k)
			}
		}
		walk(nil, steps)
	})
}

// The conditions of Karush, Kuhn and Tucker: feasible, and the slope is a sum of the normals of
// the constraints that bind, those of inequalities with no negative weight. The weights come from
// a second road: the slope along every feasible exchange of one water for another.
func TestQuadraticMeetsItsConditions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, caps := simplex(t)
		x, ok := q.solve()
		if !ok {
			t.Fatalf("no answer to %+v", q)
		}
		sum, slope := 0.0, make([]float64, len(x))
		for i := range x {
			sum += x[i]
			slope[i] = dot(q.g[i], x) - q.a[i]
			if x[i] < -1e-9 || x[i] > caps[i]+1e-9 {
				t.Fatalf("share %d is %v, store %v", i, x[i], caps[i])
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Fatalf("shares sum to %v", sum)
		}
		scale := 1e-7 * (1 + norm(q.a))
		for i := range q.g {
			scale += 1e-7 * q.g[i][i]
		}
		for i := range x {
			for j := range x {
				if x[i] > 1e-9 && x[j] < caps[j]-1e-9 && slope[i]-slope[j] > scale {
					t.Fatalf("less of %d and more of %d is better: %v", i, j, x)
				}
			}
		}
	})
}

func TestQuadraticSaysWhenThereIsNoWay(t *testing.T) {
	q := quadratic{
		g: [][]float64{{1, 0}, {0, 1}}, a: []float64{1, 1}, equal: 1,
		rows: []halfSpace{{[]float64{1, 1}, 1}, {[]float64{-1, 0}, -0.3}, {[]float64{0, -1}, -0.3}},
	}
	if x, ok := q.solve(); ok {
		t.Errorf("two stores of 0.3 fill a vessel of 1: %v", x)
	}
}

// Rows of every size, as salts and steps bring them, in hundredths (no test reads finer, and normals
// that are parallel to within one part in a million count as one): an answer always keeps them, and
// "no way" is said only when a fine grid finds none either.
func TestQuadraticWithRowsOfEverySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		between := func(lo, hi float64, name string) float64 {
			return float64(rapid.IntRange(int(100*lo), int(100*hi)).Draw(t, name)) / 100
		}
		q := quadratic{g: square(3), a: make([]float64, 3), equal: 1, rows: []halfSpace{{[]float64{1, 1, 0}, 1}}}
		for range 2 {
			row := []float64{between(0, 20, "a"), between(0, 1, "b"), between(0, 6, "salt")}
			q.add(row, between(0, 12, "want"), 1)
		}
		for i := range 3 {
			q.g[i][i] += tie
			q.rows = append(q.rows, halfSpace{unit(3, i, 1), 0})
		}
		for _, size := range []float64{1, 600} {
			row := []float64{size * between(0, 1, "c"), size * between(0, 0.1, "d"), size * between(0, 0.5, "e")}
			lo := size * between(0, 1, "lo")
			q.rows = append(q.rows, halfSpace{row, lo}, halfSpace{scaled(row, -1), -lo - size*between(0, 0.5, "width")})
		}
		x, ok := q.solve()
		rows := q.unitRows()
		feasible := func(x []float64, slack float64) bool {
			for i, r := range rows {
				gap := dot(r.c, x) - r.b
				if gap < -slack || i < q.equal && gap > slack {
					return false
				}
			}
			return true
		}
		if ok && !feasible(x, 1e-7) {
			t.Fatalf("%v does not keep its constraints", x)
		}
		for f := 0.0; f <= 1; f += 0.04 {
			for s := 0.0; s <= 4; s += 0.04 {
				y := []float64{f, 1 - f, s}
				switch {
				case !feasible(y, 0):
				case !ok:
					t.Fatalf("there is a way: %v", y)
				case q.at(y) < q.at(x)-1e-6*(1+math.Abs(q.at(x))):
					t.Fatalf("%v is better than %v", y, x)
				}
			}
		}
	})
}
