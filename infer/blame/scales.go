package blame

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"

	"halfwater/infer/fit"
)

// scales weigh who is to blame for what does not fit. What the kits see is taken as normal, linear about the
// mode; the readings that a charge is about are judged one after the other (jury.go) by what they really say, a
// class with its ends.
type scales struct {
	readings []fit.Reading
	seen     []float64 // by each kit at the mode
	mean     []float64 // of what each is to see
	own      []float64 // variance of that

	// What was found to be so: by reading.
	odd   []bool
	times []float64 // the number shown stands for so many times as much

	at, wide []float64 // the reading as a number with a variance
	inverse  [][]float64
	off      []float64 // of the number from what was to be seen
	pull     []float64 // inverse times off
	weight   float64

	lately *jury
}

// unheard is the variance of a reading that says nothing, against that of what is to be seen.
const unheard = 1e6

// newScales takes the readings of a question with those numbers, from a posterior of all of them; false when
// the numbers do not bear it.
func newScales(q *Question, post *fit.Posterior, which []int) (*scales, bool) {
	sight := q.Sight(post, which)
	readings := make([]fit.Reading, len(which))
	for a, i := range which {
		readings[a] = q.Readings[i]
	}
	return scalesOf(readings, sight)
}

func scalesOf(readings []fit.Reading, sight fit.Sight) (*scales, bool) {
	n := len(readings)
	s := &scales{
		readings: readings, seen: sight.Seen, mean: sight.Mean, own: make([]float64, n),
		odd: make([]bool, n), times: make([]float64, n), at: make([]float64, n), wide: make([]float64, n), weight: 1,
	}
	sum := make([]float64, n*n)
	for i, row := range sight.Cov {
		s.times[i], s.own[i] = 1, row[i]
		if !s.number(i) {
			return nil, false
		}
		copy(sum[i*n:], row)
		sum[i*n+i] += s.wide[i]
	}
	var ok bool
	if s.inverse, ok = inverted(sum, n); !ok {
		return nil, false
	}
	s.settle()
	return s, true
}

// inverted is the inverse of a covariance of n numbers, by rows; what it is made from is lost.
func inverted(sum []float64, n int) ([][]float64, bool) {
	root, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: max(n, 1), Data: sum, Uplo: blas.Upper})
	if !ok {
		return nil, false
	}
	if _, ok = lapack64.Potri(root); !ok {
		return nil, false
	}
	out := rows(sum, n)
	for i, row := range out {
		for k := range i {
			row[k] = out[k][i]
		}
	}
	return out, true
}

// rows are n rows of one table.
func rows(all []float64, n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = all[i*n : (i+1)*n : (i+1)*n]
	}
	return out
}

// heard are the readings that are weighed: of each lot, bottle or pen the last, and of the many before them some
// that stand for all.
func heard(q *Question) []int {
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

// number takes a reading as a number; false when it cannot be.
func (s *scales) number(i int) bool {
	s.at[i], s.wide[i] = s.readings[i].Number(s.seen[i], s.times[i], s.weight)
	if s.odd[i] {
		s.wide[i] = unheard * (1 + s.own[i])
	}
	return !bad(s.at[i]) && !bad(s.wide[i]) && !bad(s.mean[i])
}

// settle makes ready for judging.
func (s *scales) settle() {
	s.off, s.pull, s.lately = make([]float64, len(s.at)), make([]float64, len(s.at)), nil
	floats.SubTo(s.off, s.at, s.mean)
	for i, row := range s.inverse {
		s.pull[i] = floats.Dot(row, s.off)
	}
}

func bad(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }

// found takes a charge as proven; false when the numbers do not bear it.
func (s *scales) found(c *charge) (*scales, bool) {
	n := len(s.readings)
	t := *s
	t.odd, t.times, t.own = slices.Clone(s.odd), slices.Clone(s.times), slices.Clone(s.own)
	t.mean, t.at, t.wide = slices.Clone(s.mean), make([]float64, n), make([]float64, n)
	all := make([]float64, 0, n*n)
	for _, row := range s.inverse {
		all = append(all, row...)
	}
	t.inverse = rows(all, n)

	ok := true
	if c.sd > 0 {
		shared := make([]float64, n)
		for a, i := range c.lines {
			shared[i] = c.sd * c.loads[a]
		}
		ok = t.share(shared, 1)
	}
	if c.shift != nil { // of a size that is a guess
		floats.Add(t.mean, c.shift)
		ok = ok && t.share(c.shift, square(value("about")))
	}
	for _, i := range c.lines {
		t.odd[i] = t.odd[i] || c.odd
		if c.times != 0 {
			t.times[i] *= c.times
		}
	}
	for i := range n {
		ok = ok && t.number(i)
		if by := t.wide[i] - s.wide[i]; ok && by != 0 {
			ok = t.narrow(t.inverse[i], t.inverse[i][i], by)
		}
	}
	t.settle()
	return &t, ok
}

// share adds, to the covariance, times what readings share.
func (s *scales) share(shared []float64, times float64) bool {
	pull := make([]float64, len(shared))
	for i, x := range shared {
		if x != 0 {
			s.own[i] += times * x * x
			floats.AddScaled(pull, x, s.inverse[i])
		}
	}
	return s.narrow(pull, floats.Dot(pull, shared), times)
}

// narrow makes the inverse that of a covariance with so many times u u' more in it, given what the inverse makes
// of u (Sherman and Morrison 1950).
func (s *scales) narrow(pull []float64, along, times float64) bool {
	sum := 1 + times*along
	if !(sum > 0) || bad(sum) {
		return false
	}
	pull = slices.Clone(pull)
	for i, row := range s.inverse {
		if pull[i] != 0 {
			floats.AddScaled(row, -times/sum*pull[i], pull)
		}
	}
	return true
}

// told gives the logarithm of how much likelier the book is under a charge than when nothing is wrong, judged by a
// group of readings that those of the charge are among; NaN when it cannot be told.
func (s *scales) told(group []int, c *charge) float64 {
	j := s.lately
	if j == nil || !slices.Equal(j.its, group) {
		j = s.jury(group)
		for j.take() {
		}
		s.lately = j
	}
	return j.told(c)
}
