package fit

import (
	"cmp"
	"errors"
	"math"
	"math/rand/v2"
	"slices"

	"halfwater/dynamics"
)

// Posterior is what a fit found: equally likely histories.
type Posterior struct {
	Draws []History
	Mode  []float64 // scores
	// Spread is, by score, the standard deviation over the draws: 1 is nothing learnt.
	Spread []float64
	Weight float64 // log posterior at the mode, up to a constant
	// Evidence is the logarithm of the chance of the readings over all histories near the mode, up to a
	// constant that is the same for problems that differ in readings only (Laplace).
	Evidence float64
	Other    float64 // by how many nats another place to which the search came is worse; +Inf when there was none
	Branches []Branch
	Rounds   int     // of the climb
	Sure     bool    // the climb came to rest
	Moved    float64 // share of moves taken

	shape   shape       // of the problem
	effects [][]float64 // of each score on what each kit sees at the mode
	stances []stance    // by draw
}

// History is one way in which it may have been.
type History struct {
	Z      []float64
	Params dynamics.Params
	Dev    dynamics.Deviations
	End    dynamics.State
	// Wander is the departure of each quantity at the end.
	Wander []float64
	// Truth is, by reading, what a kit without bias would have seen.
	Truth  []float64
	weight float64
}

// ErrNoHistory says that no start gave a history under which the readings have a chance.
var ErrNoHistory = errors.New("no history of this enclosure fits the book; look for a line with an amount that cannot be")

// Effort is how much is spent on a posterior.
type Effort struct {
	Draws  int
	Moves  int  // exact moves per draw
	Scouts int  // draws of the prior, the best of which is the second and the third start
	Bends  bool // how effects bend is looked at: draws lie nearer to the posterior, for the cost of at most 1300 coarse runs
	Watch
}

// The shares of the work at which its stages begin: two cores, 26 weeks with 130 readings.
const (
	climbing = 0.03
	nearing  = 0.12
	resting  = 0.25
	leaning  = 0.3
	drawing  = 0.5
)

// Solve finds the posterior. It is a pure function of the problem, the effort and the seed. Errors: [ErrNoHistory],
// [ErrStopped].
func (p *Problem) Solve(e Effort, seed uint64) (Posterior, error) {
	b := newBench(p)
	b.stop.Done = e.Done
	rough := b.strict()
	starts := []mode{{z: make([]float64, b.n)}}
	if z, ok := rough.scout(e.Part(0, climbing), e.Scouts, seed); ok {
		// The second also straight from there: a strict climb may be led astray.
		starts = append(starts, mode{z: slices.Clone(z)}, mode{z: z})
	}
	e.Part(climbing, nearing).together(starts, func(i int, m mode) mode {
		if i < 2 {
			m = rough.climb(m, strictly)
			m.run = run{}
		}
		return m
	})
	if len(starts) > 1 && apart(starts[0].z, starts[1].z) <= same {
		starts = slices.Delete(starts, 1, 2)
	}
	e.Part(nearing, resting).together(starts, func(_ int, m mode) mode { return b.climb(m, roughly) })
	slices.SortStableFunc(starts, func(m, n mode) int { return cmp.Compare(n.weight, m.weight) })
	other := math.Inf(1)
	places := starts[:1]
	for _, m := range starts[1:] {
		if apart(starts[0].z, m.z) <= same {
			continue
		}
		if worse := starts[0].weight - m.weight; worse >= rival || len(places) > 1 {
			other = min(other, worse)
		} else {
			places = []mode{starts[0], m}
		}
	}
	e.Part(resting, leaning).together(places, func(_ int, m mode) mode { return b.climb(m, truly) })
	return b.posterior(places, other, nil, e, seed)
}

// SolveFrom is [Problem.Solve] for a problem that has gained little since before was found: the search
// begins at the places that were found then, and there alone. Where it does not come to rest the whole search is
// done. While the readings leave those places it finds what Solve finds, to within the rest of the search.
func (p *Problem) SolveFrom(before *Posterior, e Effort, seed uint64) (Posterior, error) {
	b := newBench(p)
	b.stop.Done = e.Done
	places := b.again(before)
	e.Part(0, drawing).together(places, func(_ int, m mode) mode { return b.resume(m) })
	for _, m := range places {
		if !m.done {
			e.Watch = e.Part(drawing, 1)
			return p.Solve(e, seed)
		}
	}
	return b.posterior(places, before.Other, before, e, seed)
}

// posterior draws about the places to which a search came, the best first; before, when there is one, is the
// posterior of nearly the same problem.
func (b *bench) posterior(places []mode, other float64, before *Posterior, e Effort, seed uint64) (Posterior, error) {
	if e.Stopped() {
		return Posterior{}, ErrStopped
	}
	post := Posterior{Other: other, shape: b.shape()}
	var abouts []about
	for i := range places {
		m := &places[i]
		if math.IsInf(m.weight, -1) || math.IsNaN(m.weight) {
			continue
		}
		if !m.done {
			m.slopes = b.effects(m)
		}
		root, _ := b.weighed(m)
		a := about{mode: m, kernel: kernelOf(m.slopes.of, root, 1)}
		a.evidence = m.weight - a.kernel.halfLogDet()
		if len(abouts) > 0 && abouts[0].covers(m.z) {
			continue // the same place after all
		}
		abouts = append(abouts, a)
	}
	if len(abouts) == 0 {
		return Posterior{}, ErrNoHistory
	}
	slices.SortStableFunc(abouts, func(a, b about) int { return cmp.Compare(b.evidence, a.evidence) })
	best := abouts[0]
	post.Mode, post.Weight, post.Evidence = best.mode.z, best.mode.weight, best.evidence
	post.Rounds, post.Sure, post.effects = best.mode.rounds, best.mode.done, best.mode.slopes.of
	if len(abouts) > 1 {
		post.Other = min(other, best.evidence-abouts[1].evidence)
	}
	post.Branches = shared(abouts, e.Draws)
	for i := range post.Branches {
		m := abouts[i].mode
		if m.lean.by == nil || apart(m.lean.at, m.z) > same {
			share := (drawing - leaning) / float64(len(post.Branches))
			from := leaning + float64(i)*share
			m.lean = b.leanAbout(e.Part(from, from+share), m, abouts[i].kernel, e.Bends)
		}
		post.Branches[i].lean, post.Branches[i].effects = m.lean, m.slopes.of
	}
	b.draw(&post, abouts[:len(post.Branches)], before, e, seed)
	if e.Stopped() {
		return Posterior{}, ErrStopped
	}
	return post, nil
}

// Branch is one of the places about which a posterior lies. Where alkalinity may have run out nitrification
// goes on in one and stands still in the other, and readings may leave both.
type Branch struct {
	Mode  []float64
	Odds  float64 // by evidence; of all branches they sum to 1
	Draws int     // how many of the draws are of it; those of the likeliest branch come first

	lean    lean
	effects [][]float64
}

// about is a place with the normal about it.
type about struct {
	mode     *mode
	kernel   *kernel
	evidence float64
}

const (
	rival = 6  // nats by which a place may be worse that is looked at
	far   = 12 // nats under which a normal has come at a place that is another
)

// covers reports whether a place lies within the normal about another.
func (a *about) covers(z []float64) bool {
	d := make([]float64, len(z))
	for j := range d {
		d[j] = z[j] - a.mode.z[j]
	}
	return a.kernel.normal(d) > -far
}

// shared gives each place its share of some draws; a place with less than one is left out.
func shared(abouts []about, draws int) []Branch {
	sum := 0.0
	for i := range abouts {
		sum += math.Exp(abouts[i].evidence - abouts[0].evidence)
	}
	var out []Branch
	left := draws
	for i := range abouts {
		odds := math.Exp(abouts[i].evidence-abouts[0].evidence) / sum
		n := min(int(math.Round(odds*float64(draws))), left)
		if i > 0 && n == 0 {
			continue
		}
		out = append(out, Branch{Mode: abouts[i].mode.z, Odds: odds, Draws: n})
		left -= n
	}
	out[0].Draws += left
	return out
}

// soft is by how much readings are blurred while a climb begins.
const soft = 3

// strict is the bench on which a climb begins: every reading says something, because one that may be odd
// does not pull from afar, but says it softly, because a sharp one bends the path to the mode, and a misreading
// far from it; and steps are coarse.
func (b *bench) strict() *bench {
	strict := b.coarse()
	strict.Readings = slices.Clone(strict.Readings)
	for i := range strict.Readings {
		strict.Readings[i].Odd = 0
		strict.Readings[i].SD *= soft
	}
	return strict
}

// same is how near two places are that count as one: standard deviations of the prior.
const same = 1

// apart is the distance of two places in standard deviations of the prior.
func apart(a, b []float64) float64 {
	sum := 0.0
	for i := range min(len(a), len(b)) {
		sum += (a[i] - b[i]) * (a[i] - b[i])
	}
	return math.Sqrt(sum)
}

// scout is the best of some draws of the prior.
func (b *bench) scout(w Watch, n int, seed uint64) ([]float64, bool) {
	zs, weights := make([][]float64, n), make([]float64, n)
	w.each(n, func(i int, r *run) {
		rnd := rand.New(rand.NewPCG(seed, 1<<32+uint64(i)))
		z := make([]float64, b.n)
		for j := range int(dynamics.Unknowns) + len(b.Starts) {
			z[j] = rnd.NormFloat64()
		}
		b.live(z, r)
		zs[i], weights[i] = z, b.weight(z, r)
	})
	if w.Stopped() {
		return nil, false
	}
	best := -1
	for i, x := range weights {
		if best < 0 || x > weights[best] {
			best = i
		}
	}
	if best < 0 || math.IsInf(weights[best], -1) || math.IsNaN(weights[best]) {
		return nil, false
	}
	return zs[best], true
}

// Told is, by group of readings of one quantity, how much of what is known of it at the last of them is known
// by the group, 0 to 1: the share of its precision that is lost without them.
func (p *Problem) Told(post *Posterior, groups [][]int) []float64 {
	b := newBench(p)
	m := mode{z: post.Mode}
	b.live(m.z, &m.run)
	root, _ := b.weighed(&m)
	all := kernelOf(post.effects, root, 1)
	out := make([]float64, len(groups))
	each(len(groups), func(g int, _ *run) {
		its := groups[g]
		about := slices.Clone(post.effects[its[len(its)-1]])
		clear(about[b.lots:b.wanders])
		for j, at := range b.drifts {
			if p.Lots[j].Walk > 0 {
				clear(about[at : at+b.fortnights])
			}
		}
		others := slices.Clone(root)
		for _, k := range its {
			others[k] = 0
		}
		with, without := dot(about, all.shrink(about, nil)), dot(about, kernelOf(post.effects, others, 1).shrink(about, nil))
		out[g] = max(1-with/without, 0)
	})
	return out
}
