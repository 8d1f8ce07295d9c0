package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"halfwater/dynamics"
)

// TestResampled: of each draw as many as it counts, one more or less; what is denser than most tells no more than most; what is
// no solution, or no number, is left out; where nothing is known all stay.
func TestResampled(t *testing.T) {
	from := func(nats ...float64) []int {
		draws := make([]solution, len(nats))
		for i, x := range nats {
			draws[i] = solution{over: x, left: float64(i)}
		}
		counts := make([]int, len(nats))
		for _, d := range resampled(draws) {
			counts[int(d.left)]++
		}
		return counts
	}
	none := math.Inf(-1)
	for _, c := range []struct {
		nats []float64
		want []int
	}{
		{[]float64{1, 1, 1, 1}, []int{1, 1, 1, 1}},
		{[]float64{none, 3, math.NaN(), 3}, []int{0, 2, 0, 2}},
		{[]float64{none, none}, []int{1, 1}},
		{[]float64{0, -math.Ln2, 0, -math.Ln2, 0, -math.Ln2, 0, -math.Ln2, 0}, nil},
		{[]float64{0, 0, 0, 40, 0, 0, 0}, nil},
	} {
		got, sum := from(c.nats...), 0.0
		for i := range got {
			if c.want != nil && got[i] != c.want[i] {
				t.Errorf("%v: counts %v, not %v", c.nats, got, c.want)
				break
			}
			if w := counts(c.nats[i]); !math.IsNaN(w) {
				sum += w
			}
		}
		for i, n := range got {
			if share := float64(len(got)) * counts(c.nats[i]) / sum; c.want == nil && math.Abs(float64(n)-share) > 1 {
				t.Errorf("%v: %d of draw %d, for %.2f", c.nats, n, i, share)
			}
		}
	}
}

// TestStraightDrawsCountAlike: where effects are everywhere the same, draws lie as the posterior does.
func TestStraightDrawsCountAlike(t *testing.T) {
	p := fed()
	see := func(q *dynamics.Params, _ *dynamics.State) float64 {
		return p.Priors[dynamics.Stone].Z(q[dynamics.Stone]) + p.Priors[dynamics.Leach].Z(q[dynamics.Leach])/2
	}
	for _, shown := range []float64{0.4, 1.1} {
		p.Readings = append(p.Readings, Reading{Day: 3, Own: see, Lo: shown, Hi: shown, SD: 0.3, Classes: 1, Point: true, Lot: -1, Wander: -1})
	}
	b := newBench(&p)
	m := b.climb(mode{z: make([]float64, b.n)}, truly)
	root, _ := b.weighed(&m)
	k := kernelOf(m.slopes.of, root, 1)
	m.lean = b.leanAbout(Watch{}, &m, k, true)
	d := &drawer{bench: b, about: about{mode: &m, kernel: k}, base: b.asKits(m.z, &m.run), shift: k.shrink(m.lean.by, nil)}
	r := rand.New(rand.NewPCG(1, 3))
	var work run
	first := math.NaN()
	for i := range 50 {
		scores, noise := make([]float64, b.n), []float64{r.NormFloat64(), r.NormFloat64()}
		for j := range scores {
			scores[j] = r.NormFloat64() + m.lean.by[j]
		}
		s := d.shake(scores, noise)
		found := s.solve(append([]float64(nil), s.straight...), make([]float64, b.n), &work, still)
		if i == 0 {
			first = found.over
		}
		if !(math.Abs(found.over-first) < 0.01) {
			t.Errorf("draw %d counts %.3f nats, the first one %.3f", i, found.over, first)
		}
	}
}

// TestBentDrawsCount: x + x*x/3 is read as 0.5 with an error of sd 0.7, x being standard normal beforehand. Solutions x lie with
// the density of the straight ones that they come from times 1 + J w w g'(x), J being g' at the mode; what a draw counts for by
// the slope of the logarithm of that alone is nearer to what it counts for by all of it than without.
func TestBentDrawsCount(t *testing.T) {
	p := fed()
	const sd = 0.7
	see := func(q *dynamics.Params, _ *dynamics.State) float64 {
		x := p.Priors[dynamics.Stone].Z(q[dynamics.Stone])
		return x + x*x/3
	}
	p.Readings = []Reading{{Day: 3, Own: see, Lo: 0.5, Hi: 0.5, SD: sd, Classes: 1, Point: true, Lot: -1, Wander: -1}}
	b := newBench(&p)
	m := b.climb(mode{z: make([]float64, b.n)}, truly)
	root, _ := b.weighed(&m)
	k := kernelOf(m.slopes.of, root, 1)
	m.lean = b.leanAbout(Watch{}, &m, k, true)
	d := &drawer{bench: b, about: about{mode: &m, kernel: k}, base: b.asKits(m.z, &m.run), shift: k.shrink(m.lean.by, nil)}
	r := rand.New(rand.NewPCG(1, 4))
	var work run
	var with, without []float64
	for range 200 {
		scores, noise := make([]float64, b.n), []float64{r.NormFloat64()}
		for j := range scores {
			scores[j] = r.NormFloat64() + m.lean.by[j]
		}
		s := d.shake(scores, noise)
		found := s.solve(append([]float64(nil), s.straight...), make([]float64, b.n), &work, 1e-4)
		if found.left > 0.01 {
			continue
		}
		b.live(found.Z, &work)
		came := less(less(s.straight, s.lack(found.from, b.asKits(found.Z, &work))), s.shift)
		slope := m.slopes.of[0][dynamics.Stone] * square(root[0]) * (1 + 2*found.Z[dynamics.Stone]/3)
		exact := found.weight - k.normal(came) - math.Log1p(slope)
		with = append(with, found.over-exact)
		without = append(without, found.weight-k.normal(came)-exact)
	}
	if a, c := spreadOf(with), spreadOf(without); len(with) < 100 || a > c/2 {
		t.Errorf("%d draws: off by %.3f nats with the slope, %.3f without", len(with), a, c)
	}
}

func spreadOf(x []float64) float64 {
	sum, squares, n := 0.0, 0.0, float64(len(x))
	for _, v := range x {
		sum, squares = sum+v, squares+v*v
	}
	return math.Sqrt(squares/n - sum*sum/n/n)
}
