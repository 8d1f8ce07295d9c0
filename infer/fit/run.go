package fit

import (
	"math"
	"slices"

	"halfwater/dynamics"
)

// bench is what every run of a problem shares: when states are wanted, and where readings find theirs.
type bench struct {
	*Problem
	layout
	outAt []float64 // days on which a state is wanted: readings and weeks, ascending
	at    []int     // by reading: index into outAt
	stop  Watch     // on what may end the work in the midst of a climb; it tells of no progress
}

func newBench(p *Problem) *bench {
	b := &bench{Problem: p, layout: p.layout()}
	for w := 0.0; w < p.Course.Days; w += dynamics.Week {
		b.outAt = append(b.outAt, w)
	}
	for i := range p.Readings {
		b.outAt = append(b.outAt, p.Readings[i].Day)
	}
	for _, day := range b.from {
		b.outAt = append(b.outAt, math.Min(day, p.Course.Days))
	}
	slices.Sort(b.outAt)
	b.outAt = slices.Compact(b.outAt)
	for i := range p.Readings {
		k, _ := slices.BinarySearch(b.outAt, p.Readings[i].Day)
		b.at = append(b.at, k)
	}
	return b
}

// run is the history under a setting: what each reading would see of it, and the states on the way.
type run struct {
	scene
	states []dynamics.State
	end    dynamics.State
	seen   []float64 // by reading: the number, before wander, lot and scale
}

// live runs a setting whole.
func (b *bench) live(z []float64, r *run) {
	b.set(&b.layout, z, &r.scene)
	r.states = slices.Grow(r.states[:0], len(b.outAt))[:len(b.outAt)]
	r.end = r.course.Run(&r.params, &r.dev, r.start, b.Course.Days, b.outAt, r.states, b.Pace)
	r.seen = slices.Grow(r.seen[:0], len(b.Readings))[:len(b.Readings)]
	for i := range b.Readings {
		r.seen[i] = b.Readings[i].look(&r.params, &r.states[b.at[i]])
	}
}

// liveFrom runs a setting from a day on, on the states that base had by then.
func (b *bench) liveFrom(z []float64, day float64, base, r *run) {
	k, _ := slices.BinarySearch(b.outAt, math.Min(day, b.Course.Days))
	if k == 0 || k >= len(b.outAt) {
		b.live(z, r)
		return
	}
	b.set(&b.layout, z, &r.scene)
	r.states = slices.Grow(r.states[:0], len(b.outAt))[:len(b.outAt)]
	copy(r.states[:k], base.states[:k])
	r.end = r.course.Run(&r.params, &r.dev, base.states[k], b.Course.Days, b.outAt[k:], r.states[k:], b.Pace)
	r.seen = slices.Grow(r.seen[:0], len(b.Readings))[:len(b.Readings)]
	for i := range b.Readings {
		if b.at[i] < k {
			r.seen[i] = base.seen[i]
			continue
		}
		r.seen[i] = b.Readings[i].look(&r.params, &r.states[b.at[i]])
	}
}

// asKit is what the kit of a reading sees under a vector of scores, given the number in the history.
func (b *bench) asKit(i int, z []float64, number float64) float64 {
	return b.unbiased(i, z, number) + b.shared(&b.Readings[i], z)
}

// unbiased is what a kit without bias would see.
func (b *bench) unbiased(i int, z []float64, number float64) float64 {
	r := &b.Readings[i]
	if r.Wander >= 0 {
		number = b.Wanders[r.Wander].Apply(number, b.wander(z, r.Wander, r.Day))
	}
	return r.Scale(number)
}

// asKits is what every kit sees under a vector of scores that has been run.
func (b *bench) asKits(z []float64, r *run) []float64 {
	out := make([]float64, len(b.Readings))
	for i := range out {
		out[i] = b.asKit(i, z, r.seen[i])
	}
	return out
}

// bias is that of a lot on a day.
func (b *bench) bias(z []float64, lot int, day float64) float64 {
	l := &b.Lots[lot]
	x, _ := l.at(z[b.lots+lot])
	if l.Walk > 0 {
		for k := l.firstStep(); k <= int(day/fortnight) && k < b.fortnights; k++ {
			x += l.Walk * z[b.drifts[lot]+k]
		}
	}
	return x
}

// at is the bias at a score, before it drifts, and its slope.
func (l *Lot) at(z float64) (bias, slope float64) {
	if l.Tail == 0 {
		return l.SD * z, l.SD
	}
	return l.SD * math.Sinh(l.Tail*z) / l.Tail, l.SD * math.Cosh(l.Tail*z)
}

// firstStep is the first fortnight in which a bias moves.
func (l *Lot) firstStep() int { return max(int(math.Ceil(l.From/fortnight)), 0) }

// wander is the departure of a quantity on a day.
func (b *bench) wander(z []float64, k int, day float64) float64 {
	w := &b.Wanders[k]
	last := min(int(day/fortnight), b.fortnights-1)
	first := b.layout.wanders + k*b.fortnights
	x := z[first]
	for i := 1; i <= last; i++ {
		x = w.Phi*x + math.Sqrt(1-w.Phi*w.Phi)*z[first+i]
	}
	return w.SD * x
}

// weight is the logarithm of the posterior, up to a constant.
func (b *bench) weight(z []float64, r *run) float64 {
	sum := 0.0
	for i := range b.Readings {
		g := b.asKit(i, z, r.seen[i])
		if math.IsNaN(g) {
			return math.Inf(-1)
		}
		logP, _, _ := b.Readings[i].Weigh(g)
		sum += logP
	}
	sum *= b.Power
	for _, x := range z {
		sum -= x * x / 2
	}
	return sum
}
