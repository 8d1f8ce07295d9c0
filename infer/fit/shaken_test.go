package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"halfwater/dynamics"
)

// TestSolvesTheShakenProblem: x + x*x/3 is read as 0.5 with an error of sd 0.7, x being standard normal beforehand. With the
// slope of the mode held, the problem shaken by e and n has its solution where x - e + J w (w (g(x) - g(mode)) + n) = 0, x
// from the mode; it is found here by halving. The true slope is from half to twice that one, so that what is left at the
// end, in nats, may be four times what the fast way says is left, and two times in three it is next to nothing.
func TestSolvesTheShakenProblem(t *testing.T) {
	p := fed()
	const sd = 0.7
	seen := func(x float64) float64 { return x + x*x/3 }
	see := func(q *dynamics.Params, _ *dynamics.State) float64 {
		return seen(p.Priors[dynamics.Stone].Z(q[dynamics.Stone]))
	}
	p.Readings = []Reading{{Day: 3, Own: see, Lo: 0.5, Hi: 0.5, SD: sd, Classes: 1, Point: true, Lot: -1, Wander: -1}}
	b := newBench(&p)
	m := b.climb(mode{z: make([]float64, b.n)}, truly)
	root, _ := b.weighed(&m)
	k := kernelOf(m.slopes.of, root, 1)
	d := &drawer{bench: b, about: about{mode: &m, kernel: k}, base: b.asKits(m.z, &m.run)}

	r := rand.New(rand.NewPCG(1, 1))
	var work run
	at, slope, w := m.z[dynamics.Stone], m.slopes.of[0][dynamics.Stone], root[0]
	asked, near := 0, 0
	for range 100 {
		scores, noise := make([]float64, b.n), []float64{r.NormFloat64()}
		for j := range scores {
			scores[j] = r.NormFloat64()
		}
		gain := func(x float64) float64 {
			return x - scores[dynamics.Stone] + slope*w*(w*(seen(at+x)-seen(at))+noise[0])
		}
		lo, hi := -0.6-at, 5. // half the slope at the mode is left at -0.6
		if gain(lo) > 0 || gain(hi) < 0 {
			continue
		}
		for range 60 {
			if mid := (lo + hi) / 2; gain(mid) < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		s := d.shake(scores, noise)
		var h History
		from, left := s.solve(&h, append([]float64(nil), s.straight...), make([]float64, b.n), &work, 1e-4)
		asked++
		off := from[dynamics.Stone] - lo
		if math.Abs(off) < 0.02 {
			near++
		}
		if nats := off * off * (1 + square(slope*w)) / 2; nats > 4*left+1e-3 {
			t.Errorf("shaken by %.2f, %.2f: came to %.3f (%.2g nats left), the solution is %.3f, the straight one %.3f",
				scores[dynamics.Stone], noise[0], from[dynamics.Stone], left, lo, s.straight[dynamics.Stone])
		}
		if want := m.z[dynamics.Stone] + from[dynamics.Stone]; h.Z[dynamics.Stone] != want {
			t.Errorf("the history has %.3f, not %.3f", h.Z[dynamics.Stone], want)
		}
	}
	if asked < 70 || near < asked*2/3 {
		t.Errorf("%d of 100 asked, %d of them within 0.02", asked, near)
	}
}
