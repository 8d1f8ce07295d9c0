package fit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
)

// Patience is how much is spent on [Problem.Sample].
type Patience struct {
	Chains int // even, 6 or more: two halves that guide each other
	Warm   int // rounds before anything is kept, 40 or more
	Rounds int // rounds after that
	Every  int // of which each so many-th is kept
	// Goal, when its RHat is not 0, is to be met by Sampled.Worst: until it is, what was kept counts as warm-up, the
	// guide is learnt from it, and as many rounds again are done as were done since the first warm-up; at most so
	// many times.
	Goal    Mixing
	Longest int
	// Progress is called between rounds with how many are done, of how many; it may be nil.
	Progress func(done, of int)
}

// Sampled are many chains of draws of the exact posterior.
type Sampled struct {
	Chains [][]History // by chain, in the order of the draws
	Told   [][]float64 // the log chance of the readings of each draw, times Problem.Power
	Scores []Mixing    // by unknown
	Worst  Mixing      // the largest R-hat and the fewest effective draws of the scores and of Told
	Runs   int         // runs of the forward model
}

// TooHasty is a patience with which no chain can be judged.
type TooHasty struct{ Patience }

func (e TooHasty) Error() string {
	return fmt.Sprintf("%d chains, %d rounds before and %d after, each %d-th kept: give 6 chains or more (an even number), 40 rounds before and enough after that 4 draws of each chain are kept",
		e.Chains, e.Warm, e.Rounds, e.Every)
}

// Sample draws from the exact posterior, that is prior times the chance of the readings to the Power of
// the problem, slowly: some ten thousand runs. It is what [Problem.Solve] is tried against, and shares nothing
// with it but the forward model and the weight: every chain begins at a draw of the prior of its own, and what
// guides the moves is found along the way.
//
// A round moves each chain in several ways, each of which leaves the posterior as it is: elliptical slices
// of the prior in a few directions, elliptical slices about where the chains have been met, steps by differences
// between chains of the other half, and many slices of what needs no run. Guides are learnt in the
// rounds before anything is kept, and stay fixed afterwards.
//
// It is a pure function of the problem, the patience and the seed. Errors: [TooHasty], [ErrNoHistory], the
// context's.
func (p *Problem) Sample(ctx context.Context, e Patience, seed uint64) (Sampled, error) {
	if e.Chains < 6 || e.Chains%2 != 0 || e.Warm < 40 || e.Every < 1 || e.Rounds/e.Every < 4 {
		return Sampled{}, TooHasty{e}
	}
	s := search{bench: newBench(p), Patience: e, seed: seed, until: e.Warm + e.Rounds}
	if err := s.scatter(ctx); err != nil {
		return Sampled{}, err
	}
	if err := s.warmUp(ctx); err != nil {
		return Sampled{}, err
	}
	for again := 0; ; again++ {
		out, err := s.collect(ctx, e.Rounds<<max(again-1, 0))
		if err != nil || out.Worst.meets(e.Goal) || again == e.Longest {
			return out, err
		}
		var met [][]float64
		for _, c := range out.Chains {
			for k := range c {
				met = append(met, c[k].Z)
			}
		}
		s.guide = guideBy(&s.all, met)
	}
}

func (m Mixing) meets(goal Mixing) bool {
	return goal.RHat == 0 || m.RHat <= goal.RHat && m.Bulk >= goal.Bulk && m.Tail >= goal.Tail
}

// collect keeps draws of so many rounds.
func (s *search) collect(ctx context.Context, rounds int) (Sampled, error) {
	out := Sampled{Chains: make([][]History, s.Chains), Told: make([][]float64, s.Chains)}
	s.until = s.done + rounds
	for k := range rounds {
		if err := s.round(ctx, s.guided); err != nil {
			return Sampled{}, err
		}
		if (k+1)%s.Every != 0 {
			continue
		}
		for i := range s.chains {
			c := &s.chains[i]
			var h History
			h.take(s.bench, c.z, &c.run)
			out.Chains[i] = append(out.Chains[i], h)
			out.Told[i] = append(out.Told[i], c.told)
		}
	}
	out.judge(s.n)
	for i := range s.chains {
		out.Runs += s.chains[i].runs
	}
	return out, nil
}

// Mixing judges any quantity of the histories.
func (s *Sampled) Mixing(of func(h *History) float64) Mixing {
	values := make([][]float64, len(s.Chains))
	for i, c := range s.Chains {
		for k := range c {
			values[i] = append(values[i], of(&c[k]))
		}
	}
	return Mixed(values)
}

// Settled is when chains count as having found the posterior.
var Settled = Mixing{RHat: 1.05, Bulk: 100, Tail: 50}

// Posterior is the draws of all chains as one, their likeliest in the place of the mode. It is sure when the worst
// score is [Settled].
func (s *Sampled) Posterior() Posterior {
	post := Posterior{Weight: math.Inf(-1), Other: math.Inf(1), Sure: s.Worst.meets(Settled), Moved: 1}
	for _, c := range s.Chains {
		post.Draws = append(post.Draws, c...)
		for k := range c {
			if c[k].weight > post.Weight {
				post.Mode, post.Weight = c[k].Z, c[k].weight
			}
		}
	}
	post.spread()
	return post
}

func (s *Sampled) judge(n int) {
	s.Worst = Mixed(s.Told)
	s.Scores = make([]Mixing, n)
	for j := range n {
		m := s.Mixing(func(h *History) float64 { return h.Z[j] })
		s.Scores[j] = m
		s.Worst = Mixing{math.Max(s.Worst.RHat, m.RHat), math.Min(s.Worst.Bulk, m.Bulk), math.Min(s.Worst.Tail, m.Tail)}
	}
}

// search is a sampling under way.
type search struct {
	*bench
	Patience
	seed   uint64
	chains []link
	all    informed // directions of all unknowns
	plain  informed // of those that need no run
	guide  *guide
	done   int // rounds
	until  int
}

// scatter begins each chain at a draw of the prior under which the readings have a chance.
func (s *search) scatter(ctx context.Context) error {
	s.chains = make([]link, s.Chains)
	each(s.Chains, func(i int, _ *run) {
		c := &s.chains[i]
		c.rnd = rand.New(rand.NewPCG(s.seed, 2<<32+uint64(i)))
		for range 50 {
			if ctx.Err() != nil {
				return
			}
			c.z = c.normals(s.n)
			s.live(c.z, &c.run)
			c.runs++
			if c.told = s.toldBy(c.z, &c.run); !math.IsInf(c.told, 0) {
				break
			}
		}
		c.try = make([]float64, s.n)
	})
	if err := ctx.Err(); err != nil {
		return err
	}
	for i := range s.chains {
		if math.IsInf(s.chains[i].told, 0) {
			return ErrNoHistory
		}
	}
	return nil
}

// look finds the informed directions at where half the chains are.
func (s *search) look() {
	var places [][]float64
	for i := 0; i < len(s.chains); i += 2 {
		places = append(places, s.chains[i].z)
	}
	h := s.information(places)
	s.all, s.plain = informedOf(h, 0), informedOf(h, s.runs)
}

// warmUp lets the chains find the posterior from where they began by slices alone, then learns the guide
// from them twice.
func (s *search) warmUp(ctx context.Context) error {
	s.look()
	stages := []struct {
		rounds int
		move   func(i int, other []link)
	}{{s.Warm / 5, s.seeking}, {s.Warm / 5, s.seeking}, {s.Warm / 5, s.guided}, {s.Warm - 3*(s.Warm/5), s.guided}}
	for k, stage := range stages {
		var met [][]float64
		for n := range stage.rounds {
			if err := s.round(ctx, stage.move); err != nil {
				return err
			}
			if k > 0 && n >= stage.rounds/3 {
				for i := range s.chains {
					met = append(met, append([]float64(nil), s.chains[i].z...))
				}
			}
		}
		if k < 2 {
			s.look()
		}
		if k > 0 {
			s.guide = guideBy(&s.all, met)
		}
	}
	return nil
}

// round moves one half of the chains by the other, then the other by the one.
func (s *search) round(ctx context.Context, move func(i int, other []link)) error {
	half := len(s.chains) / 2
	for side := range 2 {
		if err := ctx.Err(); err != nil {
			return err
		}
		mine, other := side*half, s.chains[(1-side)*half:(2-side)*half]
		each(half, func(i int, _ *run) { move(mine+i, other) })
	}
	s.done++
	if s.Progress != nil {
		s.Progress(s.done, s.until)
	}
	return nil
}

// seeking moves a chain without a guide: every informed direction once, a few at a time.
func (s *search) seeking(i int, other []link) {
	c := &s.chains[i]
	for _, which := range c.groups(len(s.all.rows), 1+c.rnd.IntN(4)) {
		c.turnSome(s.bench, &s.all, which)
	}
	c.turnAcross(s.bench, &s.all)
	c.turnPlain(s.bench, &s.plain)
	c.step(s.bench, &s.all, other)
}

// guided moves a chain mostly by the guide, which gets furthest for a run and moves all unknowns at once.
func (s *search) guided(i int, other []link) {
	c := &s.chains[i]
	for range 3 {
		if s.guide != nil {
			c.turnGuided(s.bench, &s.all, s.guide)
		}
	}
	c.turnPlain(s.bench, &s.plain)
	if g := c.groups(len(s.all.rows), 1+c.rnd.IntN(4)); len(g) > 0 && c.rnd.IntN(2) == 0 {
		c.turnSome(s.bench, &s.all, g[0])
	}
	if s.guide == nil || c.rnd.IntN(4) == 0 {
		c.turnAcross(s.bench, &s.all)
	}
	c.step(s.bench, &s.all, other)
}
