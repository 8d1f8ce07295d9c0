package fit

import (
	"errors"
	"math"
	"math/rand/v2"

	"halfwater/dynamics"
)

// Posterior is what a fit found: equally likely histories.
type Posterior struct {
	Draws []History
	Mode  []float64 // scores
	// Spread is, by score, the standard deviation over the draws: 1 is nothing learnt.
	Spread []float64
	Weight float64 // log posterior at the mode, up to a constant
	Other  float64 // by how many nats another place to which the search came is worse; +Inf when there was none
	Rounds int     // of the climb
	Sure   bool    // the climb came to rest
	Moved  float64 // share of moves taken
}

// History is one way in which it may have been.
type History struct {
	Z      []float64
	Params dynamics.Params
	Dev    dynamics.Deviations
	End    dynamics.State
	// Wander is the departure of each quantity at the end.
	Wander []float64
	weight float64
}

// NoReadingFits says that no start gave a history under which the readings have a chance.
var ErrNoHistory = errors.New("no history of this enclosure fits the book; look for a line with an amount that cannot be")

// Effort is how much is spent on a posterior.
type Effort struct {
	Draws   int
	Moves   int // exact moves per draw
	Scouts  int // draws of the prior, the best of which is the second start
	Workers int
}

// Solve finds the posterior. It is a pure function of the problem, the effort and the seed.
func (p *Problem) Solve(e Effort, seed uint64) (Posterior, error) {
	b := newBench(p)
	best := b.climb(make([]float64, b.n))
	other := math.Inf(1)
	if second, ok := b.scout(e.Scouts, seed); ok {
		m := b.climb(second)
		if m.weight > best.weight {
			m, best = best, m
		}
		if d := best.weight - m.weight; apart(best.z, m.z) > 1 {
			other = d
		}
	}
	if math.IsInf(best.weight, -1) || math.IsNaN(best.weight) {
		return Posterior{}, ErrNoHistory
	}
	h, _ := b.curvature(&best)
	root, ok := h.root()
	if !ok {
		return Posterior{}, ErrNoHistory
	}
	post := Posterior{Mode: best.z, Weight: best.weight, Other: other, Rounds: best.rounds, Sure: best.done}
	b.draw(&post, root, e, seed)
	return post, nil
}

// apart is the distance of two places in standard deviations of the prior.
func apart(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += (a[i] - b[i]) * (a[i] - b[i])
	}
	return math.Sqrt(sum)
}

// scout is the best of some draws of the prior.
func (b *bench) scout(n int, seed uint64) ([]float64, bool) {
	zs, weights := make([][]float64, n), make([]float64, n)
	each(n, func(i int, r *run) {
		rnd := rand.New(rand.NewPCG(seed, 1<<32+uint64(i)))
		z := make([]float64, b.n)
		for j := range int(dynamics.Unknowns) + len(b.Starts) {
			z[j] = rnd.NormFloat64()
		}
		b.live(z, r)
		zs[i], weights[i] = z, b.weight(z, r)
	})
	best := -1
	for i, w := range weights {
		if best < 0 || w > weights[best] {
			best = i
		}
	}
	if best < 0 || math.IsInf(weights[best], -1) || math.IsNaN(weights[best]) {
		return nil, false
	}
	return zs[best], true
}

// draw takes draws from the normal about the mode and moves each a few times towards the exact
// posterior: z' = m + sqrt(1-b^2)(z-m) + b xi, which leaves the normal as it is, taken with the ratio of
// the exact weight to it (generalised preconditioned Crank-Nicolson).
func (b *bench) draw(post *Posterior, root *square, e Effort, seed uint64) {
	post.Draws = make([]History, e.Draws)
	taken := make([]int, e.Draws)
	bold := [...]float64{0.5, 0.25, 0.9}
	each(e.Draws, func(i int, r *run) {
		rnd := rand.New(rand.NewPCG(seed, uint64(i)))
		h := &post.Draws[i]
		normal := func() (d []float64, ln float64) {
			xi := make([]float64, b.n)
			for j := range xi {
				xi[j] = rnd.NormFloat64()
				ln -= xi[j] * xi[j] / 2
			}
			return root.back(xi), ln
		}
		d, ln := normal()
		z := make([]float64, b.n)
		for try := 0; ; try++ {
			for j := range z {
				z[j] = post.Mode[j] + d[j]
			}
			b.live(z, r)
			h.take(b, z, r)
			if !math.IsInf(h.weight, -1) && !math.IsNaN(h.weight) || try > 3 {
				break
			}
			d, ln = normal()
		}
		for k := range e.Moves {
			beta := bold[k%len(bold)]
			keep := math.Sqrt(1 - beta*beta)
			xi, _ := normal()
			next, nextLn := make([]float64, b.n), 0.0
			for j := range next {
				next[j] = keep*d[j] + beta*xi[j]
			}
			nextLn = root.normal(next)
			for j := range z {
				z[j] = post.Mode[j] + next[j]
			}
			b.live(z, r)
			w := b.weight(z, r)
			if math.Log(rnd.Float64()) < (w-nextLn)-(h.weight-ln) {
				d, ln = next, nextLn
				h.take(b, z, r)
				taken[i]++
			}
		}
	})
	post.Spread = make([]float64, b.n)
	for j := range post.Spread {
		sum, squares := 0.0, 0.0
		for i := range post.Draws {
			x := post.Draws[i].Z[j]
			sum += x
			squares += x * x
		}
		n := float64(len(post.Draws))
		post.Spread[j] = math.Sqrt(math.Max(squares/n-sum*sum/n/n, 0))
	}
	if e.Moves > 0 {
		all := 0
		for _, t := range taken {
			all += t
		}
		post.Moved = float64(all) / float64(e.Moves*e.Draws)
	}
}

// normal is the log density of a departure from the mode under the normal there, up to a constant.
func (s *square) normal(d []float64) float64 {
	sum := 0.0
	for j := range s.n { // L' d
		x := 0.0
		for i := j; i < s.n; i++ {
			x += s.x[i*s.n+j] * d[i]
		}
		sum -= x * x / 2
	}
	return sum
}

// take keeps a run as the history.
func (h *History) take(b *bench, z []float64, r *run) {
	h.Z = append(h.Z[:0], z...)
	h.Params = r.params
	h.Dev = dynamics.Deviations{
		Feed: append([]float64(nil), r.dev.Feed...), Uptake: append([]float64(nil), r.dev.Uptake...),
		Tap: append([]float64(nil), r.dev.Tap...), Litres: append([]float64(nil), r.dev.Litres...), Loss: append([]float64(nil), r.dev.Loss...),
	}
	h.End = r.end
	h.Wander = h.Wander[:0]
	for k := range b.Wanders {
		h.Wander = append(h.Wander, b.wander(z, k, b.Course.Days))
	}
	h.weight = b.weight(z, r)
}
