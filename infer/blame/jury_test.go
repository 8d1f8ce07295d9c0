package blame

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"halfwater/dynamics"
	"halfwater/infer/fit"
)

// plainScales weigh as scales do, in the plain way: whole matrices, factored anew for each charge.
type plainScales struct {
	scales
	cov *mat.SymDense
}

func plainly(t *testing.T, readings []fit.Reading, sight fit.Sight) *plainScales {
	n := len(readings)
	s := &plainScales{
		scales: scales{readings: readings, seen: sight.Seen, mean: slices.Clone(sight.Mean), odd: make([]bool, n), times: make([]float64, n), weight: 1},
		cov:    mat.NewSymDense(n, nil),
	}
	for i := range n {
		s.times[i] = 1
		for k := range i + 1 {
			s.cov.SetSym(i, k, sight.Cov[i][k])
		}
	}
	s.settle(t)
	return s
}

func (s *plainScales) settle(t *testing.T) {
	n := len(s.readings)
	s.at, s.wide, s.own = make([]float64, n), make([]float64, n), make([]float64, n)
	sum := mat.NewSymDense(n, nil)
	sum.CopySym(s.cov)
	for i := range n {
		s.own[i] = s.cov.At(i, i)
		if !s.number(i) {
			t.Fatal("no number")
		}
		sum.SetSym(i, i, s.own[i]+s.wide[i])
	}
	s.inverse = inverseOf(t, sum)
	s.scales.settle()
}

func inverseOf(t *testing.T, sum *mat.SymDense) [][]float64 {
	var root mat.Cholesky
	var inverse mat.SymDense
	if !root.Factorize(sum) || root.InverseTo(&inverse) != nil {
		t.Fatal("no inverse")
	}
	n := sum.SymmetricDim()
	out := make([][]float64, n)
	for i := range out {
		for k := range n {
			out[i] = append(out[i], inverse.At(i, k))
		}
	}
	return out
}

// found takes a charge as proven, in place.
func (s *plainScales) found(t *testing.T, c *charge) {
	for a, i := range c.lines {
		s.odd[i] = s.odd[i] || c.odd
		if c.times != 0 {
			s.times[i] *= c.times
		}
		for b, k := range c.lines[:a+1] {
			if c.sd > 0 {
				s.cov.SetSym(i, k, s.cov.At(i, k)+c.sd*c.sd*c.loads[a]*c.loads[b])
			}
		}
	}
	for i, by := range c.shift {
		s.mean[i] += by
		for k := range i + 1 {
			s.cov.SetSym(i, k, s.cov.At(i, k)+square(value("about"))*by*c.shift[k])
		}
	}
	s.settle(t)
}

func (s *plainScales) judge(t *testing.T, group []int, c *charge) float64 {
	k := len(group)
	off := slices.Clone(s.off)
	for i, by := range c.shift {
		off[i] -= by
	}
	pull := make([]float64, len(off))
	whole := 0.0
	for i, row := range s.inverse {
		for j, x := range row {
			pull[i] += x * off[j]
		}
		whole += off[i] * pull[i]
	}
	inner := mat.NewSymDense(k, nil)
	for a, i := range group {
		for b := range a + 1 {
			inner.SetSym(a, b, s.inverse[i][group[b]])
		}
	}
	cov := inverseOf(t, inner)
	mean := make([]float64, k)
	for a, i := range group {
		moved := 0.0
		for b, j := range group {
			moved += cov[a][b] * pull[j]
		}
		mean[a] = s.at[i] - moved
		whole -= pull[i] * moved
	}
	for a, i := range group {
		cov[a][a] -= s.wide[i]
		for b, j := range group {
			x, y := slices.Index(c.lines, i), slices.Index(c.lines, j)
			if x >= 0 && y >= 0 && c.sd > 0 {
				cov[a][b] += c.sd * c.sd * c.loads[x] * c.loads[y]
			}
		}
	}
	ln := -whole / 2
	for a, i := range group {
		charged, times := slices.Contains(c.lines, i), s.times[i]
		if charged && c.times != 0 {
			times *= c.times
		}
		if s.odd[i] {
			continue
		}
		if charged && c.odd {
			ln += oddly(&s.readings[i], mean[a], math.Max(cov[a][a], 0))
			continue
		}
		more, slope, curve := s.readings[i].Chance(mean[a], math.Max(cov[a][a], 0), times, s.weight)
		ln += more
		with := slices.Clone(cov[a])
		for b, x := range with {
			mean[b] += x * slope
			for d, y := range with {
				cov[b][d] += x * y * curve
			}
		}
	}
	return ln
}

// TestJuryJudgesAsThePlainWay: groups that grow reading by reading, and inverses that are mended when something is
// found, say what whole matrices say that are factored anew.
func TestJuryJudgesAsThePlainWay(t *testing.T) {
	q, post := asked(t)
	which := heard(q)
	sight := q.Sight(post, which)
	fast, ok := scalesOf(q.Readings, sight)
	if !ok || len(which) != len(q.Readings) {
		t.Fatal("does not settle")
	}
	slow := plainly(t, q.Readings, sight)
	c := courtOf(q, post, which, fast)
	all := append(slices.Clone(c.charges), c.otherwise(&c.charges[len(q.Readings)/2])...)
	same := func(what string, i int, got, want float64) {
		if math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("%s, charge %d of %s: %.9g, in the plain way %.9g", what, i, all[i].code, got, want)
		}
	}
	group := all[len(q.Readings)/2].lines
	round := func(what string) {
		weights := c.weigh()
		for i := range all {
			its := all[i].lines
			if its == nil {
				its = group
			}
			want := slow.judge(t, its, &all[i]) - slow.judge(t, its, &charge{})
			same(what, i, c.scales.told(its, &all[i]), want)
			if i < len(weights) {
				same(what+", by families", i, weights[i], math.Log(all[i].prior)+want)
			}
		}
	}
	round("at first")
	for _, kind := range []func(*charge) bool{
		func(c *charge) bool { return c.odd },
		func(c *charge) bool { return c.sd > 0 && len(c.lines) > 3 },
		func(c *charge) bool { return c.times > 1 },
		func(c *charge) bool { return c.shift != nil },
	} {
		i := slices.IndexFunc(all, func(c charge) bool { return kind(&c) })
		if i < 0 {
			t.Fatal("no such charge")
		}
		if c.scales, ok = c.scales.found(&all[i]); !ok {
			t.Fatal("does not settle")
		}
		slow.found(t, &all[i])
		round("when " + all[i].code + " is found")
	}
}

// TestRetellingIsARunOfAnotherCourse: what is told again from a day on is what the whole other course gives.
func TestRetellingIsARunOfAnotherCourse(t *testing.T) {
	q, post := asked(t)
	z := post.Mode
	r := q.Retell(z)
	dose := dynamics.Water{Na: 1, Alk: 1, DIC: 1}
	fourth := slices.IndexFunc(q.Course.Events, func(e dynamics.Event) bool { return e.Change == 4 })
	ways := []fit.Otherwise{
		dosed(q.Course, 0, dose, 2), dosed(q.Course, 30.3, dose, 2), toppedUp(q.Course, 51, 0.1), resized(q.Course.Events[fourth].Day, fourth, 2),
	}
	for w, shift := range r.With(ways) {
		other, course := q.Problem, *q.Course
		course.Events, course.Pieces = slices.Clone(course.Events), slices.Clone(course.Pieces)
		ways[w].Do(&course)
		other.Course = &course
		far := 0.0
		for i, seen := range other.Seen(z) {
			far = math.Max(far, math.Abs(shift[i]))
			if got := r.Seen[i] + shift[i]; math.Abs(got-seen) > 1e-12*(1+math.Abs(seen)) {
				t.Errorf("way %d, reading %d: %.9g, run whole %.9g", w, i, got, seen)
			}
		}
		if far < 1e-3 {
			t.Errorf("way %d does nothing", w)
		}
	}
}
