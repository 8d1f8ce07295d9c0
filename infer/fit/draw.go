package fit

import (
	"math"
	"math/rand/v2"

	"halfwater/dynamics"
)

// When a draw about the mode is taken anew.
const (
	lost    = 8   // nats by which the readings may fit it worse than slope and effects at the mode foretell
	tries   = 800 // days of draws taken anew: a long book has two tries, a short one up to eight
	mostTry = 8
)

// stance is how one draw came to stand where it does.
type stance struct {
	branch int
	try    int       // the one that was kept
	off    []float64 // by how much the solution lies off the straight one, by score
	left   float64   // nats that it still lacked
}

// drawer draws about one place.
type drawer struct {
	*bench
	about
	post   *Posterior
	base   []float64 // what kits see at the mode
	fits   float64   // log chance of the readings there
	dice   dice
	again  int
	branch int
	before []stance // of a posterior of nearly the same problem, in the order of the present scores; or nil
}

// draw takes draws from the posterior about some places, by their shares: each is the solution of a problem of its own,
// whose prior and readings were shaken ([shaken]). Where the draws of a problem before are known, each begins off the straight
// solution by as much as it was there. A draw that still fits far worse than foretold, because something stops or runs out in
// it that the readings say did not, is taken anew. Then, if moves are asked for, each is moved a few times towards the exact
// posterior.
func (b *bench) draw(post *Posterior, abouts []about, before *Posterior, e Effort, seed uint64) {
	post.Draws, post.stances = make([]History, e.Draws), make([]stance, e.Draws)
	dice := cast(e.Draws, b.n, post.shape.parts, len(b.Readings), seed)
	var old []stance
	if before != nil && len(before.stances) == e.Draws {
		for _, x := range before.stances {
			off := make([]float64, b.n)
			before.shape.parts.onto(post.shape.parts, x.off, off)
			old = append(old, stance{x.branch, x.try, off, x.left})
		}
	}
	var drawers []*drawer // by draw
	for k, a := range abouts {
		var atMode run
		b.live(a.mode.z, &atMode)
		d := &drawer{
			bench: b, about: a, post: post, base: b.asKits(a.mode.z, &atMode), branch: k, dice: dice, before: old,
			fits:  a.mode.weight + dot(a.mode.z, a.mode.z)/2,
			again: min(max(int(tries/b.Course.Days), 2), mostTry),
		}
		for range post.Branches[k].Draws {
			drawers = append(drawers, d)
		}
	}
	taken := make([]int, e.Draws)
	e.Part(drawing, 1).each(e.Draws, func(i int, r *run) {
		from := drawers[i].one(i, r)
		taken[i] = drawers[i].move(i, from, e.Moves, r, rand.New(rand.NewPCG(seed, uint64(i))))
	})
	if e.Stopped() {
		return
	}
	post.spread()
	if e.Moves > 0 {
		all := 0
		for _, t := range taken {
			all += t
		}
		post.Moved = float64(all) / float64(e.Moves*e.Draws)
	}
}

// place runs a departure from the mode and gives its scores.
func (d *drawer) place(z, from []float64, r *run) {
	for j := range z {
		z[j] = d.mode.z[j] + from[j]
	}
	d.live(z, r)
}

// one makes a draw and gives its departure from the mode.
func (d *drawer) one(i int, r *run) []float64 {
	h := &d.post.Draws[i]
	z, scores, noise := make([]float64, d.n), make([]float64, d.n), make([]float64, len(d.Readings))
	first, known := 0, d.before != nil && d.before[i].branch == d.branch
	if known {
		first = min(d.before[i].try, d.again-1)
	}
	for try := first; ; try++ {
		d.dice.throw(i, try, scores, noise)
		for j, x := range d.mode.lean.by {
			scores[j] += x
		}
		s := d.shake(scores, noise)
		from, enough := append([]float64(nil), s.straight...), float64(still)
		if known && try == first { // what it lacked before may be lacked again
			for j, x := range d.before[i].off {
				from[j] += x
			}
			enough += d.before[i].left
		}
		from, left := s.solve(h, from, z, r, enough)
		if h.fits() > s.should()-lost || try >= d.again-1 {
			d.post.stances[i] = stance{d.branch, try, less(from, s.straight), left}
			return from
		}
	}
}

// How far a move goes, in turn.
var bold = [...]float64{0.5, 0.25, 0.9}

// move moves a draw towards the exact posterior: z' = m + sqrt(1-b^2)(z-m) + b xi, which leaves the normal as it
// is, taken with the ratio of the exact weight to it (generalised preconditioned Crank-Nicolson). It tells how
// many moves were taken.
func (d *drawer) move(i int, from []float64, moves int, r *run, rnd *rand.Rand) (taken int) {
	if moves == 0 {
		return 0
	}
	h := &d.post.Draws[i]
	z, scores, noise, next := make([]float64, d.n), make([]float64, d.n), make([]float64, len(d.Readings)), make([]float64, d.n)
	ln := d.kernel.normal(from)
	for m := range moves {
		for j := range scores {
			scores[j] = rnd.NormFloat64()
		}
		for j := range noise {
			noise[j] = rnd.NormFloat64()
		}
		xi := d.kernel.shrink(scores, noise)
		beta := bold[m%len(bold)]
		keep := math.Sqrt(1 - beta*beta)
		for j := range next {
			next[j] = keep*from[j] + beta*xi[j]
		}
		nextLn := d.kernel.normal(next)
		d.place(z, next, r)
		w := d.weight(z, r)
		if math.Log(rnd.Float64()) < (w-nextLn)-(h.weight-ln) {
			copy(from, next)
			ln = nextLn
			h.take(d.bench, z, r)
			taken++
		}
	}
	return taken
}

// fits is the log chance of the readings under a history.
func (h *History) fits() float64 { return h.weight + dot(h.Z, h.Z)/2 }

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
	h.Truth = h.Truth[:0]
	for i := range b.Readings {
		h.Truth = append(h.Truth, b.unbiased(i, z, r.seen[i]))
	}
	h.weight = b.weight(z, r)
}
