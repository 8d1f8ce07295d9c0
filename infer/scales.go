package infer

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"halfwater/infer/fit"
)

// scales weigh who is to blame for what does not fit. What the kits see is taken as normal, linear about the
// mode; the readings that a charge is about are judged one after the other by what they really say, a class
// with its ends.
type scales struct {
	readings []fit.Reading
	seen     []float64 // by each kit at the mode
	mean     []float64 // of what each is to see
	cov      *mat.SymDense

	// What was found to be so: by reading.
	odd   []bool
	times []float64 // the number shown stands for so many times as much

	at, wide []float64 // the reading as a number with a variance
	inverse  mat.SymDense
	off      mat.VecDense // of the number from what was to be seen
	pull     mat.VecDense // inverse times off
	weight   float64
}

// unheard is the variance of a reading that says nothing, against that of what is to be seen.
const unheard = 1e6

// newScales takes the readings of a question with those numbers, from a posterior of all of them.
func newScales(q *question, post *fit.Posterior, which []int) (*scales, bool) {
	sight, seen := q.Sight(post), q.Seen(post.Mode)
	n := len(which)
	s := &scales{
		cov: mat.NewSymDense(n, nil), odd: make([]bool, n), times: make([]float64, n), at: make([]float64, n), wide: make([]float64, n), weight: 1,
	}
	for a, i := range which {
		s.readings, s.seen, s.mean = append(s.readings, q.Readings[i]), append(s.seen, seen[i]), append(s.mean, sight.Mean[i])
		s.times[a] = 1
		for b, k := range which[:a+1] {
			s.cov.SetSym(a, b, sight.Cov[i][k])
		}
	}
	return s, s.settle()
}

// heard are the readings that are weighed: of each lot, bottle or pen the last, and of the many before them some
// that stand for all.
func heard(q *question) []int {
	const last, before = 40, 20
	byLot := map[int][]int{}
	var out []int
	for i := range q.Readings {
		l := q.Readings[i].Lot
		byLot[l] = append(byLot[l], i)
	}
	for l, its := range byLot {
		if early := len(its) - last; l >= 0 && early > before {
			for k := range before {
				out = append(out, its[k*early/before])
			}
			its = its[early:]
		}
		out = append(out, its...)
	}
	slices.Sort(out)
	return out
}

// settle makes ready for judging; false when the numbers do not bear it.
func (s *scales) settle() bool {
	n := len(s.readings)
	sum := mat.NewSymDense(n, nil)
	sum.CopySym(s.cov)
	for i := range n {
		s.at[i], s.wide[i] = s.readings[i].Number(s.seen[i], s.times[i], s.weight)
		if s.odd[i] {
			s.wide[i] = unheard * (1 + s.cov.At(i, i))
		}
		if bad(s.at[i]) || bad(s.mean[i]) {
			return false
		}
		sum.SetSym(i, i, s.cov.At(i, i)+s.wide[i])
	}
	var root mat.Cholesky
	if !root.Factorize(sum) || root.InverseTo(&s.inverse) != nil {
		return false
	}
	s.off = *mat.NewVecDense(n, nil)
	for i := range n {
		s.off.SetVec(i, s.at[i]-s.mean[i])
	}
	s.pull = mat.VecDense{}
	s.pull.MulVec(&s.inverse, &s.off)
	return true
}

func bad(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }

// found takes a charge as proven.
func (s *scales) found(c *charge) (*scales, bool) {
	n := len(s.readings)
	t := *s
	t.odd, t.times = append([]bool(nil), s.odd...), append([]float64(nil), s.times...)
	t.mean, t.at, t.wide = append([]float64(nil), s.mean...), make([]float64, n), make([]float64, n)
	t.inverse = mat.SymDense{}
	t.cov = mat.NewSymDense(n, nil)
	t.cov.CopySym(s.cov)
	for a, i := range c.lines {
		t.odd[i] = t.odd[i] || c.odd
		if c.times != 0 {
			t.times[i] *= c.times
		}
		for b, k := range c.lines[:a+1] {
			if c.sd > 0 {
				t.cov.SetSym(i, k, t.cov.At(i, k)+c.sd*c.sd*c.loads[a]*c.loads[b])
			}
		}
	}
	about := square(value("blame.about"))
	for i, by := range c.shift { // of a size that is a guess
		t.mean[i] += by
		for k := range i + 1 {
			t.cov.SetSym(i, k, t.cov.At(i, k)+about*by*c.shift[k])
		}
	}
	return &t, t.settle()
}

// told gives the logarithm of how much likelier the book is under a charge than when nothing is wrong, judged by a
// group of readings that those of the charge are among.
func (s *scales) told(group []int, c *charge) float64 { return s.judge(group, c) - s.judge(group, nil) }

// judge gives the logarithm of the chance of the book under a charge (nil: nothing is wrong), up to what is
// the same for all charges that are judged by the same group of readings. The lines of the charge must be
// among the group.
func (s *scales) judge(group []int, c *charge) float64 {
	if c == nil {
		c = &charge{}
	}
	n, k := len(s.readings), len(group)
	off, pull := &s.off, &s.pull
	if c.shift != nil {
		off, pull = mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
		off.SubVec(&s.off, mat.NewVecDense(n, c.shift))
		pull.MulVec(&s.inverse, off)
	}

	// What the others let us expect of the group.
	inner, pulled := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
	for a, i := range group {
		pulled.SetVec(a, pull.AtVec(i))
		for b := range a + 1 {
			inner.SetSym(a, b, s.inverse.At(i, group[b]))
		}
	}
	var root mat.Cholesky
	var v mat.SymDense
	if !root.Factorize(inner) || root.InverseTo(&v) != nil {
		return math.Inf(-1)
	}
	var moved mat.VecDense
	moved.MulVec(&v, pulled)
	ln := -0.5 * (mat.Dot(off, pull) - mat.Dot(pulled, &moved))

	mu, cov := make([]float64, k), make([][]float64, k)
	charged := make([]int, n) // 1 + place among the lines of the charge
	for a, i := range c.lines {
		charged[i] = a + 1
	}
	for a, i := range group {
		mu[a] = s.at[i] - moved.AtVec(a)
		cov[a] = make([]float64, k)
		for b, j := range group {
			cov[a][b] = v.At(a, b)
			if a == b {
				cov[a][b] -= s.wide[i]
			}
			if x, y := charged[i], charged[j]; x > 0 && y > 0 && c.sd > 0 {
				cov[a][b] += c.sd * c.sd * c.loads[x-1] * c.loads[y-1]
			}
		}
	}
	for a, i := range group {
		r := &s.readings[i]
		times := s.times[i]
		if charged[i] > 0 && c.times != 0 {
			times *= c.times
		}
		if s.odd[i] || charged[i] > 0 && c.odd {
			ln -= math.Log(float64(max(r.Classes, 2)))
			continue
		}
		more, slope, curve := r.Chance(mu[a], math.Max(cov[a][a], 0), times, s.weight)
		ln += more
		learn(mu, cov, a, slope, curve)
	}
	return ln
}

// learn narrows a normal by a reading of its element a, given the slopes of the log chance with the mean.
func learn(mu []float64, cov [][]float64, a int, slope, curve float64) {
	with := append([]float64(nil), cov[a]...)
	for i, x := range with {
		if x == 0 {
			continue
		}
		mu[i] += x * slope
		for j, y := range with {
			cov[i][j] += x * y * curve
		}
	}
}
